"""The answers of a step as they are shown: where each leads, and why two lead one way."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.definition import VERDICT_LINES
from build_tools.guide.views import ExitView
from build_tools.guide.words import ALIKE_WORDS, ANSWER_WORDS, DONE_WORDS
from build_tools.model import Measure, Question, StepBase
from build_tools.proof.graph import DONE, exits_of
from build_tools.sources.library import Draft


def exit_views(draft: Draft, step: StepBase, number: Mapping[str, int]) -> tuple[ExitView, ...]:
    """Give each answer and where it leads. number: the printed numbers of steps by id."""
    verdicts = draft.formulas[step.measure].verdicts if isinstance(step, Measure) else {}
    lines = {**dict(zip(verdicts, VERDICT_LINES, strict=False)), DONE: "yes"}
    exits = exits_of(step)
    return tuple(
        ExitView(name, words, exits[name], number[exits[name]], lines.get(name, name))
        for name, words in {**verdicts, **ANSWER_WORDS, **DONE_WORDS}.items()
        if name in exits
    )


def alike_words(step: StepBase) -> tuple[str, ...]:
    """Say why answers lead one way; at a gate the reason is always the same, and stands there in words of its own."""
    if isinstance(step, Measure):
        return tuple(f"{ALIKE_WORDS}: {reason}" for reason in step.since.values())
    if not isinstance(step, Question):
        return ()
    first = {target: answer for answer, target in reversed(list(step.exits.items()))}
    return tuple(
        f"{ANSWER_WORDS[answer]} counts as {ANSWER_WORDS[first[step.exits[answer]]].lower()}. {reason}"
        for answer, reason in step.since.items()
    )
