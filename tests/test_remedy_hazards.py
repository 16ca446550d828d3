"""The hazards that steps of remedies declare, against a reading of the same steps by hand, and against their words.

`check` proves that cautions answer what is declared. Here what is declared is held to `remedy_hazards.yaml`, which
says for each remedy what its work brings and by which words, and to `remedy_words.yaml`, which says what a word
in a step brings wherever it stands. Both are common practice of the trade, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain
from typing import Any

import pytest
import yaml
from guides import ROOT, the_checked

from build_tools.model import Act, Remedy, Where
from build_tools.model.remedies import Action, WorkGate
from build_tools.proof.graph import hazards_of
from build_tools.sources.library import Draft

Reading = Mapping[str, list[str]]
"""Hazard to the words that bring it."""


def _table(name: str) -> Any:
    return yaml.load((ROOT / "tests" / name).read_text(encoding="utf-8"), yaml.BaseLoader)


def _listed(words: str | list[str]) -> list[str]:
    return [words] if isinstance(words, str) else words


READ: Mapping[str, Reading] = {
    name: {hazard: _listed(words) for hazard, words in entry.items()}
    for name, entry in _table("remedy_hazards.yaml").items()
}
WORDS = _table("remedy_words.yaml")
DRAFT = the_checked().draft


def _text(step: Action | WorkGate) -> str:
    return " ".join(f"{step.do} {step.right or ''}".split()) if isinstance(step, Action) else ""


def _brings(draft: Draft, remedy: Remedy) -> set[str]:
    return {hazard for step in remedy.steps for hazard in hazards_of(draft, step)}


def _answered_before(draft: Draft, remedy: Remedy, number: int) -> set[str]:
    """Give what the remedy's cautions answer, and those of the gates that stand before this step."""
    gates = [step.gate for step in remedy.steps[:number] if isinstance(step, WorkGate)]
    cautions = chain(remedy.cautions, *(draft.gates[each].cautions for each in gates))
    return {hazard for each in cautions for hazard in draft.cautions[each].answers}


def misread(draft: Draft, name: str, reading: Reading) -> Iterator[str]:
    """Find where the remedy and its reading differ."""
    remedy = draft.remedies[name]
    for hazard, quote in ((hazard, quote) for hazard, quotes in reading.items() for quote in quotes):
        holding = [number for number, step in enumerate(remedy.steps) if quote in _text(step)]
        if len(holding) != 1:
            yield f"{len(holding)} steps say: {quote}"
        elif hazard not in hazards_of(draft, remedy.steps[holding[0]]):
            yield f"{hazard} is not declared: {quote}"
        elif hazard not in _answered_before(draft, remedy, holding[0]):
            yield f"{hazard} is not answered: {quote}"
    yield from (f"{hazard} was not read in any step" for hazard in sorted(_brings(draft, remedy) - reading.keys()))
    for caution in remedy.cautions:
        if not reading.keys() & set(draft.cautions[caution].answers):
            yield f"{caution} answers nothing that was read"


def unspoken(draft: Draft, name: str, rule: Mapping[str, Any]) -> Iterator[str]:
    """Find the steps whose words bring hazards by the rule, and which do not declare what it asks for."""
    all_of, one_of = (set(_listed(rule.get(key, []))) for key in ("brings", "brings-one-of"))
    for step in draft.remedies[name].steps:
        said = isinstance(step, Action) and re.search(rule["says"], " ".join(step.do.split()), re.IGNORECASE)
        declared = set(hazards_of(draft, step))
        if said and not (all_of <= declared and (not one_of or one_of & declared)):
            yield _text(step)


def uncleared(draft: Draft, name: str) -> Iterator[str]:
    """Find the steps up there that move glass, or try whether it moves, before the room below was cleared."""
    cleared = False
    for step in draft.remedies[name].steps:
        if not isinstance(step, Action):
            continue
        inside = step.where is Where.INSIDE
        cleared |= inside and bool(re.search(r"\b(clear|empty)\b.*\broom below\b", step.do, re.IGNORECASE))
        moves = Act.LIFT_GLASS in step.acts or (not inside and "heavy-glass" in hazards_of(draft, step))
        if moves and not cleared:
            yield _text(step)


def _edited(name: str, **changes: object) -> Draft:
    """Give the guide with one remedy changed."""
    return replace(DRAFT, remedies={**DRAFT.remedies, name: DRAFT.remedies[name].model_copy(update=changes)})


def _without(name: str, quote: str, **changes: object) -> Draft:
    """Give the guide with those steps of a remedy changed that hold these words."""
    steps = DRAFT.remedies[name].steps
    return _edited(
        name, steps=tuple(each.model_copy(update=changes) if quote in _text(each) else each for each in steps)
    )


def test_every_remedy_was_read() -> None:
    assert READ.keys() == DRAFT.remedies.keys()


@pytest.mark.parametrize("name", READ)
def test_remedy_declares_and_answers_what_was_read(name: str) -> None:
    assert list(misread(DRAFT, name, READ[name])) == []


@pytest.mark.parametrize("word", WORDS)
def test_words_bring_their_hazard(word: str) -> None:
    excepted = {name: set(steps) for name, steps in WORDS[word].get("but-not", {}).items()}
    found = {name: steps for name in DRAFT.remedies if (steps := list(unspoken(DRAFT, name, WORDS[word])))}
    left = {
        (name, step)
        for name, steps in found.items()
        for step in steps
        if not any(quote in step for quote in excepted.get(name, ()))
    }
    assert left == set()
    idle = {
        (name, quote)
        for name, quotes in excepted.items()
        for quote in quotes
        if not any(quote in step for step in found.get(name, ()))
    }
    assert idle == set(), "nothing needs these exceptions"


@pytest.mark.parametrize("name", DRAFT.remedies)
def test_room_below_is_cleared_before_glass_is_moved(name: str) -> None:
    assert list(uncleared(DRAFT, name)) == []


@pytest.mark.parametrize("name", READ)
def test_a_hazard_taken_off_its_steps_is_missed(name: str) -> None:
    bare = _edited(name, steps=tuple(each.model_copy(update={"hazards": ()}) for each in DRAFT.remedies[name].steps))
    own = {
        f"{hazard} is not declared: {quote}"
        for hazard, quotes in READ[name].items()
        for quote in quotes
        for step in DRAFT.remedies[name].steps
        if quote in _text(step) and hazard not in hazards_of(DRAFT, step.model_copy(update={"hazards": ()}))
    }
    assert own
    assert own <= set(misread(bare, name, READ[name]))


@pytest.mark.parametrize("name", READ)
def test_a_caution_taken_off_is_missed_unless_a_gate_gives_it(name: str) -> None:
    gates = {each.gate for each in DRAFT.remedies[name].steps if isinstance(each, WorkGate)}
    given = {caution for gate in gates for caution in DRAFT.gates[gate].cautions}
    own = set(DRAFT.remedies[name].cautions) - given
    missed = {each for each in own if any(misread(_edited(name, cautions=_less(name, each)), name, READ[name]))}
    assert missed == own


def _less(name: str, caution: str) -> tuple[str, ...]:
    return tuple(each for each in DRAFT.remedies[name].cautions if each != caution)


def test_words_that_changed_and_hazards_nobody_read_are_missed() -> None:
    name, quote = "tape-for-now", "Lay the tape from the foot up"
    reworded = _without(name, quote, do="Stick it down.", right=None)
    assert f"0 steps say: {quote}" in misread(reworded, name, READ[name])
    added = _without(name, quote, hazards=(*DRAFT.hazards,))
    assert "flue-gas was not read in any step" in misread(added, name, READ[name])
    idle = _edited(name, cautions=(*DRAFT.remedies[name].cautions, "flue-gases"))
    assert list(misread(idle, name, READ[name])) == ["flue-gases answers nothing that was read"]


@pytest.mark.parametrize("word", WORDS)
def test_a_word_whose_step_declares_nothing_is_missed(word: str) -> None:
    said = {name: _saying(remedy, WORDS[word]["says"]) for name, remedy in DRAFT.remedies.items()}
    name, steps = next((name, steps) for name, steps in said.items() if steps)
    bare = _without(name, steps[0], hazards=(), acts=())
    assert steps[0] in unspoken(bare, name, WORDS[word])


def _saying(remedy: Remedy, says: str) -> list[str]:
    steps = [each for each in remedy.steps if isinstance(each, Action)]
    return [_text(each) for each in steps if re.search(says, " ".join(each.do.split()), re.IGNORECASE)]


def test_glass_lifted_over_a_room_in_use_is_missed() -> None:
    name = "lift-and-re-bed-the-glass"
    uncared = _without(name, "Empty the room below", do="Order the sheet.")
    assert len(list(uncleared(uncared, name))) >= 2
