"""A review as sections of entries, in words and in the order of reading; how they look is the writers' affair."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from build_tools.review.changes import SECTIONS, Moved, PathChange, Review, Row, TreePaths
from build_tools.review.entries import Entry, Note, Outline, Section, plain_note
from build_tools.review.sentences import (
    agreed_words,
    change_of,
    change_words,
    compared_words,
    example_words,
    idle_words,
    length_words,
    moved_words,
    nothing_words,
    paths_words,
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
from build_tools.review.story_entries import story_entries
from build_tools.review.unread_entries import unread_entries
from build_tools.review.whole_entries import whole_entries

OPEN = ("stories", "safety", "paths", "whole")
"""Sections that are never folded; nor are the values where results move."""
WITH_TREES = ("safety", "values")
"""Sections of things that trees share, so that a row does not say whose walk meets it."""


def outline(review: Review) -> Outline:
    """Put a review into words."""
    entries: Mapping[str, Iterable[Entry]] = {
        "stories": (*story_entries(review.stories), *map(_plain, review.unwalked)),
        "unread": unread_entries(review.unread),
        "whole": whole_entries(review.whole),
        "paths": (*map(_tree_paths, review.paths), *(_plain(f"{each}; not compared") for each in review.uncounted)),
        "values": (*map(_moved, review.moved), *map(_plain, review.runs), *_rows("values", review.values)),
        "lengths": (_plain(length_words(each)) for each in review.lengths),
    }
    sections = (_section(review, name, entries.get(name)) for name in SECTIONS)
    shown = tuple(each for each in sections if each.entries)
    lead = nothing_words(review) if review.empty else step_words(review)
    proposals = tuple(map(proposal_words, review.proposals))
    agreed = (*map(agreed_words, review.agreements), *map(idle_words, review.agreed_idly))
    compared = "" if review.empty else compared_words(review)
    return Outline(title_of(review), warning_words(review), agreed, lead, shown, compared, proposals)


def _section(review: Review, name: str, entries: Iterable[Entry] | None) -> Section:
    found = getattr(review, name)
    is_open = name in OPEN or (name == "values" and bool(review.moved))
    written = tuple(_rows(name, found) if entries is None else entries)
    return Section(name, SECTIONS[name], written, len(found), is_open)


def _has_grave(findings: Iterable[object]) -> bool:
    return any(getattr(each, "grave", "") for each in findings)


def _grave(reason: str) -> tuple[Note, ...]:
    return (plain_note("grave", reason),) if reason else ()


def _plain(words: str) -> Entry:
    return Entry(words)


def _rows(section: str, rows: Iterable[Row]) -> Iterator[Entry]:
    """Give an entry for each row, or for several of one thing that follow one another; first what is grave."""
    held = tuple(rows)
    grave = {subject_of(row) for row in held if row.grave}
    first = sorted(held, key=lambda row: subject_of(row) not in grave)
    for subject, found in groupby(first, key=subject_of):
        same = tuple(found)
        met = (plain_note("met in", some_of(same[0].trees)),) if section in WITH_TREES and _is_shared(same[0]) else ()
        if len(same) == 1:
            yield _row(same[0], row_words(same[0]), met)
        else:
            yield Entry(subject, notes=met, inner=tuple(_row(each, change_of(each), ()) for each in same))


def _is_shared(row: Row) -> bool:
    """Tell whether a row is of what several trees use, and does not name the one that it is about."""
    return bool(row.trees) and not row.subject.startswith("step ") and not row.detail.startswith("in ")


def _row(row: Row, words: str, more: tuple[Note, ...]) -> Entry:
    values = tuple(Note(word, parts) for word, parts in values_of(row))
    return Entry(words, places_of(row.change, row.spot_before, row.spot_after), (*_grave(row.grave), *values, *more))


def _tree_paths(tree: TreePaths) -> Entry:
    return Entry(f"{tree.tree}: {paths_words(tree.changed, tree.total)}", inner=tuple(map(_ending, tree.endings)))


def _ending(change: PathChange) -> Entry:
    places = places_of("changed", change.spot_before, change.spot_after)
    notes = *_grave(change.grave), plain_note("for example", example_words(change.example))
    return Entry(change_words(change), places, notes)


def _moved(moved: Moved) -> Entry:
    notes = [*_grave(moved.grave), *(plain_note("for example", tried_words(each)) for each in moved.examples)]
    used = some_of(moved.used_by) or "no tree and no remedy; it has its page, and `calc`"
    notes.append(plain_note("used by", used))
    return Entry(moved_words(moved), places_of("changed", moved.spot_before, moved.spot_after), tuple(notes))
