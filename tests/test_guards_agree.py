"""The one pass against the four answers that it takes the place of, on the guide and on guides made by chance."""

import pytest
from guides import draft_of, the_checked, the_guide
from hypothesis import given
from test_reach import walked
from test_safety import GATES, forests

from build_tools.guide import pages
from build_tools.model import step_kind
from build_tools.proof.graph import (
    ROOT,
    Node,
    entered,
    exits_of,
    forest_ways,
    gates_of,
    needs,
    rooted_forest,
    step_at,
    target_node,
    tree_graph,
)
from build_tools.proof.graph import reached_without as reached_by_hand
from build_tools.proof.guards import last_gates, on_every_way, reached_without
from build_tools.proof.rules.safety import GUARDED
from build_tools.review.differences import guard_ways
from build_tools.shell import reach


def opening(draft, need):
    return frozenset(node for node, gate in gates_of(draft).items() if need in draft.gates[gate].opens)


def same_as_safety(draft):
    """Hold against the walks of the rule `ungated`, one for each place or act, and its way as it is told."""
    graph, ways = rooted_forest(draft), entered(draft, forest_ways(draft))
    opened = on_every_way(graph, ROOT, {node: draft.gates[gate].opens for node, gate in gates_of(draft).items()})
    for need in GUARDED:
        by_hand = reached_by_hand(ways, ROOT, opening(draft, need))
        assert {node for node, found in opened.items() if need not in found} == by_hand.keys()
        assert list(reached_without(graph, ROOT, opening(draft, need)).items()) == list(by_hand.items())
    for node in gates_of(draft):
        for need in GUARDED:
            shut = opening(draft, need) - {node}
            for head in graph.successors(node):
                again = reached_by_hand(ways, head, shut)
                assert list(reached_without(graph, head, shut).items()) == list(again.items())


def same_as_review(draft):
    """Hold against the walks of the review, one for each gate of the table."""
    graph = rooted_forest(draft)
    met = on_every_way(graph, ROOT, {node: (gate,) for node, gate in gates_of(draft).items()})
    assert {node: met[node] for node in forest_ways(draft) if node in met} == guard_ways.guards_of(draft).gates


def same_as_reach(draft, walks, entries):
    """Hold against dominators as `reach` has them from networkx, and its last gates."""
    graph = rooted_forest(draft)
    gates = gates_of(draft)
    passed = on_every_way(graph, ROOT, {node: (node,) for node in gates})
    opened = on_every_way(graph, ROOT, {node: draft.gates[gate].opens for node, gate in gates.items()})
    goals = [reach.Spot(tree, step) for tree, walk in walks.items() for step in walk["steps"]]
    for goal, found in reach.guards_of(walks, entries, goals).items():
        node = Node(goal.tree, goal.step)
        chain = sorted(passed.get(node, ()), key=lambda gate: len(passed[gate]))
        assert [(each.tree, each.step) for each in found.on_every_way] == chain
        for need, openers in found.openers.items():
            last = last_gates(graph, node, opening(draft, need)) if need in opened.get(node, ()) else ()
            # In another order, since walk data lists trees and steps in another.
            assert {(each.tree, each.step) for each in openers} == set(last) and len(openers) == len(last)


def same_as_pages(draft):
    """Hold against the gates behind a step as pages have them: whatever every way passes is among these."""
    for tree_id, tree in draft.trees.items():
        graph = tree_graph(tree_id, tree)
        for node in graph:
            wanted = needs(step_at(draft, node)).intersection(GUARDED)
            gates = {each for need in wanted for each in opening(draft, need)}
            found = pages._guards(draft, graph, node)
            passed = on_every_way(graph, Node(tree_id, tree.starts_at), {gate: (gate,) for gate in gates})
            assert gates & passed.get(node, frozenset()) <= set(found)
            assert set(last_gates(graph, node, gates)) <= set(found)


def as_walked(draft):
    """Give trees that nobody proved as walk data, as far as `guards_of` reads it, and where walks begin."""

    def data(step):
        kind, heads = step_kind(step), exits_of(step)
        needed = [str(each) for each in needs(step) if each in GUARDED]
        found = {"kind": kind, "needs": needed, "exits": heads}
        if kind == "gate":
            found["gate"] = {"opens": draft.gates[step.gate].opens}
        elif head := target_node(draft.trees, step.go_to) if kind == "go-to" else None:
            found["goTo"] = {"tree": head.home, "step": head.step}
        return found

    walks = {
        name: {"steps": {key: data(step) for key, step in tree.steps.items()}} for name, tree in draft.trees.items()
    }
    begins = [(name, tree.starts_at) for name, tree in draft.trees.items()]
    begins += [target_node(draft.trees, each.after_failed_proof) for each in draft.remedies.values()]
    return walks, [reach.Spot(*each) for each in dict.fromkeys(begins)]


@given(forests())
def test_same_on_forests_made_by_chance(made):
    draft = draft_of(*made, gates=GATES)
    same_as_safety(draft)
    same_as_review(draft)
    same_as_reach(draft, *as_walked(draft))
    same_as_pages(draft)


@pytest.fixture(scope="module")
def draft():
    return the_checked().draft


def test_same_as_safety(draft):
    same_as_safety(draft)


def test_same_as_review(draft):
    same_as_review(draft)


def test_same_as_pages(draft):
    same_as_pages(draft)


def test_same_as_reach(draft):
    same_as_reach(draft, *walked(the_guide()))
