"""What each page says, as plain data in a reader's words; nothing here knows HTML, a terminal or a file.

In: a `CheckedGuide`. Out: views of pages, and walks as data.
"""
