"""The author's live preview: a change of the sources shows in the open page, a mistake in its place as a message.

In: the project folder, watched. Out: pages over a local connection, made when they are looked at.
"""
