"""What is undone is made good: the last repair may sit at any light, so each kind has work that follows.

On a flat roof it is undone in another way than on a slope, and what follows suits the same roof. Common practice, no
source.
"""

from __future__ import annotations

import re

import pytest
from guides import the_checked

DRAFT = the_checked().draft
UNDOING = ("undo-the-last-repair", "undo-the-last-repair-on-a-flat-roof")
PAIRS = [(undo, light) for undo in UNDOING for light in DRAFT.remedies[undo].suits.light]


def test_the_last_repair_is_undone_at_every_kind_of_light() -> None:
    assert {light for _, light in PAIRS} == set(DRAFT.vocabulary.light)


@pytest.mark.parametrize(("undo", "light"), PAIRS)
def test_what_follows_the_last_repair_has_work_for_each_light(undo: str, light: str) -> None:
    following = DRAFT.remedies[undo].followed_by
    assert [name for name in following if light in DRAFT.remedies[name].suits.light]


@pytest.mark.parametrize("undo", UNDOING)
def test_what_follows_the_last_repair_suits_a_roof_that_it_was_undone_on(undo: str) -> None:
    undone = DRAFT.remedies[undo]
    for name in undone.followed_by:
        suits = DRAFT.remedies[name].suits
        assert {*undone.suits.covering, "any"} & set(suits.covering), name
        assert {*undone.suits.light, "any"} & set(suits.light), name


def test_on_a_flat_roof_no_slope_is_spoken_of() -> None:
    said = " ".join(str(DRAFT.remedies[UNDOING[1]].model_dump()).split())
    assert not re.search(r"\b(tiles?|slates?|apron|ridge|roof ladder|slope)\b", said)
