"""A course through the walk as text and JSON for the shell; how a walk runs is `walk`'s affair."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from build_tools.model import Question
from build_tools.views import GuideView, StepView
from build_tools.walk import Stop
from build_tools.words import PLACE_WORDS, SIGNAL_WORDS

WIDTH = 88


def _wrapped(text: str, indent: str = "   ") -> str:
    return textwrap.fill(" ".join(text.split()), WIDTH, initial_indent=indent, subsequent_indent=indent)


def step_text(view: StepView) -> str:
    """Show one step as a person in the shell reads it: cautions first."""
    lines = [
        _wrapped(f"{SIGNAL_WORDS[each.caution.signal]}. {each.caution.hazard}. {each.caution.avoidance}")
        for each in view.cautions
    ]
    place = f" [{PLACE_WORDS[view.where]}]" if view.where else ""
    lines.append(f"{view.number}. {view.title}{place}")
    if isinstance(view.step, Question):
        lines += [_wrapped(view.step.look), _wrapped(f"Yes: {view.step.if_so}"), _wrapped(f"No: {view.step.if_not}")]
    if view.gate:
        lines += [_wrapped(f"[ ] {each.holds}") for each in view.gate.gate.all_of]
    if view.remedy:
        lines.append(_wrapped(view.remedy.remedy.cures))
    return "\n".join(lines)


def course_text(course: Sequence[Stop]) -> str:
    """Show the way so far, a line a step, and how it stands."""
    rows = [
        f"{each.tree}/{each.step}: {each.title}" + (f"  -> {each.answer}" if each.answer else "") for each in course
    ]
    last = course[-1]
    end = f"Ends in: {last.title}" if last.kind == "remedy" else f"Waits for an answer: {last.title}"
    return "\n".join((*rows, "", end))


def course_json(course: Sequence[Stop]) -> str:
    """Give the same course as JSON: steps in order, and the remedy it ends in or null."""
    steps = [
        {"tree": each.tree, "step": each.step, "kind": each.kind, "title": each.title, "answer": each.answer}
        for each in course
    ]
    ended = course[-1].kind == "remedy"
    return json.dumps({"steps": steps, "ended": ended}, indent=2, ensure_ascii=False)


def exits_text(view: StepView) -> str:
    """Show what can be answered, for a prompt."""
    return " / ".join(f"{each.answer} ({each.words})" for each in view.exits)


def step_of(guide: GuideView, stop: Stop) -> StepView:
    """Find the view of a stop."""
    trees: Mapping[str, Any] = {tree.id: tree for tree in guide.trees}
    view: StepView = trees[stop.tree].step(stop.step)
    return view
