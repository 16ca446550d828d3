"""Rules of runs that may be asked in any order: they are runs, and no cheaper order is passed over.

Only steps under the same gates are compared: a run leads straight from step to step, with no gate between.
Nothing is ever reordered; the author is told, and decides.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from build_tools.asking import asked_first_minutes, given_answer, worth_asking_minutes
from build_tools.graph import exits_of
from build_tools.library import Draft, tree_path
from build_tools.model import AnyOrder, Effort, Looked, Tree, Where
from build_tools.order import Causes, Check, average_minutes, best_order
from build_tools.problems import Finding, KeyPath, did_you_mean
from build_tools.rules.references import ADD_STEP

WORTH_TELLING = 0.10
"""The saving, as a share of the cheaper way, from which it is told."""
NEARLY = 1e-9
EFFORTS = tuple(Effort)


def runs(draft: Draft) -> Iterator[Finding]:
    """Find runs that are none, and those that another order would make cheaper."""
    for tree_id, tree in draft.trees.items():
        for number, run in enumerate(tree.any_order):
            path, keys = tree_path(tree_id), ("any-order", number)
            faults = [Finding(code, path, (*keys, *at), what, mend) for code, at, what, mend in _faults(tree, run)]
            yield from faults
            if not faults:
                told = [*_dearer(tree, run), *_unasked(tree, run)]
                yield from (Finding("order", path, (*keys, *at), what, mend) for at, what, mend in told)


Fault = tuple[str, KeyPath, str, str]
Advice = tuple[KeyPath, str, str]


def _faults(tree: Tree, run: AnyOrder) -> Iterator[Fault]:
    unknown = [(number, name) for number, name in enumerate(run.steps) if name not in tree.steps]
    for number, name in unknown:
        what = f'"{name}" is not a step of this tree'
        yield "unknown-step", ("steps", number), what, did_you_mean(name, tree.steps, ADD_STEP)
    if not unknown:
        yield from (("not-a-run", *fault) for fault in (*_joints(tree, run), *_chances(run), *_answers(run)))


def _joints(tree: Tree, run: AnyOrder) -> Iterator[Advice]:
    """Find where a run is broken: a step that finds nothing out, a way past a step, a way in from aside."""
    mend = "Name only steps of one run, in the order of the tree."
    tails = Counter(target for step in tree.steps.values() for target in set(exits_of(step).values()))
    for number, name in enumerate(run.steps):
        at = ("steps", number)
        if not isinstance(tree.steps[name], Looked):
            yield at, f'"{name}" is not a question or measure', mend
        if number and name not in exits_of(tree.steps[run.steps[number - 1]]).values():
            yield at, f'"{run.steps[number - 1]}" does not lead straight to "{name}"', mend
        if number and (tails[name] > 1 or name == tree.starts_at):
            yield at, f'"{name}" is also reached without "{run.steps[number - 1]}"', mend


def _chances(run: AnyOrder) -> Iterator[Advice]:
    if run.chance and set(run.chance) != set(run.steps):
        wrong = ", ".join(sorted(set(run.chance) ^ set(run.steps)))
        yield ("chance",), f"chances are for all steps of the run or for none; see {wrong}", "Give each step one."
    total = sum(run.chance.values())
    if run.causes == "one" and total > 1 + NEARLY:
        yield ("chance",), f"the chances make {total:g}", "With one cause they make 1 at most."
    if run.chance and total == 0:
        yield ("chance",), "no step has a chance above 0", "Give one, or leave `chance:` out."


def _answers(run: AnyOrder) -> Iterator[Advice]:
    if run.ask_first is None:
        return
    left = Counter(name for names in run.ask_first.leaves.values() for name in names)
    if left != Counter(set(run.steps)):
        what = "each step of the run must be left by just one answer"
        yield ("ask-first", "leaves"), what, f"Share out {', '.join(run.steps)} among the answers."
    if run.causes != "one" or (run.chance and not math.isclose(sum(run.chance.values()), 1)):
        what = "a question put first is reckoned for one cause whose chances make 1"
        yield ("ask-first",), what, "Give such chances, or take `ask-first:` out."


def _checks(tree: Tree, run: AnyOrder) -> list[Check]:
    """Give the steps of a run as checks; none where a step does not say its minutes."""
    steps = [(name, step) for name in run.steps if isinstance(step := tree.steps[name], Looked)]
    equal = 1 / len(steps)
    checks = [
        Check(name, run.chance.get(name, equal), step.minutes, str(step.where))
        for name, step in steps
        if step.minutes is not None
    ]
    return checks if len(checks) == len(run.steps) else []


def _stage(tree: Tree, check: Check) -> tuple[bool, int]:
    """Rank a check as the rules of good sense do: below before above, and nothing cheaper after lifting."""
    step = tree.steps[check.id]
    assert isinstance(step, Looked)  # _joints() proved it
    return step.where in (Where.LADDER, Where.ROOF), max(EFFORTS.index(step.effort), EFFORTS.index(Effort.WET))


def _cheapest(tree: Tree, run: AnyOrder, checks: Sequence[Check]) -> tuple[Check, ...]:
    """Give the best order within each stage, stage after stage; a place got ready stays so."""
    order: tuple[Check, ...] = ()
    for stage in sorted({_stage(tree, each) for each in checks}):
        ready = {each.place for each in order}
        access = {place: took for place, took in _access(run).items() if place not in ready}
        order += best_order((each for each in checks if _stage(tree, each) == stage), Causes(run.causes), access)
    return order


def _average(run: AnyOrder, order: Sequence[Check]) -> float:
    return average_minutes(order, Causes(run.causes), _access(run))


def _access(run: AnyOrder) -> dict[str, float]:
    return {str(place): float(took) for place, took in run.access.items()}


def _dearer(tree: Tree, run: AnyOrder) -> Iterator[Advice]:
    checks = _checks(tree, run)
    if checks and _saves(now := _average(run, checks), least := _average(run, best := _cheapest(tree, run, checks))):
        names = ", ".join(each.id for each in best)
        what = f"these checks take {now:.1f} minutes on average as they stand, and {least:.1f} in the order {names}"
        yield ("steps",), what, "Ask them in that order, under the same gates."


def _unasked(tree: Tree, run: AnyOrder) -> Iterator[Advice]:
    checks = _checks(tree, run)
    if not checks or run.ask_first is None:
        return
    possible = {each.id for each in checks if each.chance > 0}
    answers = (given_answer(checks, left) for left in run.ask_first.leaves.values() if possible.intersection(left))
    results = [(chance, _average(run, _cheapest(tree, run, kept))) for chance, kept in answers]
    now = _average(run, _cheapest(tree, run, checks))
    asked = asked_first_minutes(run.ask_first.minutes, results)
    if _saves(now, asked):
        most = worth_asking_minutes(now, results)
        what = f"asked first, it brings {now:.1f} minutes on average down to {asked:.1f}; up to {most:.1f} it pays"
        yield ("ask-first",), what, "Ask it before the run, under the same gates."


def _saves(now: float, other: float) -> bool:
    return now - other >= WORTH_TELLING * other - NEARLY
