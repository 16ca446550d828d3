"""What is done on a ladder is done with one hand; what takes two has a scaffold or tower, behind its own gate."""

import re

import pytest
from guides import draft_of, gate, opens, question, remedy, the_checked, tree

from build_tools.guide.words import PLACE_WORDS, READING_DONE, READING_RULES
from build_tools.model import UP, Action, Effort, Where
from build_tools.proof.graph import hazards_of, needs
from build_tools.proof.rules.ladders import ladders
from build_tools.proof.rules.safety import safety

DRAFT = the_checked().draft
GATES = {"high": opens("ladder"), "boards": opens("scaffold")}
TWO_HANDED = ("screw", "mend", "seal", "hang", "fix", "hold")
"""What nobody does with one hand. Common practice, no source."""


def told(trees, *steps):
    draft = draft_of(trees, {"r": remedy(*steps)}, gates=GATES)
    return [(each.code, each.keys) for each in ladders(draft)]


def one_step(**more):
    return {"a": tree({"up": gate("high", "look", "end", "end"), **look(**more), "end": {"remedy": "r"}})}


def look(**more):
    return {"look": question("look", "end", "end", "end", **more)}


@pytest.mark.parametrize("effort", Effort)
@pytest.mark.parametrize("where", Where)
def test_a_question_on_a_ladder_only_looks_or_touches(where, effort):
    refused = where is Where.LADDER and effort not in (Effort.LOOK, Effort.TOUCH)
    found = told(one_step(where=where, effort=effort), {"do": "Go.", "where": "inside"})
    assert found == ([("two-hands-on-a-ladder", ("steps", "look", "effort"))] if refused else [])


@pytest.mark.parametrize("says", [None, "One hand holds the lamp."])
@pytest.mark.parametrize("where", Where)
def test_work_says_how_one_hand_does_it_on_a_ladder_and_only_there(where, says):
    step = {"do": "Go.", "where": where, **({"one-hand": says} if says else {})}
    key = "one-hand" if says else "where"
    wrong = (where is Where.LADDER) != (says is not None)
    assert told(one_step(), {"gate": "high"}, step) == ([("two-hands-on-a-ladder", ("steps", 1, key))] if wrong else [])


def test_a_ladder_gate_does_not_open_a_scaffold():
    step = {"do": "Go.", "where": "scaffold"}
    for name, codes in (("high", ["ungated"]), ("boards", [])):
        draft = draft_of(one_step(), {"r": remedy({"gate": name}, step)}, gates=GATES)
        gated = [each.code for each in safety(draft) if each.code != "make-safe-outside"]
        assert gated == codes


def test_a_scaffold_is_safer_than_a_ladder_and_brings_what_a_height_brings():
    order = list(Where)
    assert order.index(Where.GROUND) < order.index(Where.SCAFFOLD) < order.index(Where.LADDER) < order.index(Where.ROOF)
    brought = {name for name, each in DRAFT.hazards.items() if Where.SCAFFOLD in each.where}
    assert brought == {"fall", "overhead-lines", "dropped-things"}
    assert set(UP) == {Where.SCAFFOLD, Where.LADDER, Where.ROOF}
    assert set(PLACE_WORDS) == set(Where)
    assert set(READING_RULES) == set(READING_DONE) == set(UP)


def test_every_gate_of_a_scaffold_asks_who_put_it_up_who_inspected_it_and_for_rails():
    gates = [each for each in DRAFT.gates.values() if Where.SCAFFOLD in each.opens]
    assert gates
    for each in gates:
        said = " ".join(condition.holds for condition in each.all_of)
        for word in (
            "trained",
            "handed over",
            "inspected",
            "seven days",
            "Guard rails",
            "Ties",
            "line",
            "wind",
            "below",
        ):
            assert word in said


FROM_A_LADDER = {
    f"{name}-{number}": step
    for name, work in DRAFT.remedies.items()
    for number, step in enumerate(work.steps, start=1)
    if isinstance(step, Action) and Where.LADDER in needs(step)
}


@pytest.mark.parametrize("name", FROM_A_LADDER)
def test_nothing_is_mended_from_a_ladder(name):
    step = FROM_A_LADDER[name]
    assert not {word.strip(",.").lower() for word in step.do.split()}.intersection(TWO_HANDED)
    assert "fall" in hazards_of(DRAFT, step)


def test_brackets_joints_gutter_and_hose_take_boards_to_stand_on():
    steps = [each for each in DRAFT.remedies["clear-the-eaves-gutter"].steps if isinstance(each, Action)]
    for words in ("brackets and open joints", "hang the larger gutter", "end of the hose"):
        (step,) = [each for each in steps if words in each.do]
        assert step.where is Where.SCAFFOLD


def test_what_is_done_from_a_scaffold_is_behind_the_gate_of_a_scaffold():
    said = re.compile(r"\bfrom (the|a) (scaffold|tower)\b")
    steps = [each for remedy in DRAFT.remedies.values() for each in remedy.steps if isinstance(each, Action)]
    there = [each for each in steps if said.search(each.do)]
    assert there
    assert [each.do for each in there if each.where is not Where.SCAFFOLD] == []
