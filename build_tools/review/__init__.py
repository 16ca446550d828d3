"""Two versions of the guide, and what changed for a reader between them; never a comparison of lines."""

FORMATS = ("text", "markdown", "html", "json")
"""How a review can be written."""
PATTERN = "https://code.example/guide/blob/{revision}/{path}#L{line}"
"""An example of what makes a link of a place."""
CASES = "tests/cases"
"""Where the stated cases stand in a project."""
