"""How long the paths of a tree are, in questions and in minutes: the longest, and the mean of them all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from build_tools.counting import in_walk_order, longest_from, ways_from
from build_tools.graph import Node, tree_graph
from build_tools.model import Looked, Tree
from build_tools.review.changes import Length, Measured
from build_tools.review.matching import Match
from build_tools.rules.flow import is_asked

if TYPE_CHECKING:
    from build_tools.graph import Graph


def lengths(match: Match, counted: frozenset[str]) -> Iterator[Length]:
    """Find the lengths that differ, in the trees that both versions have and whose paths could be counted."""
    for name, tree in match.before.trees.items():
        other = match.after.trees.get(name)
        if other is not None and other != tree and name in counted:
            before, after = measured(name, tree), measured(name, other)
            for measure, length in before.items():
                if length != after[measure]:
                    yield Length(tree=name, measure=measure, before=length, after=after[measure])


def measured(name: str, tree: Tree) -> Mapping[Measured, float]:
    """Measure a tree's paths: how many, questions asked on one, minutes stated on one.

    Raises: networkx.NetworkXUnfeasible where the walk goes round in a circle.
    """
    graph = tree_graph(name, tree)
    start = Node(name, tree.starts_at)
    if start not in graph:
        return {"paths": 0, "longest path": 0, "mean path": 0, "most minutes": 0, "mean minutes": 0}
    asked = {node: int(is_asked(tree.steps[node.step])) for node in graph}
    minutes = {node: _minutes(tree, node) for node in graph}
    ways = ways_from(graph)
    return {
        "paths": ways[start],
        "longest path": longest_from(graph, asked)[start],
        "mean path": round(_sums_from(graph, asked, ways)[start] / ways[start], 1),
        "most minutes": longest_from(graph, minutes)[start],
        "mean minutes": round(_sums_from(graph, minutes, ways)[start] / ways[start], 1),
    }


def _minutes(tree: Tree, node: Node) -> int:
    step = tree.steps[node.step]
    return step.minutes or 0 if isinstance(step, Looked) else 0


def _sums_from(graph: Graph, weight: Mapping[Node, int], ways: Mapping[Node, int]) -> Mapping[Node, int]:
    """Give for each node the sum of the weights over all ways from it."""
    sums: dict[Node, int] = {}
    for node in reversed(in_walk_order(graph)):
        onward = sum(sums[head] for _, head, _ in graph.out_edges(node, keys=True))
        sums[node] = weight[node] * ways[node] + onward
    return sums
