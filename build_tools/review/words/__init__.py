"""A review in words: sections of entries, and the same entries as text, Markdown, HTML and JSON."""
