"""Versions of the guide: a revision or folder as files, what is which in two of them, and where it stands."""
