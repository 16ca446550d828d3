"""A review as Markdown that reads well as a comment on a pull request: long sections folded, and cut to its room."""

from __future__ import annotations

import re
from collections.abc import Iterator

from build_tools.review.words.entries import VERSIONS, Entry, Note, Outline, Section
from build_tools.review.words.links import Links
from build_tools.review.words.sentences import Part, Placed

MARKS = re.compile(r"([\\`*_{}\[\]<>#|~&@])")
"""What Markdown, or a code host, would read as more than a letter."""
MOST_UNFOLDED = 8
"""Entries of a section that is shown open."""
MOST_PROPOSALS = 20
ALL = "`python -m build_tools review` tells all."
MOST_LETTERS = 60_000
"""A comment holds no more (65,536 letters on a common code host, from memory), the host's own words counted."""


def as_markdown(outline: Outline, links: Links) -> str:
    """Write a review as Markdown; places lead where `links` says."""
    written = ["\n".join(_head(outline))]
    whole = {each.name: list(_texts(each, links)) for each in outline.sections if each.is_whole}
    kept = (*written, *_foot(outline), *(text for texts in whole.values() for text in texts))
    room = MOST_LETTERS - sum(map(len, kept))
    for section in outline.sections:
        fitting = whole.get(section.name)
        if fitting is None:
            fitting = list(_fitting(section, links, room))
            room -= sum(map(len, fitting))
        written += _section(section, fitting)
    return "\n".join((*written, *_foot(outline)))


def _texts(section: Section, links: Links) -> Iterator[str]:
    return ("\n".join(_entry(entry, links, "")) for entry in section.entries)


def _fitting(section: Section, links: Links, room: int) -> Iterator[str]:
    """Give the first entries, as many as there is room for; what is folded in them is left out first."""
    for entry, text in zip(section.entries, _texts(section, links), strict=True):
        if len(text) > room and entry.folded:
            told = Note(entry.folded, (Part(f"a comment has no room for this: {ALL}", False),))
            text = "\n".join(_entry(entry._replace(notes=(*entry.notes, told), inner=(), folded=""), links, ""))
        room -= len(text)
        if room < 0:
            return
        yield text


def _plain(text: str) -> str:
    """Write a text so that it is shown as it is."""
    return MARKS.sub(r"\\\1", text)


def _head(outline: Outline) -> Iterator[str]:
    yield f"## {_plain(outline.title)}"
    if outline.warning:
        yield from ("", f"> **{outline.warning}**")
    if outline.agreed:
        yield from ("", *(f"- {_plain(each)}" for each in outline.agreed))
    yield from ("", outline.lead)


def _foot(outline: Outline) -> Iterator[str]:
    if outline.compared:
        yield from ("", outline.compared)
    if outline.proposals:
        more = len(outline.proposals) - MOST_PROPOSALS
        yield from ("", f"<details><summary><b>{VERSIONS}</b> ({len(outline.proposals):,})</summary>")
        yield from ("", *(f"- {_plain(each)}" for each in outline.proposals[:MOST_PROPOSALS]))
        yield from (f"- and {more:,} more trees" for _ in range(more > 0))
        yield from ("", "</details>")


def _section(section: Section, entries: list[str]) -> Iterator[str]:
    missing = len(section.entries) - len(entries)
    if missing:
        entries = [*entries, f"- and {missing:,} more, for which a comment has no room: {ALL}"]
    if section.is_folded or (len(section.entries) > MOST_UNFOLDED and not section.is_open):
        summary = f"<summary><b>{section.title}</b> ({section.findings:,})</summary>"
        yield from ("", f"<details>{summary}", "", *entries, "", "</details>")
    else:
        yield from ("", f"### {section.title}", "", *entries)


def _entry(entry: Entry, links: Links, indent: str) -> Iterator[str]:
    words = _plain(entry.words) if indent else f"**{_plain(entry.words)}**"
    places = "; ".join(_place(each, links) for each in entry.places)
    yield f"{indent}- {words} ({places})" if places else f"{indent}- {words}"
    yield from (f"{indent}  - {_note(note)}" for note in entry.notes)
    if entry.folded:
        yield from (f"{indent}  <details><summary>{entry.folded}</summary>", "")
    for inner in entry.inner:
        yield from _entry(inner, links, f"{indent}  ")
    if entry.folded:
        yield from ("", f"{indent}  </details>")


def _note(note: Note) -> str:
    said = (f"**{_plain(part.words)}**" if part.differs else _plain(part.words) for part in note.parts)
    return f"{note.word}: {' '.join(said)}"


def _place(placed: Placed, links: Links) -> str:
    address, words = links(placed), _plain(placed.label)
    return f"{placed.words} [{words}]({address})" if address else f"{placed.words} {words}"
