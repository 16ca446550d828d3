"""What stands on every way to a step, against every way listed one by one, circles and ways back among them."""

import networkx as nx
import pytest
from guides import CAUTION, draft_of, gate, opens, question, remedy, the_checked, tree
from hypothesis import given
from hypothesis import strategies as st

from build_tools.guide.pages import guide_view
from build_tools.proof.checks import CheckedGuide
from build_tools.proof.graph import ROOT, Edge, Node, build_graph, gates_of, rooted_forest, tree_graph
from build_tools.proof.guards import last_gates, on_every_way, reached_without

OPENS = {"up": ("ladder",), "top": ("ladder", "roof"), "glass": ("lift-glass",)}


@st.composite
def guarded(draw):
    """A few steps with exits anywhere, the first of them the start, and what the yes of some leaves."""
    nodes = [Node("a", str(number)) for number in range(draw(st.integers(1, 6)))]
    heads = st.lists(st.sampled_from(nodes), max_size=3)
    edges = [
        Edge(node, answer, head)
        for node in nodes
        for answer, head in zip(("yes", "no", "unsure"), draw(heads), strict=False)
    ]
    gates = {node: OPENS[draw(st.sampled_from(list(OPENS)))] for node in nodes if draw(st.booleans())}
    return build_graph(nodes, edges), gates


def ways(graph, start, goal):
    """List the ways that pass no step twice; whatever every one of these passes, a longer way passes as well."""
    return [()] if start == goal else list(nx.all_simple_edge_paths(graph, start, goal))


def left_on(way, marks):
    return {mark for tail, _, answer in way if answer == "yes" for mark in marks.get(tail, ())}


def listed(graph, start, marks):
    """Give what is left on all of the ways to each step, for the steps that have a way."""
    found = {goal: [left_on(way, marks) for way in ways(graph, start, goal)] for goal in graph}
    return {goal: set.intersection(*left) for goal, left in found.items() if left}


@given(guarded())
def test_marks_are_those_that_are_left_on_each_way(made):
    graph, gates = made
    start = next(iter(graph))
    assert on_every_way(graph, start, gates) == listed(graph, start, gates)
    alone = {gate: (gate,) for gate in gates}
    assert on_every_way(graph, start, alone) == listed(graph, start, alone)


@given(guarded())
def test_what_is_reached_without_a_mark_is_what_has_a_way_that_leaves_none(made):
    graph, gates = made
    start = next(iter(graph))
    shut = {gate for gate, opened in gates.items() if "ladder" in opened}
    came_from = reached_without(graph, start, shut)
    passed = listed(graph, start, {gate: ("shut",) for gate in shut})
    assert came_from.keys() == {goal for goal, marks in passed.items() if not marks}
    for goal in came_from:
        way = [goal]
        while came_from[way[-1]] is not None:
            way.append(came_from[way[-1]])
        open_ways = [each for each in ways(graph, start, goal) if not left_on(each, dict.fromkeys(shut, ("shut",)))]
        assert way[-1] == start and len(way) - 1 == min(map(len, open_ways))


@given(guarded())
def test_last_gates_are_those_after_which_some_way_passes_no_other(made):
    graph, gates = made
    marks = {gate: (gate,) for gate in gates}
    for goal in graph:
        told = {
            tail
            for tail, head, answer in graph.edges(keys=True)
            if answer == "yes" and tail in gates and any(not left_on(way, marks) for way in ways(graph, head, goal))
        }
        found = last_gates(graph, goal, gates)
        assert (set(found), len(found)) == (told, len(told))


def test_two_gates_guard_together_where_neither_does_alone():
    steps = {
        "a0": question("a0", "a1", "a2", "a3"),
        "a1": gate("up", "a4", "a3", "a3"),
        "a2": gate("up", "a4", "a3", "a3"),
        "a3": {"remedy": "r"},
        "a4": {"remedy": "r"},
    }
    graph = tree_graph("a", draft_of({"a": tree(steps)}, {"r": remedy()}).trees["a"])
    a0, a1, a2, a3, a4 = (Node("a", name) for name in steps)
    assert on_every_way(graph, a0, {a1: (a1,), a2: (a2,)})[a4] == set()
    assert on_every_way(graph, a0, {a1: ("up",), a2: ("up",)})[a4] == {"up"}
    assert set(last_gates(graph, a4, {a1, a2})) == {a1, a2}
    assert last_gates(graph, a3, {a1, a2}) == ()


def test_yes_guards_nothing_where_another_answer_leads_there_too():
    steps = {"a0": gate("up", "a1", "a1", "a1"), "a1": {"remedy": "r"}}
    graph = tree_graph("a", draft_of({"a": tree(steps)}, {"r": remedy()}).trees["a"])
    a0, a1 = (Node("a", name) for name in steps)
    assert on_every_way(graph, a0, {a0: ("up",)}) == {a0: set(), a1: set()}


def test_reached_without_gives_the_nearest_first_and_never_goes_by_a_shut_yes():
    steps = {
        "a0": gate("up", "a2", "a1", "a1"),
        "a1": question("a1", "a2", "a3", "a3"),
        "a2": {"remedy": "r"},
        "a3": {"remedy": "r"},
    }
    graph = tree_graph("a", draft_of({"a": tree(steps)}, {"r": remedy()}).trees["a"])
    a0, a1, a2, a3 = (Node("a", name) for name in steps)
    assert reached_without(graph, a0, ()) == {a0: None, a2: a0, a1: a0, a3: a1}
    assert list(reached_without(graph, a0, {a0})) == [a0, a1, a2, a3]
    # The yes of a question is nobody's leave.
    assert reached_without(graph, a1, {a0})[a2] == a1


@pytest.mark.parametrize(("by_the_other_gate", "standing"), [(("care",), ["care"]), ((), [])])
def test_caution_stands_from_the_gate_only_where_every_gate_on_the_way_told_it(by_the_other_gate, standing):
    steps = {
        "a0": question("a0", "a1", "a2", "a2"),
        "a1": gate("up", "a3", "a4", "a4"),
        "a2": gate("over", "a3", "a4", "a4"),
        "a3": question("a3", "a4", "a4", "a4", where="ladder"),
        "a4": {"remedy": "r"},
    }
    tables = {
        "gates": {
            "up": {**opens("ladder"), "cautions": ("care",)},
            "over": {**opens("ladder"), "cautions": by_the_other_gate},
        },
        "cautions": {"care": CAUTION},
        "hazards": {"fall": {"title": "Fall", "least-signal": "warning", "where": ("ladder",)}},
    }
    draft = draft_of({"a": tree(steps)}, {"r": remedy()}, **tables)
    up_there = guide_view(CheckedGuide(draft)).first_tree.step("a3")
    assert [each.id for each in up_there.standing] == standing
    assert [each.id for each in up_there.cautions] == [each for each in ["care"] if each not in standing]


def dominating(graph, gates):
    """Give for each step the gates whose yes dominates it, as networkx finds dominators, with a node in each yes."""
    flow = nx.DiGraph()
    for tail, head, answer in graph.edges(keys=True):
        if answer == "yes" and tail in gates:
            flow.add_edges_from([(tail, ("passed", tail)), (("passed", tail), head)])
        else:
            flow.add_edge(tail, head)
    above = nx.immediate_dominators(flow, ROOT)
    found = {ROOT: frozenset()}
    for node in nx.topological_sort(flow.subgraph({*above, ROOT})):
        if node != ROOT:
            found[node] = found[above[node]] | ({node[1]} if node[0] == "passed" else set())
    return {node: passed for node, passed in found.items() if node[0] != "passed"}


@pytest.fixture(scope="module")
def guide():
    draft = the_checked().draft
    return rooted_forest(draft), gates_of(draft)


def test_gates_of_the_guide_are_those_that_dominate(guide):
    graph, gates = guide
    assert on_every_way(graph, ROOT, {gate: (gate,) for gate in gates}) == dominating(graph, gates)
