"""How long the paths of a tree are, in questions and in minutes: the longest, and the mean of them all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from build_tools.model import Looked, Tree
from build_tools.proof.counting import asked_in, longest_from, total_from, ways_from
from build_tools.proof.graph import Node, tree_graph
from build_tools.review.record.changes import Length, Measured
from build_tools.review.versions.matching import Match


def lengths(match: Match, names: Iterable[str]) -> Iterator[Length]:
    """Find the lengths that differ, in those of the named trees that both versions have; none has a circle."""
    for name in (each for each in names if each in match.before.trees and each in match.after.trees):
        before, after = measured(match.before.trees[name]), measured(match.after.trees[name])
        for measure, length in before.items():
            if length != after[measure]:
                yield Length(tree=name, measure=measure, before=length, after=after[measure])


def measured(tree: Tree) -> Mapping[Measured, float]:
    """Measure a tree's paths: how many, questions asked on one, minutes stated on one."""
    if tree.starts_at not in tree.steps:
        return {"paths": 0, "longest path": 0, "mean path": 0, "most minutes": 0, "mean minutes": 0}
    graph, start = tree_graph("", tree), Node("", tree.starts_at)
    asked = asked_in(graph, tree)
    looks = ((node, tree.steps[node.step]) for node in graph)
    minutes = {node: step.minutes or 0 for node, step in looks if isinstance(step, Looked)}
    paths = ways_from(graph)[start]
    return {
        "paths": paths,
        "longest path": longest_from(graph, asked)[start],
        "mean path": round(total_from(graph, asked)[start] / paths, 1),
        "most minutes": longest_from(graph, minutes)[start],
        "mean minutes": round(total_from(graph, minutes)[start] / paths, 1),
    }
