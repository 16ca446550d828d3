"""Ready HTML to its headings, for the theme's table of contents and the search."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

LEVELS = {"h2": 2, "h3": 3}


class _Headings(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[dict[str, Any]] = []
        self._open: dict[str, Any] | None = None

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        name = dict(attributes).get("id")
        if tag in LEVELS and name:
            self._open = {"level": LEVELS[tag], "id": name, "name": "", "children": []}

    def handle_endtag(self, tag: str) -> None:
        if tag in LEVELS and self._open:
            self._open["name"] = " ".join(self._open["name"].split())
            self.found.append(self._open)
            self._open = None

    def handle_data(self, data: str) -> None:
        if self._open:
            self._open["name"] += data


def headings(html: str) -> list[Any]:
    """Give the headings with ids as MkDocs' toc tokens, h3 below the h2 before it."""
    parser = _Headings()
    parser.feed(html)
    tops: list[dict[str, Any]] = []
    for each in parser.found:
        (tops[-1]["children"] if tops and each["level"] > tops[0]["level"] else tops).append(each)
    return tops
