"""Answers that lead elsewhere, in words: the exits that were changed come first, the endings follow from them."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.review.changes import PathChange, Review, Row, TreePaths
from build_tools.review.entries import Entry, grave_note, plain_note
from build_tools.review.naming import Names
from build_tools.review.sentences import change_words, example_words, paths_words, places_of

EDGES = ("exits", "then", "go-to", "remedy", "starts-at")
"""The keys that lead on from a step, or into a tree."""
MOST_ENDINGS = 10
"""Pairs of endings of one tree; the grave are all shown, and of the rest no more than these."""


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
    shown = [each for number, each in enumerate(tree.endings) if each.grave or number < MOST_ENDINGS]
    inner = [_ending(tree.tree, each, names) for each in shown]
    if more := len(tree.endings) - len(shown):
        inner.append(Entry(f"and {more:,} more pairs of endings; `--format json` has them all"))
    return Entry(f"so in {title} {paths_words(tree.changed, tree.total)}", inner=tuple(inner))


def _ending(tree: str, change: PathChange, names: Names) -> Entry:
    places = places_of("changed", change.spot_before, change.spot_after)
    example = plain_note("for example", example_words(tree, change.example, names))
    return Entry(change_words(change, names), places, (*grave_note(change.grave), example))
