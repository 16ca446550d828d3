"""What is counted over a topological order, against every way listed one by one and against networkx."""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.proof.counting import ends_from, in_walk_order, longest_from, total_from, ways_from
from build_tools.proof.graph import Edge, Node, build_graph


@st.composite
def graphs(draw):
    """A multigraph of a few steps whose exits lead forward, two of them to one step at times."""
    nodes = [Node("a", str(number)) for number in range(draw(st.integers(1, 7)))]
    edges = []
    for number, node in enumerate(nodes[:-1]):
        heads = draw(st.lists(st.sampled_from(nodes[number + 1 :]), max_size=3))
        edges += [Edge(node, exit_name, head) for exit_name, head in zip(("yes", "no", "unsure"), heads, strict=False)]
    return build_graph(nodes, edges)


def every_way(graph, node):
    """List the ways from a node to an end, each as its nodes; two exits to one step are two ways."""
    onward = [head for _, head, _ in graph.out_edges(node, keys=True)]
    return [[node, *rest] for head in onward for rest in every_way(graph, head)] or [[node]]


@given(graphs())
def test_ways_from_counts_what_listing_counts(graph):
    assert ways_from(graph) == {node: len(every_way(graph, node)) for node in graph}


@given(graphs())
def test_ends_from_gives_the_last_step_of_every_way(graph):
    assert ends_from(graph) == {node: {way[-1] for way in every_way(graph, node)} for node in graph}


@given(graphs(), st.lists(st.integers(0, 5), min_size=7, max_size=7))
def test_longest_from_agrees_with_networkx(graph, numbers):
    weight = dict(zip(graph, numbers, strict=False))
    plain = nx.DiGraph(graph)
    for node in graph:
        ahead = plain.subgraph(nx.descendants(plain, node) | {node})
        assert longest_from(graph, weight)[node] == weight[node] + longest_by_networkx(ahead, weight)


@given(graphs(), st.lists(st.integers(0, 5), min_size=7, max_size=7))
def test_total_from_is_the_sum_over_every_way(graph, numbers):
    weight = dict(zip(graph, numbers, strict=False))
    for node, total in total_from(graph, weight).items():
        assert total == sum(weight[each] for way in every_way(graph, node) for each in way)


def longest_by_networkx(part, weight):
    """Sum the weights of the heads; the longest way starts at the root, since no weight is below nought."""
    weighted = nx.DiGraph()
    weighted.add_weighted_edges_from((tail, head, weight[head]) for tail, head in part.edges)
    return nx.dag_longest_path_length(weighted)


@given(graphs())
def test_walk_order_leads_forward_along_every_exit(graph):
    place = {node: number for number, node in enumerate(in_walk_order(graph))}
    assert all(place[tail] < place[head] for tail, head in graph.edges())


def test_walk_order_refuses_a_circle():
    there, back = Node("a", "there"), Node("a", "back")
    with pytest.raises(nx.NetworkXUnfeasible):
        in_walk_order(build_graph([there, back], [Edge(there, "yes", back), Edge(back, "yes", there)]))


def test_ways_are_counted_where_they_could_not_be_listed():
    nodes = [Node("a", str(number)) for number in range(51)]
    edges = [Edge(one, exit_name, other) for one, other in pairwise(nodes) for exit_name in ("yes", "no", "unsure")]
    assert ways_from(build_graph(nodes, edges))[nodes[0]] == 3**50
