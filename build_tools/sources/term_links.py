"""Links to terms in prose: [[term-id]], or [[term-id|other words]]."""

from __future__ import annotations

import re

TERM_LINK = re.compile(r"\[\[([^\[\]|]*)(?:\|([^\[\]]*))?\]\]")
_HALF_LINK = re.compile(r"\[\[.{0,20}|.{0,20}\]\]")


def words_of(link: re.Match[str]) -> str:
    """Give the words that a reader sees in place of a link."""
    return link[2] or link[1].replace("-", " ")


def plain_words(text: str) -> str:
    """Give prose with its links as the words a reader sees."""
    return TERM_LINK.sub(words_of, text)


def half_link(text: str) -> str:
    """Give the brackets that open or close no whole link, with what stands beside them; empty where there are none."""
    found = _HALF_LINK.search(TERM_LINK.sub("", text))
    return found[0].strip() if found else ""
