"""A review as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from build_tools.review.changes import Review, Row, Spot, TreePaths
from build_tools.review.sentences import (
    FALLEN,
    NOTHING,
    TITLES,
    change_words,
    example_words,
    length_words,
    paths_words,
    proposal_words,
    row_words,
    side_words,
    spot_words,
    spots_of,
    step_words,
    title_of,
    values_of,
)


def as_text(review: Review) -> str:
    """Write a review for reading in a terminal."""
    return "\n".join(_lines(review))


def _lines(review: Review) -> Iterator[str]:
    yield title_of(review)
    yield from (*side_words(review.before), *side_words(review.after))
    if review.empty:
        yield NOTHING
        return
    if review.grave:
        yield FALLEN
    yield step_words(review)
    yield from (f"  {proposal_words(each)}" for each in review.proposals)
    blocks: dict[str, list[str]] = {
        "safety": list(_rows(review.safety)),
        "paths": [*_paths(review.paths), *(f"  {each}; its paths are not compared." for each in review.uncounted)],
        "remedies": list(_rows(review.remedies)),
        "steps": list(_rows(review.steps)),
        "values": list(_rows(review.values)),
        "lengths": [f"  {length_words(each)}" for each in review.lengths],
        "text": list(_rows(review.text)),
    }
    for name, title in TITLES.items():
        yield from ("", title, *(blocks[name] or ["  None."]))


def _rows(rows: Iterable[Row]) -> Iterator[str]:
    for row in rows:
        yield f"  {row_words(row)}"
        yield from (f"    {word}: {value}" for word, value in values_of(row))
        yield from _spots(row.spot_before, row.spot_after)


def _spots(before: Spot | None, after: Spot | None) -> Iterator[str]:
    yield from (f"    {words} {spot_words(spot)}" for words, spot in spots_of(before, after))


def _paths(trees: Iterable[TreePaths]) -> Iterator[str]:
    for tree in trees:
        yield f"  {tree.tree}: {paths_words(tree.changed, tree.total)}"
        for change in tree.endings:
            yield f"    {change_words(change)}"
            yield f"      for example: {example_words(change.example)}"
            yield from (f"  {line}" for line in _spots(change.spot_before, change.spot_after))
