"""Plain files to positioned records: read, parsed, and not yet proved.

In: the folder trees/, tables and chapters as bytes. Out: a `Draft` of records, each with the place of every value,
and a problem with its place for all that cannot be read.
"""

CASES = "trees/cases"
"""Where the stated cases stand in a project."""
