"""Ready HTML to its headings, for the theme's table of contents, which prints them as the HTML they are."""

from __future__ import annotations

import re
from typing import Any

_HEADING = re.compile(r'<h(?P<level>[23])\b[^>]*?\bid="(?P<id>[^"]+)"[^>]*>(?P<inside>.*?)</h(?P=level)>', re.S)
"""The templates write the ids in double quotes; a parser would read whole diagrams for a few headings."""
_TAG = re.compile(r"<[^>]*>")


def headings(html: str) -> list[Any]:
    """Give the headings with ids as MkDocs' toc tokens, h3 below the h2 before it."""
    tops: list[dict[str, Any]] = []
    for found in _HEADING.finditer(html):
        name = " ".join(_TAG.sub("", found["inside"]).split())
        token: dict[str, Any] = {"level": int(found["level"]), "id": found["id"], "name": name, "children": []}
        (tops[-1]["children"] if tops and token["level"] == 3 else tops).append(token)
    return tops
