"""Rules of runs that may be asked in any order: they are runs, and no cheaper order is passed over.

Only steps under the same gates are compared: a run leads straight from step to step, with no gate between.
Nothing is ever reordered; the author is told, and decides.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from build_tools.model import AnyOrder, Looked, Tree
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.proof.graph import exits_of
from build_tools.proof.rules.references import ADD_STEP
from build_tools.proof.weighing import NEARLY, Weighed, weigh, worth_telling
from build_tools.sources.library import Draft, tree_path


def runs(draft: Draft) -> Iterator[Finding]:
    """Find runs that are none, numbers without a source, and what would make a run cheaper."""
    for tree_id, tree in draft.trees.items():
        for number, run in enumerate(tree.any_order):
            keys = ("any-order", number)
            for code, at, what, mend in _told(tree, run):
                yield Finding(code, tree_path(tree_id), (*keys, *at), what, mend)


Fault = tuple[str, KeyPath, str, str]
Advice = tuple[KeyPath, str, str]


def _told(tree: Tree, run: AnyOrder) -> Iterator[Fault]:
    faults = tuple(_faults(tree, run))
    yield from faults
    yield from (("unsourced-number", *told) for told in _unsourced(run))
    if not faults and (weighed := weigh(tree, run)):
        yield from (("order", *told) for told in (*_dearer(weighed), *_unasked(run, weighed)))


def _faults(tree: Tree, run: AnyOrder) -> Iterator[Fault]:
    unknown = [(number, name) for number, name in enumerate(run.steps) if name not in tree.steps]
    for number, name in unknown:
        what = f'"{name}" is not a step of this tree'
        yield "unknown-step", ("steps", number), what, did_you_mean(name, tree.steps, ADD_STEP)
    if not unknown:
        faults = (*_joints(tree, run), *_chances(run), *_misses(run), *_answers(run))
        yield from (("not-a-run", *fault) for fault in faults)


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
    total = math.fsum(run.chance.values())
    if run.causes == "one" and total > 1 + NEARLY:
        yield ("chance",), f"the chances make {total:g}", "With one cause they make 1 at most."
    if run.chance and total == 0:
        yield ("chance",), "no step has a chance above 0", "Give one, or leave `chance:` out."


def _misses(run: AnyOrder) -> Iterator[Advice]:
    for name in run.missed:
        if name not in run.steps:
            mend = did_you_mean(name, run.steps, "Name a step of the run.")
            yield ("missed", name), f'"{name}" is not in this run', mend
    if run.missed and run.causes != "one":
        yield ("missed",), "a check that can miss is reckoned for one cause only", "Take `missed:` out."


def _answers(run: AnyOrder) -> Iterator[Advice]:
    if run.ask_first is None:
        return
    left = Counter(name for names in run.ask_first.leaves.values() for name in names)
    if left != Counter(set(run.steps)):
        what = "each step of the run must be left by just one answer"
        yield ("ask-first", "leaves"), what, f"Share out {', '.join(run.steps)} among the answers."
    if run.causes != "one" or (run.chance and not math.isclose(math.fsum(run.chance.values()), 1)):
        what = "a question put first is reckoned for one cause whose chances make 1"
        yield ("ask-first",), what, "Give such chances, or take `ask-first:` out."


def _unsourced(run: AnyOrder) -> Iterator[Advice]:
    """Find the first numbers of a run that rest on nothing; the minutes of its steps are their own affair."""
    if not run.sources:
        given = (key for key in ("chance", "missed", "access") if getattr(run, key))
        mend = "Add `sources:` to the run; what the trade knows takes common-practice, a guess project-choice."
        yield from (((key,), "these numbers stand here without a source", mend) for key in [*given][:1])


def _dearer(weighed: Weighed) -> Iterator[Advice]:
    now, best = weighed.now, weighed.best
    if weighed.is_told:
        names = ", ".join(each.id for each in best.checks)
        what = f"these checks take {now.minutes:.1f} minutes on average as they stand, and {best.minutes:.1f}"
        yield ("steps",), f"{what} in the order {names}", "Ask them in that order, under the same gates."


def _unasked(run: AnyOrder, weighed: Weighed) -> Iterator[Advice]:
    if weighed.asked and worth_telling(now := weighed.best.minutes, (asked := weighed.asked).minutes):
        what = f"asked first, it brings {now:.1f} minutes on average down to {asked.minutes:.1f}"
        yield ("ask-first",), f"{what}; up to {asked.most:.1f} it pays", "Ask it before the run, under the same gates."
