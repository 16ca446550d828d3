"""The good guide as a graph, node by node and exit by exit."""

import pytest
from guides import draft_of, gate, opens, question, remedy, tree

from build_tools.proof.graph import (
    ROOT,
    Node,
    cautions_for,
    forest_graph,
    gate_at,
    hazards_of,
    needs,
    remedy_node,
    rooted_forest,
    step_at,
    target_node,
    tree_graph,
)
from build_tools.sources.library import read_library


@pytest.fixture
def draft(good):
    return read_library(good)[0]


def edges(graph):
    return {(f"{tail}", exit_name, f"{head}") for tail, head, exit_name in graph.edges(keys=True)}


def test_forest_graph_holds_trees_hand_overs_and_work(draft):
    joined = edges(forest_graph(draft)) - edges(tree_graph("potting-shed", draft.trees["potting-shed"]))
    assert joined == {
        ("potting-shed/to-cold-pane", "go-to", "cold-pane/drops-inside"),
        ("potting-shed/hang-it-back", "remedy", "remedies/hang-the-tile-back/1"),
        ("potting-shed/catch-first", "remedy", "remedies/catch-the-drip/1"),
        ("cold-pane/drops-inside", "yes", "cold-pane/air-it"),
        ("cold-pane/drops-inside", "no", "cold-pane/catch-it"),
        ("cold-pane/drops-inside", "unsure", "cold-pane/catch-it"),
        ("cold-pane/air-it", "remedy", "remedies/air-the-shed/1"),
        ("cold-pane/catch-it", "remedy", "remedies/catch-the-drip/1"),
        ("remedies/hang-the-tile-back/1", "next", "remedies/hang-the-tile-back/2"),
        ("remedies/hang-the-tile-back/2", "yes", "remedies/hang-the-tile-back/3"),
    }


def test_tree_graph_keeps_two_exits_to_one_step_apart(draft):
    graph = tree_graph("potting-shed", draft.trees["potting-shed"])
    asked, after = Node("potting-shed", "steep-enough"), Node("potting-shed", "up-the-ladder")
    assert set(graph[asked][after]) == {"at-limit", "within", "unsure"}


def test_tree_graph_keeps_the_order_of_the_file(draft):
    shed = draft.trees["potting-shed"]
    assert [node.step for node in tree_graph("potting-shed", shed)] == list(shed.steps)


def test_forest_graph_leaves_out_what_does_not_exist():
    plain = {"a": tree({"one": question("one", "two", "gone", "two"), "two": {"go-to": "nowhere"}})}
    assert edges(forest_graph(draft_of(plain, {}))) == {("a/one", "yes", "a/two"), ("a/one", "unsure", "a/two")}


def test_forest_graph_leaves_out_after_failed_proof(draft):
    graph = forest_graph(draft)
    work = [node for node in graph if node.home.startswith("remedies/")]
    assert all(head.home == node.home for node in work for head in graph.successors(node))


def test_root_is_there_where_nothing_else_is():
    assert list(rooted_forest(draft_of({}, {}))) == [ROOT]


def test_rooted_forest_adds_every_way_in(draft):
    assert edges(rooted_forest(draft)) - edges(forest_graph(draft)) == {
        ("/", "entry", "potting-shed/drip-in-rain"),
        ("/", "entry", "cold-pane/drops-inside"),
        *(("/", "entry", f"remedies/{name}/1") for name in draft.remedies),
        *(("/", "entry", f"remedies/{name}/failed-proof") for name in draft.remedies),
        *(
            (f"remedies/{name}/failed-proof", "failed-proof", str(target_node(draft.trees, each.after_failed_proof)))
            for name, each in draft.remedies.items()
        ),
    }


@pytest.mark.parametrize(
    ("target", "step"),
    [("cold-pane", "drops-inside"), ("cold-pane/air-it", "air-it"), ("cold-pane/gone", None), ("gone", None)],
)
def test_target_node_of_a_tree_and_a_step(draft, target, step):
    assert target_node(draft.trees, target) == (Node("cold-pane", step) if step else None)


def test_needs_are_the_place_and_the_acts():
    plain = {"a": tree({"one": question("one", "two", "two", "two", acts=("hot-work",)), "two": {"remedy": "r"}})}
    steps = draft_of(plain, {"r": remedy()}).trees["a"].steps
    assert (needs(steps["one"]), needs(steps["two"])) == ({"inside", "hot-work"}, frozenset())


def test_hazards_are_those_of_place_act_and_step_in_the_order_of_the_table(draft):
    look = draft.trees["potting-shed"].steps["tile-slipped"]
    more = look.model_copy(update={"hazards": ("wet-floor",), "acts": ("hot-work",)})
    assert (hazards_of(draft, look), hazards_of(draft, more)) == (("fall",), ("fall", "wet-floor", "fire"))


def test_cautions_for_hazards_stand_in_the_order_of_the_table(draft):
    assert cautions_for(draft, ("fire", "fall")) == ("fall-from-ladder", "sparks")


def test_gate_at_finds_gates_of_trees_and_of_work():
    plain = {"a": tree({"up": gate("g", "end", "end", "end"), "end": {"remedy": "r"}})}
    draft = draft_of(plain, {"r": remedy({"gate": "g"}, {"do": "Go.", "where": "roof"})}, gates={"g": opens("roof")})
    assert gate_at(draft, Node("a", "up")) == gate_at(draft, remedy_node("r")) == "g"
    assert gate_at(draft, remedy_node("r", 2)) is gate_at(draft, Node("a", "end")) is None
    assert step_at(draft, remedy_node("r", 2)).do == "Go."
