"""Runs of checks weighed: what a run takes as it stands, in its cheapest order, and with a question put first.

An order is looked for within good sense only: below before above, and nothing cheap after lifting. The rule
of runs and the report for authors both take what they say from here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from build_tools.model import UP, AnyOrder, AskFirst, Effort, Looked, Tree
from build_tools.proof.asking import after_a_miss, asked_first_minutes, given_answer, worth_asking_minutes
from build_tools.proof.order import Causes, Check, average_minutes, best_order

WORTH_TELLING = 0.10
"""The saving, as a share of the cheaper way, from which it is told."""
NEARLY = 1e-9
EFFORTS = tuple(Effort)
Stage = tuple[bool, int]
"""Whether a check takes a climb, and what it disturbs: the lower, the sooner."""


class Sense(StrEnum):
    """What keeps a check from coming sooner, whatever it would save."""

    BELOW_FIRST = "below-first"
    LIFT_LAST = "lift-last"


@dataclass(frozen=True, slots=True)
class Way:
    """Checks in an order, and the minutes that they take on average."""

    checks: tuple[Check, ...]
    minutes: float


@dataclass(frozen=True, slots=True)
class Asked:
    """A question put first: the minutes on average with it, and the most it may take before it stops paying."""

    minutes: float
    most: float


@dataclass(frozen=True, slots=True)
class Weighed:
    """A run as it stands beside the cheapest order that good sense allows."""

    now: Way
    best: Way
    kept_by: tuple[Sense, ...]
    """What good sense keeps from an order that would be cheaper still."""
    asked: Asked | None
    unfound: tuple[Check, ...]
    """Once all have found nothing: the same checks with their chances then, the one to look at again first.

    Empty where none can miss.
    """

    @property
    def is_cheapest(self) -> bool:
        """Tell whether no order that good sense allows takes less."""
        return self.now.minutes <= self.best.minutes + NEARLY

    @property
    def is_told(self) -> bool:
        """Tell whether the cheapest order saves so much that the author should hear of it."""
        return worth_telling(self.now.minutes, self.best.minutes)

    @property
    def dearer(self) -> float:
        """Give how much more the run takes than it could, as a share of its cheapest order."""
        return self.now.minutes / self.best.minutes - 1


def worth_telling(now: float, other: float) -> bool:
    """Tell whether another way is so much cheaper that the author should hear of it."""
    return now - other >= WORTH_TELLING * other - NEARLY


def weigh(tree: Tree, run: AnyOrder) -> Weighed | None:
    """Weigh a run in which the rule of runs found no fault; None where a step of it says no minutes."""
    checks = _checks(tree, run)
    if len(checks) < len(run.steps):
        return None
    best = _cheapest(tree, run, checks)
    asked = _asked(tree, run, run.ask_first, checks, best.minutes) if run.ask_first else None
    return Weighed(_way(run, checks), best, _kept_by(tree, run, best), asked, _unfound(checks))


def _checks(tree: Tree, run: AnyOrder) -> tuple[Check, ...]:
    """Give the steps that say their minutes, as checks; without chances all are equally likely."""
    return tuple(
        Check(name, run.chance.get(name, 1 / len(run.steps)), step.minutes, step.where, run.missed.get(name, 0.0))
        for name in run.steps
        if isinstance(step := tree.steps[name], Looked) and step.minutes is not None
    )


def _access(run: AnyOrder) -> dict[str, float]:
    return {str(place): float(took) for place, took in run.access.items()}


def _way(run: AnyOrder, checks: Sequence[Check]) -> Way:
    return Way(tuple(checks), average_minutes(checks, Causes(run.causes), _access(run)))


def _stage(tree: Tree, check: Check) -> Stage:
    step = tree.steps[check.id]
    assert isinstance(step, Looked)  # _checks() took no other
    return step.where in UP, max(EFFORTS.index(step.effort), EFFORTS.index(Effort.WET))


def _cheapest(tree: Tree, run: AnyOrder, checks: Sequence[Check]) -> Way:
    """Give the best order within each stage, stage after stage; a place got ready stays so."""
    order: tuple[Check, ...] = ()
    for stage in sorted({_stage(tree, each) for each in checks}):
        ready = {each.place for each in order}
        access = {place: took for place, took in _access(run).items() if place not in ready}
        order += best_order((each for each in checks if _stage(tree, each) == stage), Causes(run.causes), access)
    return _way(run, order)


def _kept_by(tree: Tree, run: AnyOrder, best: Way) -> tuple[Sense, ...]:
    """Say what stands against the cheapest of all orders, where that is none that good sense allows."""
    free = _way(run, best_order(best.checks, Causes(run.causes), _access(run)))
    if free.minutes >= best.minutes - NEARLY:
        return ()
    stages = [_stage(tree, each) for each in free.checks]
    turned = [(first, later) for number, first in enumerate(stages) for later in stages[number:] if first > later]
    up = [Sense.BELOW_FIRST for first, later in turned if first[0] > later[0]]
    return tuple(dict.fromkeys((*up, *(Sense.LIFT_LAST for first, later in turned if first[1] > later[1]))))


def _asked(tree: Tree, run: AnyOrder, question: AskFirst, checks: Sequence[Check], now: float) -> Asked:
    possible = {each.id for each in checks if each.chance > 0}
    answers = (given_answer(checks, left) for left in question.leaves.values() if possible.intersection(left))
    results = [(chance, _cheapest(tree, run, kept).minutes) for chance, kept in answers]
    return Asked(asked_first_minutes(question.minutes, results), worth_asking_minutes(now, results))


def _unfound(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    if not any(each.chance * each.missed > 0 for each in checks):
        return ()
    left = checks
    for each in checks:
        left = after_a_miss(left, each.id)
    return best_order(left)
