"""How long the paths of a tree are, in questions and in minutes: the longest, and the mean of them all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from build_tools.model import Looked, StepBase, Tree
from build_tools.proof.graph import exits_of
from build_tools.proof.rules.flow import is_asked
from build_tools.review.record.changes import Length, Measured
from build_tools.review.versions.matching import Match


def lengths(match: Match, orders: Mapping[str, tuple[Iterable[str], Iterable[str]]]) -> Iterator[Length]:
    """Find the lengths that differ, in trees that both versions have.

    orders: by tree, the steps of each version in an order in which every exit leads forward.
    """
    for name, (old, new) in orders.items():
        before, after = measured(match.before.trees[name], old), measured(match.after.trees[name], new)
        for measure, length in before.items():
            if length != after[measure]:
                yield Length(tree=name, measure=measure, before=length, after=after[measure])


def measured(tree: Tree, order: Iterable[str]) -> Mapping[Measured, float]:
    """Measure a tree's paths: how many, questions asked on one, minutes stated on one."""
    if tree.starts_at not in tree.steps:
        return {"paths": 0, "longest path": 0, "mean path": 0, "most minutes": 0, "mean minutes": 0}
    ways: dict[str, int] = {}
    asked: dict[str, _Reach] = {}
    minutes: dict[str, _Reach] = {}
    for step in reversed([each for each in order if each in tree.steps]):
        heads = [head for head in exits_of(tree.steps[step]).values() if head in tree.steps]
        ways[step] = sum(ways[head] for head in heads) if heads else 1
        asked[step] = _reach(int(is_asked(tree.steps[step])), ways[step], [asked[head] for head in heads])
        minutes[step] = _reach(_minutes(tree.steps[step]), ways[step], [minutes[head] for head in heads])
    start = tree.starts_at
    return {
        "paths": ways[start],
        "longest path": asked[start].longest,
        "mean path": round(asked[start].total / ways[start], 1),
        "most minutes": minutes[start].longest,
        "mean minutes": round(minutes[start].total / ways[start], 1),
    }


class _Reach(NamedTuple):
    """What the ways from a step gather: the most on one, and the sum over all."""

    longest: int
    total: int


def _reach(own: int, ways: int, onward: list[_Reach]) -> _Reach:
    most = max((each.longest for each in onward), default=0)
    return _Reach(own + most, own * ways + sum(each.total for each in onward))


def _minutes(step: StepBase) -> int:
    return step.minutes or 0 if isinstance(step, Looked) else 0
