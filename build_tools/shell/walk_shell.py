"""The walk as a talk: a step is shown, an answer or the numbers that decide are taken, until an end.

How words come in and go out is given by the caller, so that only `__main__` speaks.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping

from build_tools.guide.views import GuideView, StepView
from build_tools.model import Measure
from build_tools.proof.walk import Stop, WalkData, follow
from build_tools.shell.calc import CannotReckon, assignments_in, settle
from build_tools.shell.walk_text import exits_text, step_of, step_text

Ask = Callable[[str], str]
"""Shows a prompt and gives what was typed; empty where the walker stops."""
Say = Callable[[str], object]


def walk_along(guide: GuideView, walks: Mapping[str, WalkData], tree: str, ask: Ask, say: Say) -> tuple[Stop, ...]:
    """Walk from a tree's start to a remedy, or to where the walker stops; gives the way that was walked."""
    answers: list[str] = []
    while True:
        course = follow(walks, tree, answers)
        view = step_of(guide, course[-1])
        say(f"\n{step_text(view)}")
        answer = _answer(view, ask, say) if view.exits else ""
        if not answer:
            return course
        answers.append(answer)


def _answer(view: StepView, ask: Ask, say: Say) -> str:
    """Ask until an answer, its beginning, or the numbers that decide are typed; empty where the walk stops."""
    known = [*(each.roof for each in (view.gate.picks if view.gate else ())), *(each.answer for each in view.exits)]
    while said := ask(f"   {exits_text(view)}: ").strip().lower():
        if said in known:
            return said
        if isinstance(view.step, Measure) and "=" in said:
            if verdict := _verdict(view, view.step, assignments_in(said), say):
                return verdict
            continue
        begun = [each for each in known if each.startswith(said)]
        if len(begun) == 1:
            return begun[0]
        say(f"   Type one of: {', '.join(known)}. An empty line stops.")
    return ""


def _verdict(view: StepView, step: Measure, assignments: list[str], say: Say) -> str:
    """Reckon a measure from what was typed, and show the working; empty where something is wrong with it."""
    assert view.formula is not None  # `pages` gives every measure its formula
    try:
        result = settle(view.formula, step.given, assignments)
    except CannotReckon as cannot:
        say(textwrap.indent(str(cannot), "   "))
        return ""
    say(textwrap.indent("\n".join((*result.working, f"So: {result.verdict}.")), "   "))
    return result.verdict or ""
