"""A step, gate or caution in the words that a reader gets it in, from a draft that nobody has proved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from build_tools.guide.words import ACT_WORDS, ANSWER_WORDS, DONE_WORDS, EFFORT_WORDS, ENDS_WORDS, PLACE_WORDS
from build_tools.model import (
    Action,
    Answered,
    Caution,
    Gate,
    GateStep,
    Looked,
    Measure,
    Question,
    RemedyStep,
    StepBase,
    WorkGate,
)
from build_tools.proof.graph import exits_of
from build_tools.proof.titles import caution_name, hazard_name, step_name
from build_tools.review.differences.fields import shown
from build_tools.review.record.told import Said
from build_tools.review.versions.matching import plain
from build_tools.review.versions.places import Dangers
from build_tools.sources.library import Draft
from build_tools.sources.term_links import plain_words


def said(*pairs: tuple[str, str | None]) -> tuple[Said, ...]:
    """Give lines with the word that begins each; those without words are left out."""
    return tuple(Said(word=word, words=plain(plain_words(words))) for word, words in pairs if words)


def step_said(draft: Draft, dangers: Dangers, tree_id: str, step: StepBase) -> tuple[Said, ...]:
    """Say all that a step of a tree asks, shows and warns of, and where each answer leads."""
    lines = list(_looked(draft, dangers, step)) if isinstance(step, Looked) else []
    if isinstance(step, GateStep):
        lines += gate_said(draft, step.gate)
    if isinstance(step, RemedyStep):
        lines += said(("note", step.note))
    return (*lines, *_exits(draft, tree_id, step))


def _looked(draft: Draft, dangers: Dangers, step: Looked) -> Iterator[Said]:
    yield from warnings_said(draft, dangers, step)
    yield from said(("look", step.look), ("drawing", step.drawing), ("take along", "; ".join(step.carry)))
    yield from said(("it disturbs", EFFORT_WORDS[step.effort]), ("acts", acts_words(step)))
    if isinstance(step, Measure):
        given = shown("", step.given)
        yield from said(("measured with", f"{step.measure}{f', given {given}' if given else ''}"))
    yield from said(("if nobody can tell", step.find_out), ("why", step.why))


def warnings_said(draft: Draft, dangers: Dangers, step: Looked | Action) -> tuple[Said, ...]:
    """Name the cautions that answer the hazards of a step, and the hazards that it states itself."""
    cautions = [name for name in draft.cautions if name in dangers.of(step)[1]]
    return said(
        ("warned of", "; ".join(caution_name(draft, each) for each in cautions)),
        ("hazards of its own", "; ".join(hazard_name(draft, each) for each in step.hazards)),
    )


def acts_words(step: Looked | Action) -> str:
    """Name the dangerous acts of a step."""
    return "; ".join(ACT_WORDS[each] for each in step.acts)


def _exits(draft: Draft, tree_id: str, step: StepBase) -> Iterator[Said]:
    """Say of each answer what it looks like, what it settles and where it leads, in one line."""
    steps = draft.trees[tree_id].steps
    formula = draft.formulas.get(step.measure) if isinstance(step, Measure) else None
    words = {**(formula.verdicts if formula else {}), **ANSWER_WORDS, **DONE_WORDS}
    looks = {"yes": step.if_so, "no": step.if_not} if isinstance(step, Question) else {}
    settled = step.establishes if isinstance(step, Question) else {}
    for answer, target in exits_of(step).items():
        there = f"“{step_name(draft, steps[target])}”" if target in steps else f"no step “{target}”"
        settles = f" It settles {shown('', settled[answer])}." if answer in settled else ""
        since = f" ({step.since[answer]})" if isinstance(step, Answered) and answer in step.since else ""
        yield from said((words.get(answer, answer), f"{looks.get(answer, '')}{settles} → {there}{since}"))


def gate_said(draft: Draft, name: str) -> tuple[Said, ...]:
    """Say what a gate opens, asks and warns of; that it is not there, where it is not."""
    gate = draft.gates.get(name)
    if gate is None:
        return said(("gate", f"there is no gate “{name}”"))
    return (
        *said(("opens", openings_words(gate)), ("roofs", _roofs(draft, gate.roofs))),
        *said(("warned of", "; ".join(caution_name(draft, each) for each in gate.cautions))),
        *(each for condition in gate.all_of for each in said(("must hold", _condition(draft, condition)))),
        *said(("if not", gate.if_not), ("closes when", "; ".join(ENDS_WORDS[each] for each in gate.ends_when))),
        *said(("closes after", f"{gate.minutes} minutes" if gate.minutes else None)),
    )


def openings_words(gate: Gate) -> str:
    """Name the places and acts that a gate opens."""
    words = {**{str(place): said for place, said in PLACE_WORDS.items()}, **{str(a): w for a, w in ACT_WORDS.items()}}
    return "; ".join(words[str(each)] for each in gate.opens)


def _condition(draft: Draft, condition: object) -> str:
    roofs = _roofs(draft, getattr(condition, "on", ()))
    where = f"on {roofs}: " if roofs else ""
    return f"{where}{getattr(condition, 'holds', '')} {getattr(condition, 'tell', None) or ''}"


def _roofs(draft: Draft, names: Iterable[str]) -> str:
    return "; ".join(plain(draft.vocabulary.roof.get(each, each)) for each in names)


def caution_said(draft: Draft, caution: Caution) -> tuple[Said, ...]:
    """Say a caution in full."""
    return said(
        ("signal", caution.signal.upper()),
        ("answers", "; ".join(hazard_name(draft, each) for each in caution.answers)),
        ("what happens", caution.consequence),
        ("how to avoid it", caution.avoidance),
        ("stop when", caution.stop_when),
        ("call", caution.call),
    )


def work_said(draft: Draft, dangers: Dangers, work: Action | WorkGate) -> tuple[Said, ...]:
    """Say one step of a remedy's work, but for the words that name it."""
    if isinstance(work, WorkGate):
        return gate_said(draft, work.gate)
    return (
        *warnings_said(draft, dangers, work),
        *said(("acts", acts_words(work)), ("with one hand", work.one_hand), ("done right", work.right)),
        *said(("drawing", work.drawing)),
    )
