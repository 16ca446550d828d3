"""What changed for a reader between two versions of the guide; never a comparison of lines.

In: two revisions or folders. Out: a review, as text, Markdown, HTML or JSON, and whether somebody must look.
`compare` goes through the rooms in this order: versions, differences, formula_code; `words` writes what they found.
"""

FORMATS = ("text", "markdown", "html", "json")
"""How a review can be written."""
PATTERN = "https://code.example/guide/blob/{revision}/{path}#L{line}"
"""An example of what makes a link of a place."""
