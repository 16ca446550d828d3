"""Every kind of dangerous edit, as a change of the guide in memory, with what has to tell it.

A kind picks one of the places at which the guide can be so changed. Nothing is written: records are copied with
another value, as if the file said so.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from build_tools.model import Action, Gate, GateStep, GoTo, JoinedGate, Looked, Measure, Question, RemedyStep, WorkGate
from build_tools.proof.rules.flow import flow
from build_tools.proof.rules.references import references
from build_tools.proof.rules.safety import safety
from build_tools.review.differences.gravity import MILDEST_FIRST
from build_tools.sources.gates import whole
from build_tools.sources.library import Draft

Way = Callable[[random.Random], Draft]
"""One place at which the guide can be changed so."""
NEGATION = re.compile(r"\b(never|not|nobody|nothing|no|only|must)\b", re.IGNORECASE)
NUMBER = re.compile(r"\b\d+(?:\.\d+)?\b")
TURNED = {"over": "under", "above": "below", "before": "after", "up": "down", "inside": "outside", "dry": "wet"}
STEP_WORDS = ("question", "look", "if_so", "if_not", "find_out")
WORK_WORDS = ("do", "right", "one_hand")
CAUTION_WORDS = ("hazard", "consequence", "avoidance", "stop_when", "call")
REMEDY_WORDS = ("cures", "water_leaves", "prove", "look_again", "record")
RULES = {"references": references, "flow": flow, "safety": safety}


@dataclass(frozen=True)
class Kind:
    """One kind of edit: where it can be made, and what must tell it each time."""

    name: str
    ways: Callable[[Draft], Iterator[Way]]
    teller: str
    """`grave` with a part of the reason, `major`, or `check` with the module of rules and the code."""
    says: str = ""


def with_step(draft: Draft, tree: str, name: str, **values: Any) -> Draft:
    old = draft.trees[tree]
    steps = {**old.steps, name: old.steps[name].model_copy(update=values)}
    return with_tree(draft, tree, steps=steps)


def with_tree(draft: Draft, tree: str, **values: Any) -> Draft:
    return replace(draft, trees={**draft.trees, tree: draft.trees[tree].model_copy(update=values)})


def with_remedy(draft: Draft, name: str, **values: Any) -> Draft:
    return replace(draft, remedies={**draft.remedies, name: draft.remedies[name].model_copy(update=values)})


def with_work(draft: Draft, name: str, number: int, **values: Any) -> Draft:
    steps = list(draft.remedies[name].steps)
    steps[number] = steps[number].model_copy(update=values)
    return with_remedy(draft, name, steps=tuple(steps))


def with_entry(draft: Draft, table: str, name: str, **values: Any) -> Draft:
    held = getattr(draft, table)
    return replace(draft, **{table: {**held, name: held[name].model_copy(update=values)}})


def with_gate(draft: Draft, name: str, **values: Any) -> Draft:
    changed = with_entry(draft, "written_gates", name, **values)
    return replace(changed, gates=whole(changed.written_gates))


def with_condition(draft: Draft, name: str, number: int, **values: Any) -> Draft:
    conditions = list(draft.written_gates[name].all_of)
    conditions[number] = conditions[number].model_copy(update=values)
    return with_gate(draft, name, all_of=tuple(conditions))


def steps_of(draft: Draft, kind: type) -> Iterator[tuple[str, str, Any]]:
    return (
        (tree, name, step)
        for tree, held in draft.trees.items()
        for name, step in held.steps.items()
        if isinstance(step, kind)
    )


def work_of(draft: Draft, kind: type) -> Iterator[tuple[str, int, Any]]:
    return (
        (name, number, step)
        for name, remedy in draft.remedies.items()
        for number, step in enumerate(remedy.steps)
        if isinstance(step, kind)
    )


def gates_of(draft: Draft) -> Iterator[tuple[str, Gate]]:
    return ((name, gate) for name, gate in draft.written_gates.items() if isinstance(gate, Gate))


def without(items: tuple[Any, ...], number: int) -> tuple[Any, ...]:
    return (*items[:number], *items[number + 1 :])


def of(change: Callable[..., Draft], *place: Any, **values: Any) -> Way:
    """Give the way that sets these values."""
    return lambda chance: change(*place, **values)


# Where the walk leads


def exchanged_exits(draft: Draft, kind: type, answers: tuple[str, ...] = ()) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, kind):
        one, other = answers or tuple(each for each in step.exits if each != "unsure")[:2]
        if step.exits[one] != step.exits[other]:
            exits = {**step.exits, one: step.exits[other], other: step.exits[one]}
            yield of(with_step, draft, tree, name, exits=exits)


def exchanged_looks(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Question):
        yield of(with_step, draft, tree, name, if_so=step.if_not, if_not=step.if_so)


def end_of(draft: Draft, tree: str, name: str) -> object:
    """Give what makes a step another one: where it ends, or that it asks."""
    step = draft.trees[tree].steps[name]
    return getattr(step, "remedy", None) or getattr(step, "go_to", None) or name


def led_elsewhere(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Question | Measure):
        for answer, head in step.exits.items():

            def way(chance: random.Random, at=(tree, name, step, answer, head)) -> Draft:
                tree, name, step, answer, head = at
                ends = [
                    each for each in draft.trees[tree].steps if end_of(draft, tree, each) != end_of(draft, tree, head)
                ]
                return with_step(draft, tree, name, exits={**step.exits, answer: chance.choice(ends)})

            yield way


def doubt_taken_for(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Question):
        for answer in ("yes", "no"):
            if end_of(draft, tree, step.exits[answer]) != end_of(draft, tree, step.exits["unsure"]):
                yield of(with_step, draft, tree, name, exits={**step.exits, "unsure": step.exits[answer]})


def exit_dropped(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Question | Measure):
        exits = {answer: head for answer, head in step.exits.items() if answer != "unsure"}
        yield of(with_step, draft, tree, name, exits=exits)


def makes_safe(draft: Draft, step: object) -> bool:
    return isinstance(step, RemedyStep) and (
        draft.remedies[step.remedy].urgent or step.remedy == draft.settings.make_safe
    )


def safety_left(draft: Draft, answers: tuple[str, ...]) -> Iterator[Way]:
    """Lead an answer that comes to what makes safe to where another answer leads."""
    for tree, name, step in steps_of(draft, Question):
        for answer in answers:
            held = draft.trees[tree].steps
            others = [each for each in step.exits.values() if not makes_safe(draft, held[each])]
            if makes_safe(draft, held[step.exits[answer]]) and others:
                yield of(with_step, draft, tree, name, exits={**step.exits, answer: others[0]})


def remedy_exchanged(draft: Draft, *, safe: bool) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, RemedyStep):
        if makes_safe(draft, step) is safe and step.then is None:
            others = [each for each in draft.remedies if each != step.remedy]
            yield lambda chance, at=(tree, name, others): with_step(draft, *at[:2], remedy=chance.choice(at[2]))


def then_elsewhere(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, RemedyStep):
        if step.then:
            others = [each for each in draft.trees[tree].steps if each not in (step.then, name)]
            yield lambda chance, at=(tree, name, others): with_step(draft, *at[:2], then=chance.choice(at[2]))


def tree_gone(draft: Draft) -> Iterator[Way]:
    for tree in draft.trees:
        yield of(replace, draft, trees={name: each for name, each in draft.trees.items() if name != tree})


def proof_elsewhere(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        others = [tree for tree in draft.trees if tree != remedy.after_failed_proof]
        yield lambda chance, at=(name, others): with_remedy(draft, at[0], after_failed_proof=chance.choice(at[1]))


def setting(draft: Draft, key: str, others: Iterator[str]) -> Iterator[Way]:
    for each in others:
        yield of(replace, draft, settings=draft.settings.model_copy(update={key: each}))


def is_indoors(draft: Draft, name: str) -> bool:
    return all(getattr(step, "where", "") == "inside" and not step.acts for step in draft.remedies[name].steps)


def make_safe(draft: Draft, *, indoors: bool) -> Iterator[Way]:
    names = (name for name in draft.remedies if name != draft.settings.make_safe and is_indoors(draft, name) is indoors)
    return setting(draft, "make_safe", names)


# Gates, cautions and hazards


def gate_dropped(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, GateStep):
        yield lambda chance, at=(tree, name, step): _round(draft, *at)


def _round(draft: Draft, tree: str, gate: str, step: GateStep) -> Draft:
    """Lead all that comes to a gate past it."""

    def onward(head: str) -> str:
        return step.exits["yes"] if head == gate else head

    held = draft.trees[tree]
    steps = {
        name: each.model_copy(update={"exits": {answer: onward(head) for answer, head in each.exits.items()}})
        if hasattr(each, "exits")
        else each
        for name, each in held.steps.items()
        if name != gate
    }
    return with_tree(draft, tree, steps=steps, starts_at=onward(held.starts_at))


def gate_put_later(draft: Draft) -> Iterator[Way]:
    """Ask what stands behind a gate first, and then the gate."""
    for tree, name, step in steps_of(draft, GateStep):
        behind = step.exits["yes"]
        asked = draft.trees[tree].steps[behind]
        if isinstance(asked, Question):
            yield lambda chance, at=(tree, name, step, behind, asked): _later(draft, *at)


def _later(draft: Draft, tree: str, name: str, step: GateStep, behind: str, asked: Question) -> Draft:
    past = _round(draft, tree, name, step).trees[tree]
    first = {behind: asked.model_copy(update={"exits": {**asked.exits, "yes": name}})}
    then = {name: step.model_copy(update={"exits": {**step.exits, "yes": asked.exits["yes"]}})}
    return with_tree(draft, tree, steps={**past.steps, **first, **then}, starts_at=past.starts_at)


def led_past_gate(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Looked):
        for answer, head in step.exits.items():
            gate = draft.trees[tree].steps[head]
            if isinstance(gate, GateStep) and draft.trees[tree].steps[gate.exits["yes"]] not in (step, gate):
                yield of(with_step, draft, tree, name, exits={**step.exits, answer: gate.exits["yes"]})


def handed_to_itself(draft: Draft) -> Iterator[Way]:
    return (of(with_step, draft, tree, name, go_to=tree) for tree, name, _ in steps_of(draft, GoTo))


def other_gate(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, GateStep):
        others = [each for each in draft.gates if each != step.gate]
        yield lambda chance, at=(tree, name, others): with_step(draft, *at[:2], gate=chance.choice(at[2]))


def work_gate(draft: Draft, *, later: bool) -> Iterator[Way]:
    for name, number, step in work_of(draft, WorkGate):
        steps = without(draft.remedies[name].steps, number)
        if number < len(steps):
            kept = (*steps[: number + 1], step, *steps[number + 1 :]) if later else steps
            if not (later and isinstance(steps[number], WorkGate)):
                yield of(with_remedy, draft, name, steps=kept)


def listed(draft: Draft, table: str, key: str, change: Callable[..., Draft]) -> Iterator[Way]:
    """Take one out of a list of an entry."""
    for name, entry in getattr(draft, table).items():
        items = getattr(entry, key, ())
        for number in range(len(items)) if len(items) > 1 else ():
            yield of(change, draft, name, **{key: without(items, number)})


def entries(table: str) -> Callable[..., Draft]:
    return lambda draft, name, **values: with_entry(draft, table, name, **values)


def caution_later(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        for number in range(len(remedy.cautions) - 1):
            one, other = remedy.cautions[number : number + 2]
            yield of(
                with_remedy,
                draft,
                name,
                cautions=(*remedy.cautions[:number], other, one, *remedy.cautions[number + 2 :]),
            )


def conditions(draft: Draft) -> Iterator[tuple[str, int, Any]]:
    return ((name, number, each) for name, gate in gates_of(draft) for number, each in enumerate(gate.all_of))


def gate_opens_more(draft: Draft) -> Iterator[Way]:
    every = dict.fromkeys(each for _, gate in gates_of(draft) for each in gate.opens)
    for name, gate in gates_of(draft):
        more = [each for each in every if each not in gate.opens]
        yield lambda chance, at=(name, gate, more): with_gate(draft, at[0], opens=(*at[1].opens, chance.choice(at[2])))


def gate_for_more_roofs(draft: Draft) -> Iterator[Way]:
    for name, gate in gates_of(draft):
        for roof in draft.vocabulary.roof:
            if gate.roofs and roof not in gate.roofs:
                yield of(with_gate, draft, name, roofs=(*gate.roofs, roof))


def joins_another(draft: Draft) -> Iterator[Way]:
    for name, gate in draft.written_gates.items():
        for each in gate.joins if isinstance(gate, JoinedGate) else ():
            others = [other for other, _ in gates_of(draft) if other not in gate.joins]
            yield lambda chance, at=(name, gate.joins, each, others): with_gate(
                draft, at[0], joins=tuple(chance.choice(at[3]) if one == at[2] else one for one in at[1])
            )


# Words and numbers


def spelt(text: str | None, pattern: re.Pattern[str], other: Callable[[str], str]) -> Iterator[str]:
    """Give the text with one of the words that match exchanged."""
    for found in pattern.finditer(text or ""):
        yield " ".join(f"{text[: found.start()]}{other(found[0])}{text[found.end() :]}".split())


def dropped(word: str) -> str:
    return ""


def doubled(number: str) -> str:
    return f"{float(number) * 2:g}" if float(number) else "3"


def opposite(word: str) -> str:
    return TURNED[word.lower()]


Spell = tuple[re.Pattern[str], Callable[[str], str]]
UNSAID: Spell = NEGATION, dropped
NUMBERED: Spell = NUMBER, doubled
OPPOSED: Spell = re.compile(rf"\b({'|'.join(TURNED)})\b"), opposite


def in_steps(draft: Draft, spell: Spell) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Looked):
        for key in STEP_WORDS:
            for text in spelt(getattr(step, key, None), *spell):
                yield of(with_step, draft, tree, name, **{key: text})


def in_work(draft: Draft, spell: Spell) -> Iterator[Way]:
    for name, number, step in work_of(draft, Action):
        for key in WORK_WORDS:
            for text in spelt(getattr(step, key), *spell):
                yield of(with_work, draft, name, number, **{key: text})


def in_table(draft: Draft, table: str, keys: tuple[str, ...], spell: Spell) -> Iterator[Way]:
    for name, entry in getattr(draft, table).items():
        for key in keys:
            for text in spelt(getattr(entry, key), *spell):
                yield of(with_entry, draft, table, name, **{key: text})


def in_conditions(draft: Draft, spell: Spell) -> Iterator[Way]:
    for name, number, each in conditions(draft):
        for key in ("holds", "tell"):
            for text in spelt(getattr(each, key), *spell):
                yield of(with_condition, draft, name, number, **{key: text})


def stop_when_emptied(draft: Draft) -> Iterator[Way]:
    for name in draft.cautions:
        yield of(with_entry, draft, "cautions", name, stop_when="You have done.")


def taken_off_otherwise(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        for number, each in enumerate(remedy.materials):
            for key in ("past_mm", "longest_mm", "waste_percent", "sold_m") if each.take_off else ():
                if value := getattr(each.take_off, key):
                    told = each.model_copy(update={"take_off": each.take_off.model_copy(update={key: value * 2})})
                    materials = (*remedy.materials[:number], told, *remedy.materials[number + 1 :])
                    yield of(with_remedy, draft, name, materials=materials)


def data_numbers(draft: Draft) -> Iterator[Way]:
    for table, rows in draft.data.items():
        for row, record in rows.items():
            for key in type(record).model_fields:
                if isinstance(value := getattr(record, key), float | int) and not isinstance(value, bool):
                    held = {**rows, row: record.model_copy(update={key: value * 2 + 1})}
                    yield of(replace, draft, data={**draft.data, table: held})


def given_dropped(draft: Draft) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Measure):
        for key in step.given:
            left = {each: value for each, value in step.given.items() if each != key}
            yield of(with_step, draft, tree, name, given=left)


def other_formula(draft: Draft) -> Iterator[Way]:
    every = sorted({step.measure for _, _, step in steps_of(draft, Measure)})
    for tree, name, step in steps_of(draft, Measure):
        others = [each for each in every if each != step.measure]
        yield lambda chance, at=(tree, name, others): with_step(draft, *at[:2], measure=chance.choice(at[2]))


# What a step or a remedy asks for


def places(draft: Draft, *, milder: bool, work: bool) -> Iterator[Way]:
    from build_tools.model import Where

    order = list(Where)
    found = work_of(draft, Action) if work else steps_of(draft, Looked)
    change = with_work if work else with_step
    for home, name, step in found:
        here = order.index(step.where)
        for where in order[:here] if milder else order[here + 1 :]:
            yield of(change, draft, home, name, where=where)


def milder_effort(draft: Draft) -> Iterator[Way]:
    from build_tools.model import Effort

    for tree, name, step in steps_of(draft, Looked):
        for effort in list(Effort)[: list(Effort).index(step.effort)]:
            yield of(with_step, draft, tree, name, effort=effort)


def one_less(draft: Draft, key: str, *, work: bool) -> Iterator[Way]:
    found = work_of(draft, Action) if work else steps_of(draft, Looked)
    change = with_work if work else with_step
    for home, name, step in found:
        for number in range(len(getattr(step, key))):
            yield of(change, draft, home, name, **{key: without(getattr(step, key), number)})


def work_step_dropped(draft: Draft) -> Iterator[Way]:
    for name, number, _ in work_of(draft, Action):
        if len(draft.remedies[name].steps) > 1:
            yield of(with_remedy, draft, name, steps=without(draft.remedies[name].steps, number))


def work_steps_swapped(draft: Draft) -> Iterator[Way]:
    for name, number, step in work_of(draft, Action):
        steps = draft.remedies[name].steps
        if number + 1 < len(steps) and isinstance(steps[number + 1], Action):
            swapped = (*steps[:number], steps[number + 1], step, *steps[number + 2 :])
            yield of(with_remedy, draft, name, steps=swapped)


def milder_remedy(draft: Draft, key: str) -> Iterator[Way]:
    order = MILDEST_FIRST[key]
    for name, remedy in draft.remedies.items():
        for value in order[: order.index(str(getattr(remedy, key)))]:
            yield of(with_remedy, draft, name, **{key: False if value == "False" else value})


def longer_stopgap(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        if remedy.stands_months and remedy.stands_months < 24:
            yield of(with_remedy, draft, name, stands_months=24)


def rarer_cleaning(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        if remedy.cleaning:
            rarer = remedy.cleaning.model_copy(update={"every_months": remedy.cleaning.every_months * 2})
            yield of(with_remedy, draft, name, cleaning=rarer)


def anybody(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        for who in ("Anybody does all of it.", f"{remedy.who} Or a handy person."):
            yield of(with_remedy, draft, name, who=who)


def suits_any(draft: Draft) -> Iterator[Way]:
    for name, remedy in draft.remedies.items():
        for key in ("covering", "light"):
            if getattr(remedy.suits, key) != ("any",):
                yield of(with_remedy, draft, name, suits=remedy.suits.model_copy(update={key: ("any",)}))


def assumes_less(draft: Draft) -> Iterator[Way]:
    for tree, held in draft.trees.items():
        if held.assumes:
            yield of(with_tree, draft, tree, assumes={})


def establishes_other(draft: Draft, *, other: bool) -> Iterator[Way]:
    for tree, name, step in steps_of(draft, Question):
        for answer, facts in step.establishes.items():
            for key, held in facts.items():
                others = [each for each in getattr(draft.vocabulary, key) if each not in held]
                told = {**facts, key: (others[0],)} if other else {k: v for k, v in facts.items() if k != key}
                yield of(with_step, draft, tree, name, establishes={**step.establishes, answer: told})


def lies_elsewhere(draft: Draft) -> Iterator[Way]:
    told = draft.vocabulary
    for name, roofs in told.lies_on.items():
        more = [each for each in told.roof if each not in roofs]
        for roof in more:
            lies_on = {**told.lies_on, name: (*roofs, roof)}
            yield of(replace, draft, vocabulary=told.model_copy(update={"lies_on": lies_on}))


def milder_signal(draft: Draft, table: str, key: str) -> Iterator[Way]:
    from build_tools.proof.rules.safety import MILDEST_FIRST as SIGNALS

    for name, entry in getattr(draft, table).items():
        for signal in SIGNALS[: SIGNALS.index(getattr(entry, key))]:
            yield of(with_entry, draft, table, name, **{key: signal})


def gate_open_long(draft: Draft) -> Iterator[Way]:
    for name, gate in gates_of(draft):
        if gate.minutes and gate.minutes < 480:
            yield of(with_gate, draft, name, minutes=480)


def condition_dropped(draft: Draft) -> Iterator[Way]:
    for name, number, _ in conditions(draft):
        if len(draft.written_gates[name].all_of) > 1:
            yield of(with_gate, draft, name, all_of=without(draft.written_gates[name].all_of, number))


LEFT = "which makes safe"
GUARDS_NOT = "it no longer guards here"
GUARDS_LESS = "it guards less than it did"
LATER = "it comes later than it did"
LED = "now leads where"
LOST = "the words lost"
NUMBERS = "numbers:"
OPPOSITE = "the words have"
LESS_CARE = "it asks for less care"
GRAVE = "grave"
KINDS = (
    Kind("yes and no led where the other led", lambda d: exchanged_exits(d, Question, ("yes", "no")), GRAVE, LED),
    Kind("two verdicts led where the other led", lambda d: exchanged_exits(d, Measure), GRAVE, LED),
    Kind("if-so and if-not exchanged", exchanged_looks, GRAVE, "changed places"),
    Kind("an exit led elsewhere", led_elsewhere, "major"),
    Kind("cannot tell taken for yes or no", doubt_taken_for, "major"),
    Kind("cannot tell left out", exit_dropped, "check", "references missing-exit"),
    Kind("cannot tell led away from what makes safe", lambda d: safety_left(d, ("unsure",)), GRAVE, LEFT),
    Kind("an answer led away from what makes safe", lambda d: safety_left(d, ("yes", "no")), GRAVE, LEFT),
    Kind("another remedy for one that makes safe", lambda d: remedy_exchanged(d, safe=True), GRAVE, LEFT),
    Kind("another remedy at an end", lambda d: remedy_exchanged(d, safe=False), "major"),
    Kind("then led elsewhere", then_elsewhere, GRAVE, "the walk goes on elsewhere"),
    Kind("a tree taken out", tree_gone, "major"),
    Kind("a tree handed over to itself", handed_to_itself, "check", "flow circle"),
    Kind("a failed proof led elsewhere", proof_elsewhere, GRAVE, "a failed proof leads elsewhere"),
    Kind(
        "another first tree",
        lambda d: setting(d, "first_tree", (name for name in d.trees if name != d.settings.first_tree)),
        GRAVE,
        "begins elsewhere",
    ),
    Kind(
        "another remedy indoors under make-safe", lambda d: make_safe(d, indoors=True), GRAVE, "offers something else"
    ),
    Kind("work outside under make-safe", lambda d: make_safe(d, indoors=False), "check", "safety make-safe-outside"),
    Kind("a gate of the walk taken out", gate_dropped, GRAVE, "a gate of the walk is gone"),
    Kind("a gate of the walk put later", gate_put_later, GRAVE, LATER),
    Kind("an answer led past a gate", led_past_gate, "check", "safety ungated"),
    Kind("another gate in the walk", other_gate, GRAVE, "another gate stands here"),
    Kind("a gate of the work taken out", lambda d: work_gate(d, later=False), GRAVE, "a gate of the work is gone"),
    Kind("a gate of the work put later", lambda d: work_gate(d, later=True), GRAVE, "in another order"),
    Kind("a gate opens more", gate_opens_more, GRAVE, GUARDS_LESS),
    Kind("a gate is for more roofs", gate_for_more_roofs, GRAVE, GUARDS_LESS),
    Kind("a joined gate joins fewer", lambda d: listed(d, "written_gates", "joins", with_gate), GRAVE, GUARDS_NOT),
    Kind("a joined gate joins another", joins_another, GRAVE, GUARDS_NOT),
    Kind("a condition taken out", condition_dropped, GRAVE, GUARDS_NOT),
    Kind("an end of a gate taken out", lambda d: listed(d, "written_gates", "ends_when", with_gate), GRAVE, GUARDS_NOT),
    Kind(
        "a caution of a gate taken out", lambda d: listed(d, "written_gates", "cautions", with_gate), GRAVE, GUARDS_NOT
    ),
    Kind("a gate open for 8 hours", gate_open_long, GRAVE, GUARDS_LESS),
    Kind(
        "a caution of a remedy taken out", lambda d: listed(d, "remedies", "cautions", with_remedy), GRAVE, GUARDS_NOT
    ),
    Kind("a caution later in its list", caution_later, GRAVE, LATER),
    Kind("a caution answers less", lambda d: listed(d, "cautions", "answers", entries("cautions")), GRAVE, GUARDS_NOT),
    Kind("a milder signal of a caution", lambda d: milder_signal(d, "cautions", "signal"), GRAVE, GUARDS_LESS),
    Kind("a milder signal of a hazard", lambda d: milder_signal(d, "hazards", "least_signal"), GRAVE, GUARDS_LESS),
    Kind(
        "a place brings a hazard no longer",
        lambda d: listed(d, "hazards", "where", entries("hazards")),
        GRAVE,
        GUARDS_NOT,
    ),
    Kind("stop-when emptied", stop_when_emptied, GRAVE, "words"),
    Kind(
        "a hazard of a question taken out",
        lambda d: one_less(d, "hazards", work=False),
        GRAVE,
        "hazards no longer names",
    ),
    Kind(
        "a hazard of the work taken out", lambda d: one_less(d, "hazards", work=True), GRAVE, "hazards no longer names"
    ),
    Kind("an act of the work taken out", lambda d: one_less(d, "acts", work=True), GRAVE, "acts no longer names"),
    Kind("a question called safer than it is", lambda d: places(d, milder=True, work=False), GRAVE, "is called safer"),
    Kind("work called safer than it is", lambda d: places(d, milder=True, work=True), GRAVE, "is called safer"),
    Kind("a question taken up higher", lambda d: places(d, milder=False, work=False), GRAVE, "a more dangerous place"),
    Kind("work taken up higher", lambda d: places(d, milder=False, work=True), GRAVE, "a more dangerous place"),
    Kind("a milder effort", milder_effort, GRAVE, LESS_CARE),
    Kind("a step of the work taken out", work_step_dropped, GRAVE, "a step of the work is gone"),
    Kind("two steps of the work exchanged", work_steps_swapped, GRAVE, "in another order"),
    Kind("a stopgap called lasting", lambda d: milder_remedy(d, "lasts"), GRAVE, LESS_CARE),
    Kind("a stopgap for 24 months", longer_stopgap, GRAVE, "it may wait longer"),
    Kind(
        "a lasting remedy after a stopgap taken out",
        lambda d: listed(d, "remedies", "followed_by", with_remedy),
        GRAVE,
        "followed-by no longer names",
    ),
    Kind("cleaned half as often", rarer_cleaning, GRAVE, "it may wait longer"),
    Kind("glass that comes out called untouched", lambda d: milder_remedy(d, "glass"), GRAVE, LESS_CARE),
    Kind("urgent taken out", lambda d: milder_remedy(d, "urgent"), GRAVE, "no longer urgent"),
    Kind("anybody may do it", anybody, GRAVE, "other people may do it"),
    Kind("a tool taken out", lambda d: listed(d, "remedies", "tools", with_remedy), GRAVE, "tools no longer names"),
    Kind("a remedy fits any roof or light", suits_any, GRAVE, "it is said to fit"),
    Kind("what a tree assumes taken out", assumes_less, GRAVE, "taken for certain"),
    Kind("what an answer makes certain taken out", lambda d: establishes_other(d, other=False), GRAVE, "else certain"),
    Kind("an answer makes something else certain", lambda d: establishes_other(d, other=True), GRAVE, "else certain"),
    Kind("a covering lies on more roofs", lies_elsewhere, GRAVE, "other gates fit"),
    Kind("a never, not or only taken out of a question", lambda d: in_steps(d, UNSAID), GRAVE, LOST),
    Kind("a never, not or only taken out of the work", lambda d: in_work(d, UNSAID), GRAVE, LOST),
    Kind("one taken out of the rest of a remedy", lambda d: in_table(d, "remedies", REMEDY_WORDS, UNSAID), GRAVE, LOST),
    Kind("one taken out of a caution", lambda d: in_table(d, "cautions", CAUTION_WORDS, UNSAID), GRAVE, LOST),
    Kind("one taken out of a gate", lambda d: in_conditions(d, UNSAID), GRAVE, LOST),
    Kind("one taken out of a term", lambda d: in_table(d, "terms", ("means",), UNSAID), GRAVE, LOST),
    Kind("a word of the work for its opposite", lambda d: in_work(d, OPPOSED), GRAVE, OPPOSITE),
    Kind("another number in a question", lambda d: in_steps(d, NUMBERED), GRAVE, NUMBERS),
    Kind("another number in the work", lambda d: in_work(d, NUMBERED), GRAVE, NUMBERS),
    Kind("another number in a caution", lambda d: in_table(d, "cautions", CAUTION_WORDS, NUMBERED), GRAVE, NUMBERS),
    Kind("another number in a gate", lambda d: in_conditions(d, NUMBERED), GRAVE, NUMBERS),
    Kind("another number in a list to buy", taken_off_otherwise, GRAVE, NUMBERS),
    Kind("another number in a table of formulas", data_numbers, GRAVE, "a value that formulas reckon with"),
    Kind("what a formula is given taken out", given_dropped, GRAVE, "something else is measured"),
    Kind("another formula", other_formula, GRAVE, "something else is measured"),
)
"""Each kind of edit that can hurt somebody, and what tells it."""
