"""A course through the walk as text and JSON for the shell; how a walk runs is `walk`'s affair."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence

from build_tools.formulas import Formula, Input
from build_tools.guide.views import CautionView, GateView, GuideView, RemedyView, StepView
from build_tools.guide.words import PLACE_WORDS, READING_RULES, ROOF_NOT_KNOWN, SCOPE, SIGNAL_WORDS, WHICH_ROOF
from build_tools.model import Looked, Measure, Question
from build_tools.proof.walk import Stop
from build_tools.sources.term_links import plain_words

WIDTH = 88


def _wrapped(text: str, indent: str = "   ") -> str:
    return textwrap.fill(" ".join(plain_words(text).split()), WIDTH, initial_indent=indent, subsequent_indent=indent)


def step_text(view: StepView) -> str:
    """Show one step as a person in the shell reads it: cautions first, then where and how to read it, then the step."""
    cautions = (*view.cautions, *(view.gate.cautions if view.gate else ()))
    lines = _cautions(cautions)
    lines += [_wrapped(f"{each.caution.hazard}: keep to what the gate told you.") for each in view.standing]
    place = f" [{PLACE_WORDS[view.where]}]" if view.where else ""
    lines.append(f"{view.number}. {plain_words(view.title)}{place}")
    if view.where and view.where in READING_RULES:
        lines.append(_wrapped(READING_RULES[view.where]))
    if isinstance(view.step, Looked):
        lines += _looked(view.step)
    if view.formula and isinstance(view.step, Measure):
        lines += _measure(view.formula, view.step)
    lines += [_wrapped(each) for each in view.alike]
    if view.gate:
        lines += _gate(view.gate)
    if view.remedy:
        lines += _remedy(view.remedy)
    return "\n".join(lines)


def _cautions(views: Sequence[CautionView]) -> list[str]:
    said = [(SIGNAL_WORDS[each.caution.signal], each.caution) for each in views]
    return [
        _wrapped(f"{signal}. {each.hazard}. {each.consequence} {each.avoidance} Stop when: {each.stop_when}")
        for signal, each in said
    ]


def _looked(step: Looked) -> list[str]:
    lines = [_wrapped(step.look)]
    if isinstance(step, Question):
        lines += [_wrapped(f"Yes: {step.if_so}"), _wrapped(f"No: {step.if_not}")]
    return [*lines, _wrapped(f"If you cannot tell now: {step.find_out}")] if step.find_out else lines


def _measure(formula: Formula, step: Measure) -> list[str]:
    """Say which numbers decide, and what each verdict means."""
    wanted = [spec for spec in formula.inputs if spec.name not in step.given]
    lines = [_wrapped(f"{spec.name}={_how(spec)} {spec.label}. {spec.hint}") for spec in wanted]
    lines.append(_wrapped(f"Type {' '.join(f'{spec.name}=…' for spec in wanted)}, or the verdict if you have it:"))
    return [*lines, *(_wrapped(f"{code}: {sentence}") for code, sentence in formula.verdicts.items())]


def _how(spec: Input) -> str:
    """Say how an input is typed, where it is not a plain number."""
    if spec.columns:
        return f"{','.join(column.name for column in spec.columns)}; …"
    return "|".join(option.value for option in spec.choices) or "…"


def _gate(view: GateView) -> list[str]:
    """Show every condition; yes is for all of them."""
    lines = ["   Yes only if all of these hold:"]
    if view.picks:
        roofs = " / ".join(f"{each.roof}: {each.words}" for each in view.picks)
        lines.insert(0, _wrapped(f"{WHICH_ROOF} {roofs}. {ROOF_NOT_KNOWN}: yes. {' '.join(view.closed)}"))
    for group in view.groups:
        lines += [_wrapped(f"On {group.words}:")] if group.roof else []
        lines += [_wrapped(f"[ ] {each.holds} {each.tell or ''}") for each in group.conditions]
    return [*lines, _wrapped(f"If not: {view.gate.if_not}")]


def _remedy(view: RemedyView) -> list[str]:
    """Show the work in its order, each caution and gate before what it belongs to."""
    lines = [_wrapped(view.remedy.cures)]
    if not view.work:
        # A stand-in for one that has errors has no more to say.
        return lines
    lines.append(_wrapped(f"Who: {view.remedy.who}"))
    for work in view.work:
        if work.gate:
            lines += [*_cautions(work.gate.cautions), _wrapped(f"{work.number}. {work.gate.gate.title}")]
            lines += _gate(work.gate)
        if work.action:
            done = f"{work.number}. {work.action.do} [{PLACE_WORDS[work.action.where]}]"
            one_hand = f"With one hand: {work.action.one_hand}" if work.action.one_hand else ""
            lines += [*_cautions(work.cautions), _wrapped(f"{done} {one_hand} {work.action.right or ''}")]
    lines += [_wrapped(f"The water leaves: {view.remedy.water_leaves}"), _wrapped(f"Prove it: {view.remedy.prove}")]
    return lines


def course_text(course: Sequence[Stop]) -> str:
    """Show the way so far, a line a step, how it stands, and what the guide holds for."""
    rows = [
        f"{each.tree}/{each.step}: {each.title}" + (f"  -> {each.answer}" if each.answer else "") for each in course
    ]
    last = course[-1]
    ends = {"remedy": "Ends in", "go-to": "Can go no further"}
    end = f"{ends.get(last.kind, 'Waits for an answer')}: {last.title}"
    return "\n".join((*rows, "", end, SCOPE))


def can_go_on(course: Sequence[Stop]) -> bool:
    """Tell whether a way has come to no tree that is left out for its errors."""
    return course[-1].kind != "go-to"


def course_json(course: Sequence[Stop]) -> str:
    """Give the same course as JSON: steps in order, whether it ended in a remedy, and what the guide holds for."""
    steps = [
        {"tree": each.tree, "step": each.step, "kind": each.kind, "title": each.title, "answer": each.answer}
        for each in course
    ]
    ended = course[-1].kind == "remedy"
    return json.dumps({"steps": steps, "ended": ended, "scope": SCOPE}, indent=2, ensure_ascii=False)


def exits_text(view: StepView) -> str:
    """Show what can be answered, for a prompt."""
    picks = [each.roof for each in view.gate.picks] if view.gate else []
    return " / ".join((*picks, *(each.answer for each in view.exits)))


def step_of(guide: GuideView, stop: Stop) -> StepView:
    """Find the view of a stop."""
    return next(tree for tree in guide.trees if tree.id == stop.tree).step(stop.step)
