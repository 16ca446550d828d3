"""A review as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.review.words.entries import VERSIONS, Entry, Outline
from build_tools.review.words.sentences import spot_words


def as_text(outline: Outline) -> str:
    """Write a review for reading in a terminal."""
    return "\n".join(_lines(outline))


def _lines(outline: Outline) -> Iterator[str]:
    yield outline.title
    yield from (line for line in (outline.warning, *outline.agreed, outline.lead) if line)
    for section in outline.sections:
        yield from ("", section.title)
        yield from (line for each in section.entries for line in _entry(each, "  "))
    yield from (line for each in (outline.compared,) if each for line in ("", each))
    if outline.proposals:
        yield from ("", VERSIONS, *(f"  {each}" for each in outline.proposals))


def _entry(entry: Entry, indent: str) -> Iterator[str]:
    yield f"{indent}{entry.words}"
    for note in entry.notes:
        yield f"{indent}  {note.word}: {' '.join(part.words for part in note.parts)}"
    yield from (f"{indent}  {each.words} {spot_words(each.spot)}" for each in entry.places)
    for inner in entry.inner:
        yield from _entry(inner, f"{indent}  ")
