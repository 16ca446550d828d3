"""Whoever cannot tell is told no work: another look comes next, a cheap proof, or an honest watch.

Each step here once answered "can't tell" with work. Common practice of the trade, no source.
"""

from __future__ import annotations

import re

import pytest
from guides import ROOT

from build_tools.model import Effort, Looked, Measure, Question, RemedyStep, StepBase, Where
from build_tools.sources.library import read_library

DRAFT = read_library(ROOT)[0]
FINDS_OUT = {"keep-a-rain-log", "call-a-roofer-for-this-light", "have-the-lining-opened-up"}
"""Remedies that mend nothing, and show what is to be mended."""
ONCE_TOLD_WORK = [
    ("roof-window-in-a-slope", "free-way"),
    ("moisture-made-indoors", "falls-back"),
    ("moisture-made-indoors", "burner"),
    ("moisture-made-indoors", "cold-strip"),
    ("wet-in-cold-weather", "fan-holds-paper"),
    ("wet-in-cold-weather", "until-steam-gone"),
    ("wet-in-cold-weather", "tissue-stirs"),
    ("leaks-again-after-a-repair", "dirt-in-its-way"),
    ("mould-at-the-reveal", "mould-cold"),
]


def step_of(tree: str, name: str) -> Question | Measure:
    step = DRAFT.trees[tree].steps[name]
    assert isinstance(step, Question | Measure)
    return step


def after(tree: str, name: str, answer: str) -> StepBase:
    return DRAFT.trees[tree].steps[step_of(tree, name).exits[answer]]


@pytest.mark.parametrize(("tree", "name"), ONCE_TOLD_WORK)
def test_cannot_tell_leads_to_no_work_and_says_how_to_find_out(tree: str, name: str) -> None:
    next_step = after(tree, name, "unsure")
    assert not isinstance(next_step, RemedyStep) or next_step.remedy in FINDS_OUT
    assert step_of(tree, name).find_out


@pytest.mark.parametrize("tree", ["moisture-within-the-roof", "wet-in-cold-weather"])
def test_where_no_opening_was_measured_none_is_made(tree: str) -> None:
    steps = DRAFT.trees[tree].steps
    name = next(name for name, step in steps.items() if getattr(step, "measure", "") == "roof-ventilation")
    told = after(tree, name, "unsure")
    assert isinstance(told, RemedyStep)
    assert "Open nothing in the roof before" in str(told.note)


def test_a_pitch_that_is_known_is_not_measured_again() -> None:
    tree = "roof-window-in-a-slope"
    plain = after(tree, "lining-round-the-frame", "no")
    assert isinstance(plain, Question)
    assert plain.effort is Effort.LOOK
    assert {answer for answer, to in plain.exits.items() if to == "steep-enough"} == {"no"}


def test_the_kind_of_a_flashing_is_told_without_lifting_and_a_made_gutter_is_let_be() -> None:
    step = step_of("roof-window-in-a-slope", "made-for-this")
    assert step.effort is Effort.LOOK
    assert "Lift nothing" in step.look
    assert "a gutter of its own is right" in getattr(step, "if_so", "")


WEDGED = re.compile(r"\b(wedge|ease|prise|slide)s? up\b[^.]*\bslates?\b", re.IGNORECASE)


def test_nobody_wedges_slates_up_round_a_roof_window() -> None:
    looked = [each for each in DRAFT.trees["roof-window-in-a-slope"].steps.values() if isinstance(each, Looked)]
    assert any(each.where is Where.ROOF for each in looked)
    assert [each.look for each in looked if WEDGED.search(each.look)] == []
    assert WEDGED.search("Ease up two tiles or slates beside the window with wooden wedges.")


def test_a_mark_nobody_ringed_is_still_asked_for_sealant() -> None:
    assert step_of("leaks-again-after-a-repair", "past-the-ring").exits["unsure"] == "stuck-over-it"
    asked = step_of("leaks-again-after-a-repair", "stuck-over-it")
    assert {answer: asked.exits[answer] for answer in ("no", "unsure")} == {"no": "log", "unsure": "log"}
