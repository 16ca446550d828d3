"""What things are called by a reader, for ids that stand in a review or in what `check` says of a walk."""

from __future__ import annotations

from build_tools.model import GateStep, GoTo, Measure, Question, RemedyStep, StepBase
from build_tools.sources.library import Draft
from build_tools.sources.term_links import plain_words


def name_words(text: str) -> str:
    """Write a title in one line, its links as the words that a reader sees."""
    return " ".join(plain_words(text).split())


def step_name(draft: Draft, step: StepBase) -> str:
    """Give the question of a step, or the title of its gate, remedy or tree; the id where there is none."""
    if isinstance(step, Question | Measure):
        return name_words(step.question)
    if isinstance(step, GateStep):
        return gate_name(draft, step.gate)
    if isinstance(step, RemedyStep):
        return remedy_name(draft, step.remedy)
    assert isinstance(step, GoTo)
    return tree_name(draft, step.go_to)


def remedy_name(draft: Draft, name: str) -> str:
    """Give the title of a remedy, or its id."""
    return name_words(draft.remedies[name].title) if name in draft.remedies else name


def tree_name(draft: Draft, target: str) -> str:
    """Give the title of the tree that `tree` or `tree/step` names, or the id."""
    name = target.partition("/")[0]
    return name_words(draft.trees[name].title) if name in draft.trees else target


def gate_name(draft: Draft, name: str) -> str:
    """Give the title of a gate, or its id."""
    return name_words(draft.gates[name].title) if name in draft.gates else name


def caution_name(draft: Draft, name: str) -> str:
    """Give the signal word and the hazard of a caution, or its id."""
    caution = draft.cautions.get(name)
    return f"{caution.signal.upper()} {name_words(caution.hazard)}" if caution else name


def hazard_name(draft: Draft, name: str) -> str:
    """Give the title of a hazard, or its id."""
    return name_words(draft.hazards[name].title) if name in draft.hazards else name
