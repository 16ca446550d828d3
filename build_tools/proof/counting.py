"""What can be told of a tree without walking it: longest ways, numbers of ways, remedies still open.

Everything is reckoned once over a topological order. Ways are counted and never listed, because a tree
of 50 steps can hold millions.
"""

from __future__ import annotations

from collections.abc import Container, Mapping

import networkx as nx

from build_tools.model import Tree
from build_tools.proof.graph import Graph, Node, is_asked


def in_walk_order(graph: Graph) -> list[Node]:
    """Order the nodes so that every exit leads forward, the ends after all that leads on, else as in the file.

    Raises: networkx.NetworkXUnfeasible when the graph has a circle; the rule `circle` comes first.
    """
    place = {node: (graph.out_degree(node) == 0, number) for number, node in enumerate(graph)}
    return list(nx.lexicographical_topological_sort(graph, key=place.__getitem__))


def asked_in(graph: Graph, tree: Tree) -> Mapping[Node, int]:
    """Weigh each step of a tree by whether it asks the walker something."""
    return {node: int(is_asked(tree.steps[node.step])) for node in graph}


def longest_from(graph: Graph, weight: Mapping[Node, int]) -> dict[Node, int]:
    """Give for each node the greatest weight that a way from it can gather, its own included."""
    longest: dict[Node, int] = {}
    for node in reversed(in_walk_order(graph)):
        longest[node] = weight.get(node, 0) + max((longest[head] for head in graph.successors(node)), default=0)
    return longest


def ways_from(graph: Graph) -> dict[Node, int]:
    """Count for each node the ways from it to an end; two exits to one step are two ways."""
    ways: dict[Node, int] = {}
    for node in reversed(in_walk_order(graph)):
        heads = [head for _, head, _ in graph.out_edges(node, keys=True)]
        ways[node] = sum(ways[head] for head in heads) if heads else 1
    return ways


def total_from(graph: Graph, weight: Mapping[Node, int]) -> dict[Node, int]:
    """Give for each node what all ways from it gather together, its own weight on each included."""
    ways = ways_from(graph)
    total: dict[Node, int] = {}
    for node in reversed(in_walk_order(graph)):
        onward = sum(total[head] for _, head, _ in graph.out_edges(node, keys=True))
        total[node] = weight.get(node, 0) * ways[node] + onward
    return total


def ends_from(graph: Graph, stops: Container[Node] = ()) -> dict[Node, frozenset[Node]]:
    """Give for each node the ends that can still be reached from it: nodes without an exit, and `stops`."""
    ends: dict[Node, frozenset[Node]] = {}
    for node in reversed(in_walk_order(graph)):
        heads = list(graph.successors(node))
        own = frozenset((node,)) if not heads or node in stops else frozenset()
        ends[node] = own.union(*(ends[head] for head in heads))
    return ends
