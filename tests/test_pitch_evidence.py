"""The dispute about the pitch: a covering at its limit is acquitted only by tiles lifted after the right rain."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from guides import the_checked

from build_tools.model import Measure, Tree

DRAFT = the_checked().draft
TREE = DRAFT.trees["is-it-really-the-pitch"]
LIFTED = "marks-away-from-lights"
NOT_PROVEN = "not-proven"
ACQUITS = ("report-the-evidence-on-the-pitch", "record-the-covering-and-watch")


def reached(tree: Tree, starts: Iterable[str], without: str) -> set[str]:
    """Give every step on a way from these on which no way passes through `without`."""
    found: set[str] = set()
    open_ends = [each for each in starts if each != without]
    while open_ends:
        step = open_ends.pop()
        found.add(step)
        exits = getattr(tree.steps[step], "exits", None) or {}
        open_ends += [each for each in exits.values() if each != without and each not in found]
    return found


UNTOUCHED = [
    (name, verdict)
    for name in sorted(reached(TREE, [TREE.starts_at], LIFTED))
    for verdict in (getattr(TREE.steps[name], "exits", None) or {})
    if isinstance(TREE.steps[name], Measure) and TREE.steps[name].measure == "covering-margin" and verdict != "within"
]
"""The verdicts on the covering that are reckoned before any tile is lifted."""


@pytest.mark.parametrize(("measure", "verdict"), UNTOUCHED)
def test_what_is_not_within_its_limits_is_acquitted_by_lifting_alone(measure: str, verdict: str) -> None:
    ends = reached(TREE, [TREE.steps[measure].exits[verdict]], LIFTED)
    acquitted = {each for each in ends if getattr(TREE.steps[each], "remedy", None) in ACQUITS}
    assert acquitted <= {NOT_PROVEN}


def test_both_numbers_of_the_table_are_held_to_it() -> None:
    assert {name for name, _ in UNTOUCHED} == {"slope-by-its-sheet", "slope-by-its-kind"}


def test_not_proven_says_so() -> None:
    assert TREE.steps[NOT_PROVEN].note.startswith("Not proven.")
