"""Hazards read by hand: a hazard taken off is missed in every remedy, and so is a word whose step declares nothing."""

import re
from dataclasses import replace

import pytest
from guides import the_checked

from build_tools.model import Act, Action, Where
from build_tools.proof.graph import hazards_of
from build_tools.proof.rules.hazards_read import READ, WORDS, hazards_read
from build_tools.proof.rules.panes import panes

DRAFT = the_checked().draft
READINGS, RULES = DRAFT.proofs[READ], DRAFT.proofs[WORDS]


def text(step):
    return " ".join(f"{step.do} {step.right or ''}".split()) if isinstance(step, Action) else ""


def edited(name, **changes):
    """Give the guide with one remedy changed, and no other."""
    return replace(DRAFT, remedies={name: DRAFT.remedies[name].model_copy(update=changes)})


def steps_of(name, changed, **changes):
    """Give the work of a remedy with those steps changed that are asked for."""
    return tuple(
        each.model_copy(update=changes) if isinstance(each, Action) and changed(each) else each
        for each in DRAFT.remedies[name].steps
    )


def told(draft, *codes):
    return [each for each in hazards_read(draft) if each.code in codes and not each.path.startswith("trees/proofs/")]


def test_every_remedy_of_the_guide_was_read():
    assert READINGS.keys() == DRAFT.remedies.keys() and len(RULES) > 20
    assert list(hazards_read(DRAFT)) == []


@pytest.mark.parametrize("name", READINGS)
def test_a_hazard_taken_off_its_steps_is_missed(name):
    bare = edited(name, steps=steps_of(name, lambda each: each.hazards, hazards=()))
    own = {
        f'"{quote}" was read as bringing "{hazard}"'
        for hazard, quotes in READINGS[name].items()
        for quote in quotes
        for step in bare.remedies[name].steps
        if quote in text(step) and hazard not in hazards_of(DRAFT, step)
    }
    assert own
    assert own <= {each.what.partition(", which this step")[0] for each in told(bare, "hazard-undeclared")}


@pytest.mark.parametrize("word", RULES)
def test_a_word_whose_step_declares_nothing_is_missed(word):
    def says(step):
        return RULES[word].says.search(getattr(step, "do", ""))

    name = next(name for name, each in DRAFT.remedies.items() if any(map(says, each.steps)))
    bare = edited(name, steps=steps_of(name, says, hazards=(), acts=(), where=Where.GROUND))
    rule = RULES[word].model_copy(update={"but_not": {}})
    assert told(replace(bare, proofs={WORDS: {word: rule}}), "hazard-undeclared")


def test_words_that_changed_and_hazards_and_cautions_nobody_read_are_missed():
    name, quote = "tape-for-now", "Lay the tape from the foot up"
    reworded = edited(name, steps=steps_of(name, lambda each: quote in each.do, do="Stick it down.", right=None))
    assert any(quote in each.what for each in hazards_read(reworded) if each.code == "reading-astray")
    added = edited(name, steps=steps_of(name, lambda each: quote in each.do, hazards=(*DRAFT.hazards,)))
    assert any('"flue-gas"' in each.what for each in told(added, "hazard-unread"))
    idle = edited(name, cautions=(*DRAFT.remedies[name].cautions, "flue-gases"))
    assert [re.match(r'"([a-z-]+)', each.what)[1] for each in told(idle, "hazard-unread")] == ["flue-gases"]


def test_glass_lifted_over_a_room_in_use_is_missed():
    name = "lift-and-re-bed-the-glass"
    uncared = edited(name, steps=steps_of(name, lambda each: "Empty the room below" in each.do, do="Order the sheet."))
    lifting = [each for each in DRAFT.remedies[name].steps if isinstance(each, Action) and Act.LIFT_GLASS in each.acts]
    assert len([each for each in panes(uncared) if each.code == "room-not-cleared"]) >= max(2, len(lifting))
