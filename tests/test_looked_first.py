"""What is looked at or judged before it is opened: the glass beside a tile, and the timber that carries a light.

A tile lifted beside a pane that only glue holds, or a lining prised off under rotten timber, can bring the pane down.
Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from guides import the_checked

from build_tools.model import Action, Measure, RemedyStep, Where

DRAFT = the_checked().draft
OPENS = (
    r"\b(lift|strip|ease up|take out|take off|slide out|replace|number)\b"
    r"[^.]{0,60}\b(tiles?|slates?|courses?|pieces?)\b"
)
LOOKS = r"\blook at\b[^.]{0,40}\b(glass|pane)\b"
INNER_PANE = r"\blook at the inner pane from the room\b"
PRISES = r"\b(lining|trim)\b[^.]*\b(off|prised)\b|\bprise\b|\bawl in\b"
JUDGES = r"\bstructural engineer\b[^.]*\bbefore anything is prised\b"
BESIDE_GLASS = sorted(name for name, each in DRAFT.remedies.items() if "upstand-glass" in each.suits.light)
TRIED_BY_HAND = r"\bfeel each corner of the glass\b"


def work_of(name: str) -> list[Action]:
    return [each for each in DRAFT.remedies[name].steps if isinstance(each, Action)]


def place_of(pattern: str, steps: Sequence[Action], *, only: Where | None = None) -> int:
    """Give where the first of these steps stands whose work says so, or their number if none does."""
    said = (
        number
        for number, each in enumerate(steps)
        if re.search(pattern, each.do, re.IGNORECASE) and only in (None, each.where)
    )
    return next(said, len(steps))


def too_early(first: str, then: str, steps: Sequence[Action], *, only: Where | None = None) -> bool:
    """Say whether these steps do what comes second before they do what comes first."""
    return place_of(then, steps, only=only) < place_of(first, steps, only=only)


@pytest.mark.parametrize("name", BESIDE_GLASS)
def test_glass_is_looked_at_before_any_tile_beside_it_is_lifted(name: str) -> None:
    assert not too_early(LOOKS, OPENS, work_of(name), only=Where.ROOF)


@pytest.mark.parametrize("name", BESIDE_GLASS)
def test_inner_pane_is_looked_at_from_the_room_before_glass_is_tried_on_the_roof(name: str) -> None:
    assert not too_early(INNER_PANE, TRIED_BY_HAND, work_of(name))


def test_tiles_are_lifted_and_panes_tried_in_the_work_that_is_held_to_this() -> None:
    steps = [work_of(name) for name in BESIDE_GLASS]
    assert sum(place_of(OPENS, each, only=Where.ROOF) < len(each) for each in steps) >= 9
    assert sum(place_of(TRIED_BY_HAND, each) < len(each) for each in steps) == 5


WHEN_WET = {
    end.remedy
    for tree in DRAFT.trees.values()
    for step in tree.steps.values()
    if isinstance(step, Measure) and step.measure == "timber-moisture"
    if isinstance(end := tree.steps[step.exits["wet"]], RemedyStep)
}


@pytest.mark.parametrize("name", sorted(WHEN_WET))
def test_nothing_is_prised_under_rotten_timber_before_an_engineer_has_spoken(name: str) -> None:
    steps = work_of(name)
    assert place_of(PRISES, steps) < len(steps)
    assert not too_early(JUDGES, PRISES, steps)
    for each in steps:
        if re.search(PRISES, each.do, re.IGNORECASE) and not re.search(JUDGES, each.do):
            assert {"heavy-glass", "broken-glass"} <= set(each.hazards) or "tested" in each.do


def test_work_in_the_wrong_order_is_found() -> None:
    opened, looked = (Action(do=each, where=Where.ROOF) for each in ("Lift the tiles.", "Look at bed and glass."))
    assert too_early(LOOKS, OPENS, [opened, looked], only=Where.ROOF)
    assert too_early(LOOKS, OPENS, [opened], only=Where.ROOF)
    assert not too_early(LOOKS, OPENS, [looked, opened], only=Where.ROOF)
    steps = work_of("open-up-wet-timber")
    judged = place_of(JUDGES, steps)
    assert too_early(JUDGES, PRISES, [*steps[:judged], *steps[judged + 1 :], steps[judged]])


def test_nobody_holds_a_pane_by_hand_while_what_keeps_it_is_taken_away() -> None:
    for name in ("renew-the-gasket", "re-seal-a-lantern-joint"):
        said = " ".join(f"{each.do} {each.right or ''}" for each in work_of(name))
        assert "suction lifter" not in said
        assert re.search(r"\bstop\b[^.]*\b(foot|there)\b", said)


def test_clips_are_screwed_on_from_beside_a_pane_that_glue_alone_holds() -> None:
    steps = [each for name in DRAFT.remedies for each in work_of(name) if "padded clips to" in each.do]
    assert len(steps) == 5
    for each in steps:
        assert "screw padded clips" in each.do
        assert "from beside it, never below it" in each.do


def test_a_room_is_shut_before_anybody_goes_in_under_a_pane_that_may_fall() -> None:
    first, *others = work_of("have-a-glazier-judge-the-glass")
    for word in ("doorway", "ticks", "moves in wind", "rests on", "shut the room"):
        assert word in first.do
    assert any("move beds" in each.do for each in others)
    assert not any("no harm" in f"{each.do} {each.right}" for each in (first, *others))
