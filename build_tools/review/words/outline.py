"""A review as sections of entries, in words and in the order of reading; how they look is the writers' affair."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from build_tools.review.record.changes import SECTIONS, Moved, Review, Row
from build_tools.review.words.entries import Entry, Note, Outline, Section, grave_note, plain_note
from build_tools.review.words.naming import NO_NAMES, Names
from build_tools.review.words.sentences import (
    agreed_words,
    change_of,
    compared_words,
    idle_words,
    length_words,
    moved_words,
    nothing_words,
    places_of,
    proposal_words,
    row_words,
    some_of,
    step_words,
    subject_of,
    title_of,
    tried_words,
    values_of,
    warning_words,
)
from build_tools.review.words.story_entries import story_entries
from build_tools.review.words.unread_entries import unread_entries
from build_tools.review.words.way_entries import is_edge, way_entries
from build_tools.review.words.whole_entries import whole_entries

OPEN = ("stories", "safety", "paths", "whole")
"""Sections that are never folded; nor are the values where results move, nor what holds anything grave."""


def outline(review: Review, names: Names = NO_NAMES) -> Outline:
    """Put a review into words; `names` gives the titles that stand for ids."""
    entries: Mapping[str, Iterable[Entry]] = {
        "stories": (*story_entries(review.stories), *map(Entry, review.unwalked)),
        "paths": way_entries(review, names),
        "whole": whole_entries(review.whole),
        "remedies": _rows(review.remedies, names, _shown_whole(review)),
        "steps": _rows((each for each in review.steps if not is_edge(each)), names, _shown_whole(review)),
        "values": _values(review, names),
        "lengths": (Entry(length_words(each, names)) for each in review.lengths),
        "unread": unread_entries(review.unread),
    }
    sections = (_section(review, name, entries.get(name), names) for name in SECTIONS)
    agreed = *(agreed_words(each, names) for each in review.agreements), *map(idle_words, review.agreed_idly)
    return Outline(
        title=title_of(review),
        warning=warning_words(review),
        agreed=agreed,
        lead=nothing_words(review) if review.empty else step_words(review),
        sections=tuple(each for each in sections if each.entries),
        compared="" if review.empty else compared_words(review),
        proposals=tuple(proposal_words(each, names) for each in review.proposals),
    )


def _section(review: Review, name: str, entries: Iterable[Entry] | None, names: Names) -> Section:
    found = getattr(review, name)
    has_grave = any(getattr(each, "grave", "") for each in found)
    is_open = name in OPEN or has_grave or (name == "values" and bool(review.moved))
    written = tuple(_rows(found, names) if entries is None else entries)
    return Section(name, SECTIONS[name], written, len(written if name in ("paths", "steps") else found), is_open)


def _shown_whole(review: Review) -> frozenset[str]:
    """Give the subjects of rows that say no more than that something is new, which is shown in full elsewhere."""
    return frozenset(f"step {e.name}" if e.kind == "step" else f'{e.kind} "{e.name}"' for e in review.whole)


def _rows(rows: Iterable[Row], names: Names, elsewhere: frozenset[str] = frozenset()) -> Iterator[Entry]:
    """Give an entry for each row, or for several of one thing that follow one another; first what is grave."""
    wanted = [each for each in rows if each.change != "added" or each.detail or each.subject not in elsewhere]
    grave = {subject_of(row) for row in wanted if row.grave}
    for subject, found in groupby(sorted(wanted, key=lambda row: subject_of(row) not in grave), key=subject_of):
        same = tuple(found)
        shared = plain_note("in the walks of", some_of(names.trees(same[0].trees)))
        met = (shared,) if _is_shared(same[0]) else ()
        if len(same) == 1:
            yield _row(same[0], names.words(row_words(names.row(same[0]))), met, names)
        else:
            inner = tuple(_row(each, names.words(change_of(names.row(each))), (), names) for each in same)
            yield Entry(names.words(subject), notes=met, inner=inner)


def _is_shared(row: Row) -> bool:
    """Tell whether a row is of what several trees use, and does not name the one that it is about."""
    alone = row.subject.startswith(("step ", "tree ")) or row.detail.startswith("in ")
    return bool(row.trees) and not alone


def _row(row: Row, words: str, more: tuple[Note, ...], names: Names) -> Entry:
    values = tuple(Note(word, parts) for word, parts in values_of(names.row(row)))
    notes = (*grave_note(row.grave), *values, *more)
    return Entry(words, places_of(row.change, row.spot_before, row.spot_after), notes)


def _values(review: Review, names: Names) -> Iterator[Entry]:
    yield from (_moved(each, names) for each in review.moved)
    yield from map(Entry, review.runs)
    yield from _rows(review.values, names)


def _moved(moved: Moved, names: Names) -> Entry:
    notes = [*grave_note(moved.grave), *(plain_note("for example", tried_words(each)) for each in moved.examples)]
    used = some_of(tuple(map(names.place, moved.used_by))) or "no tree and no remedy; it has its page, and `calc`"
    notes.append(plain_note("used by", used))
    return Entry(moved_words(moved), places_of("changed", moved.spot_before, moved.spot_after), tuple(notes))
