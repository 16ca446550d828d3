"""What things are called by a reader, for the ids that stand in a review."""

from __future__ import annotations

from build_tools.library import Draft
from build_tools.model import GateStep, GoTo, Measure, Question, RemedyStep, StepBase
from build_tools.review.matching import plain


def step_name(draft: Draft, step: StepBase) -> str:
    """Give the question of a step, or the title of its gate, remedy or tree; the id where there is none."""
    if isinstance(step, Question | Measure):
        return plain(step.question)
    if isinstance(step, GateStep):
        return plain(draft.gates[step.gate].title) if step.gate in draft.gates else step.gate
    if isinstance(step, RemedyStep):
        return remedy_name(draft, step.remedy)
    assert isinstance(step, GoTo)
    return tree_name(draft, step.go_to)


def remedy_name(draft: Draft, name: str) -> str:
    """Give the title of a remedy, or its id."""
    return plain(draft.remedies[name].title) if name in draft.remedies else name


def tree_name(draft: Draft, target: str) -> str:
    """Give the title of the tree that `tree` or `tree/step` names, or the id."""
    name = target.partition("/")[0]
    return plain(draft.trees[name].title) if name in draft.trees else target
