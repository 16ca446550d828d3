"""Answers that lead elsewhere, in words: the exits that were changed come first, the endings follow from them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from build_tools.review.record.changes import PathChange, Review, Row, TreePaths
from build_tools.review.words.entries import Entry, grave_note, plain_note
from build_tools.review.words.naming import Names
from build_tools.review.words.sentences import (
    change_words,
    example_words,
    passing_words,
    paths_words,
    places_of,
    some_of,
)

EDGES = ("exits", "then", "go-to", "remedy", "starts-at")
"""The keys that lead on from a step, or into a tree."""
MOST_ENDINGS = 10
"""Entries about the endings of one tree; the grave are all shown, and of the rest no more than these."""


def is_edge(row: Row) -> bool:
    """Tell whether a row of the steps is about where something leads."""
    return row.subject.startswith(("step ", "tree ")) and row.detail.partition(" ")[0] in EDGES


def way_entries(review: Review, names: Names) -> Iterator[Entry]:
    """Give the changed exits, then tree by tree the endings that follow, and what could not be compared."""
    yield from (_edge(each, names) for each in review.steps if is_edge(each))
    yield from (_tree(each, names) for each in review.paths if not _is_new(each))
    for each in review.uncounted:
        tree, _, reason = each.partition(": ")
        yield Entry(f"{names.of('tree', tree)}: its paths could not be compared, for {reason}")


def _is_new(tree: TreePaths) -> bool:
    """Tell whether a tree is new; then it is shown in full elsewhere."""
    return all(each.before.kind == "nothing" for each in tree.endings)


def _edge(row: Row, names: Names) -> Entry:
    told = names.row(row)
    notes = [*grave_note(row.grave)]
    notes += [plain_note("led to", told.before)] if told.before is not None else []
    notes += [plain_note("leads to", told.after if told.after is not None else "nothing: the exit is gone")]
    return Entry(_edge_words(row, names), places_of(row.change, row.spot_before, row.spot_after), tuple(notes))


def _edge_words(row: Row, names: Names) -> str:
    subject = names.words(row.subject)
    key, _, answer = row.detail.partition(" ")
    said = {"exits": f", answered “{answer}”", "then": ", when it is done", "starts-at": ": where it starts"}
    return f"{subject}{said.get(key, '')}"


def _tree(tree: TreePaths, names: Names) -> Entry:
    title = names.of("tree", tree.tree)
    if all(each.after.kind == "nothing" for each in tree.endings):
        return Entry(f"{title} is gone: {paths_words(tree.changed, tree.total)}")
    together = _together(tree.endings)
    shown = [each for number, each in enumerate(together) if each[0].grave or number < MOST_ENDINGS]
    inner = [_ending(tree.tree, each, names) for each in shown]
    if more := sum(map(len, together)) - sum(map(len, shown)):
        inner.append(Entry(f"and {more:,} more pairs of endings; `--format json` has them all"))
    return Entry(f"so in {title} {paths_words(tree.changed, tree.total)}", inner=tuple(inner))


def _together(changes: Iterable[PathChange]) -> tuple[tuple[PathChange, ...], ...]:
    """Put together the paths that end where they did, and part at one exit from the same act that makes safe."""
    groups: dict[object, list[PathChange]] = defaultdict(list)
    for each in changes:
        stays = (each.before.kind, each.before.name) == (each.after.kind, each.after.name)
        passed = frozenset(each.before.past) ^ frozenset(each.after.past)
        key = each.grave, each.spot_before, each.spot_after, passed, frozenset(each.before.past) & passed
        groups[key if stays and passed else each].append(each)
    return tuple(map(tuple, groups.values()))


def _ending(tree: str, changes: tuple[PathChange, ...], names: Names) -> Entry:
    first = changes[0]
    places = places_of("changed", first.spot_before, first.spot_after)
    example = plain_note("for example", example_words(tree, first.example, names))
    if len(changes) == 1:
        return Entry(change_words(first, names), places, (*grave_note(first.grave), example))
    ends = tuple(dict.fromkeys(f"“{each.before.title}”" for each in changes))
    notes = (*grave_note(first.grave), plain_note("they end with", some_of(ends)), example)
    return Entry(passing_words(changes, names), places, notes)
