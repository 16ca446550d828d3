"""A review as Markdown that reads well as a comment on a pull request: long sections folded, and cut to its room."""

from __future__ import annotations

import re
from collections.abc import Iterator

from build_tools.review.entries import Entry, Note, Outline, Section
from build_tools.review.links import Links
from build_tools.review.sentences import Placed

MARKS = re.compile(r"([\\`*_{}\[\]<>#|~&@])")
"""What Markdown, or a code host, would read as more than a letter."""
MOST_UNFOLDED = 8
"""Entries of a section that is shown open."""
MOST_PROPOSALS = 20
MOST_LETTERS = 60_000
"""A comment holds no more (65,536 letters on a common code host, from memory), the host's own words counted."""


def as_markdown(outline: Outline, links: Links) -> str:
    """Write a review as Markdown; places lead where `links` says."""
    entries = {each.name: ["\n".join(_entry(entry, links, "")) for entry in each.entries] for each in outline.sections}
    written = ["\n".join(_head(outline))]
    room = MOST_LETTERS - len(written[0])
    room -= sum(len(text) for each in outline.sections if each.is_whole for text in entries[each.name])
    for section in outline.sections:
        fitting = entries[section.name]
        if not section.is_whole:
            fitting = list(_fitting(fitting, room))
            room -= sum(map(len, fitting))
        written += _section(section, fitting)
    return "\n".join(written)


def _fitting(entries: list[str], room: int) -> Iterator[str]:
    """Give the first entries, as many as there is room for."""
    for entry in entries:
        room -= len(entry)
        if room < 0:
            return
        yield entry


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
    if outline.proposals:
        more = len(outline.proposals) - MOST_PROPOSALS
        yield from ("", *(f"- {_plain(each)}" for each in outline.proposals[:MOST_PROPOSALS]))
        yield from (f"- and {more:,} more trees" for _ in range(more > 0))


def _section(section: Section, entries: list[str]) -> Iterator[str]:
    missing = len(section.entries) - len(entries)
    if missing:
        tell = f"`python -m build_tools review` tells {'them' if missing > 1 else 'it'}."
        entries = [*entries, f"- and {missing:,} more, for which a comment has no room: {tell}"]
    if section.is_folded or (len(section.entries) > MOST_UNFOLDED and not section.is_open):
        summary = f"<summary><b>{section.title}</b> ({section.findings:,})</summary>"
        yield from ("", f"<details>{summary}", "", *entries, "", "</details>")
    else:
        yield from ("", f"### {section.title}", "", *(entries or ["None."]))


def _entry(entry: Entry, links: Links, indent: str) -> Iterator[str]:
    words = _plain(entry.words) if indent else f"**{_plain(entry.words)}**"
    places = "; ".join(_place(each, links) for each in entry.places)
    yield f"{indent}- {words} ({places})" if places else f"{indent}- {words}"
    yield from (f"{indent}  - {_note(note)}" for note in entry.notes)
    for inner in entry.inner:
        yield from _entry(inner, links, f"{indent}  ")


def _note(note: Note) -> str:
    said = (f"**{_plain(part.words)}**" if part.differs else _plain(part.words) for part in note.parts)
    return f"{note.word}: {' '.join(said)}"


def _place(placed: Placed, links: Links) -> str:
    address, words = links(placed), _plain(placed.label)
    return f"{placed.words} [{words}]({address})" if address else f"{placed.words} {words}"
