"""The draft as one networkx multigraph: trees, remedies and their steps, joined by exits.

Nodes are `Node(home, step)`: a step of a tree, or a numbered step of a remedy. Edges are keyed by exit,
since two exits may run to one step. `after-failed-proof` is left out: it starts a new walk with all
gates unset. Exits to what does not exist are left out too; the rules of reference speak of those.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple, TypeAlias

import networkx as nx

from build_tools.model import (
    Act,
    Action,
    GateStep,
    GoTo,
    Looked,
    Measure,
    Question,
    Remedy,
    RemedyStep,
    StepBase,
    Tree,
    Where,
    WorkGate,
)
from build_tools.model.problems import KeyPath
from build_tools.sources.library import Draft, remedy_path, tree_path


class Node(NamedTuple):
    """A step of a tree or of a remedy."""

    home: str
    """The tree's id, or "remedies/" and the remedy's id."""
    step: str
    """The step's id, or its number in the remedy's work, from 1."""

    def __str__(self) -> str:
        return f"{self.home}/{self.step}"


ROOT = Node("", "")
"""Where everybody begins who opens the guide."""
FAILED = "failed-proof"
"""The exit by which a new walk begins when a remedy's proof fails."""
DONE = "done"
"""The exit of a remedy after which the walk goes on."""
Graph: TypeAlias = "nx.MultiDiGraph[Node]"
"""Steps joined by their exits, which are the keys of the edges."""


class Edge(NamedTuple):
    """One exit."""

    tail: Node
    exit: str
    head: Node


def remedy_node(remedy_id: str, number: int = 1) -> Node:
    """Give the node of a step of a remedy's work."""
    return Node(f"remedies/{remedy_id}", str(number))


def target_node(trees: Mapping[str, Tree], target: str) -> Node | None:
    """Resolve `tree` or `tree/step`; nothing when there is no such step."""
    tree_id, _, step = target.partition("/")
    tree = trees.get(tree_id)
    if tree is None:
        return None
    step = step or tree.starts_at
    return Node(tree_id, step) if step in tree.steps else None


def exits_of(step: StepBase) -> Mapping[str, str]:
    """Give the exits of a step within its tree; none where a walk ends or is handed over."""
    if isinstance(step, RemedyStep) and step.then:
        return {DONE: step.then}
    return step.exits if isinstance(step, Question | Measure | GateStep) else {}


def tree_edges(tree_id: str, tree: Tree) -> Iterator[Edge]:
    """List the exits inside one tree, in the order of the file."""
    for name, step in tree.steps.items():
        for exit_name, target in exits_of(step).items():
            if target in tree.steps:
                yield Edge(Node(tree_id, name), exit_name, Node(tree_id, target))


def _joining_edges(draft: Draft) -> Iterator[Edge]:
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            if isinstance(step, RemedyStep) and step.remedy in draft.remedies:
                yield Edge(Node(tree_id, name), "remedy", remedy_node(step.remedy))
            elif isinstance(step, GoTo) and (head := target_node(draft.trees, step.go_to)):
                yield Edge(Node(tree_id, name), "go-to", head)


def _work_edges(remedy_id: str, remedy: Remedy) -> Iterator[Edge]:
    for number, step in enumerate(remedy.steps[:-1], start=1):
        exit_name = "yes" if isinstance(step, WorkGate) else "next"
        yield Edge(remedy_node(remedy_id, number), exit_name, remedy_node(remedy_id, number + 1))


def build_graph(nodes: Iterable[Node], edges: Iterable[Edge]) -> Graph:
    """Make a multigraph, nodes and edges in the order given."""
    graph: Graph = nx.MultiDiGraph()
    graph.add_nodes_from(nodes)
    for edge in edges:
        graph.add_edge(edge.tail, edge.head, key=edge.exit)
    return graph


def tree_graph(tree_id: str, tree: Tree) -> Graph:
    """Make the graph of one tree alone."""
    return build_graph((Node(tree_id, name) for name in tree.steps), tree_edges(tree_id, tree))


def forest_nodes(draft: Draft) -> Iterator[Node]:
    """List the steps of all trees and of the work of all remedies."""
    yield from (Node(tree_id, name) for tree_id, tree in draft.trees.items() for name in tree.steps)
    yield from (remedy_node(name, n + 1) for name, remedy in draft.remedies.items() for n in range(len(remedy.steps)))


def forest_edges(draft: Draft) -> Iterator[Edge]:
    """List the exits of all trees, their hand-overs, and the work of their remedies."""
    yield from (edge for tree_id, tree in draft.trees.items() for edge in tree_edges(tree_id, tree))
    yield from _joining_edges(draft)
    yield from (edge for name, remedy in draft.remedies.items() for edge in _work_edges(name, remedy))


def forest_graph(draft: Draft) -> Graph:
    """Make the graph of all trees, their hand-overs, and the work of their remedies."""
    return build_graph(forest_nodes(draft), forest_edges(draft))


def rooted_forest(draft: Draft) -> Graph:
    """Add a root, and from it a way in wherever a walk may begin: at each tree, remedy page and failed proof."""
    return build_graph((*forest_nodes(draft), ROOT), (*forest_edges(draft), *_ways_in(draft)))


def _ways_in(draft: Draft) -> Iterator[Edge]:
    failed = {Node(f"remedies/{name}", FAILED): head for name, head in after_failed_proof(draft)}
    begins = [Node(name, tree.starts_at) for name, tree in draft.trees.items() if tree.starts_at in tree.steps]
    yield from (Edge(ROOT, "entry", head) for head in (*begins, *map(remedy_node, draft.remedies), *failed))
    yield from (Edge(tail, FAILED, head) for tail, head in failed.items())


def gates_of(draft: Draft) -> Mapping[Node, str]:
    """Give every step that is a gate, in trees and in remedies' work, with the gate's id."""
    return {node: gate for node in forest_nodes(draft) if (gate := gate_at(draft, node)) is not None}


def after_failed_proof(draft: Draft) -> Iterator[tuple[str, Node]]:
    """Give each remedy with the step at which a new walk begins when its proof fails, all gates unset."""
    for name, remedy in draft.remedies.items():
        if head := target_node(draft.trees, remedy.after_failed_proof):
            yield name, head


def step_at(draft: Draft, node: Node) -> StepBase | Action | WorkGate:
    """Give the record of a node."""
    if node.home.startswith("remedies/"):
        return draft.remedies[node.home.removeprefix("remedies/")].steps[int(node.step) - 1]
    return draft.trees[node.home].steps[node.step]


def place_of(node: Node) -> tuple[str, KeyPath]:
    """Give the file and keys of a node."""
    if node.home.startswith("remedies/"):
        return remedy_path(node.home.removeprefix("remedies/")), ("steps", int(node.step) - 1)
    return tree_path(node.home), ("steps", node.step)


def gate_at(draft: Draft, node: Node) -> str | None:
    """Give the gate that a node is, if it is one."""
    step = step_at(draft, node)
    return step.gate if isinstance(step, GateStep | WorkGate) else None


def open_roofs(draft: Draft) -> frozenset[str]:
    """Give the roofs that some gate is for; nobody goes on any other."""
    return frozenset(roof for gate in draft.gates.values() for roof in gate.roofs)


def is_asked(step: object) -> bool:
    """Tell whether a step asks the walker something."""
    return isinstance(step, Question | Measure | GateStep)


def needs(step: StepBase | Action | WorkGate) -> frozenset[Where | Act]:
    """Give the place and acts that a step takes."""
    return frozenset((step.where, *step.acts)) if isinstance(step, Looked | Action) else frozenset()


def hazards_of(draft: Draft, step: StepBase | Action | WorkGate) -> tuple[str, ...]:
    """Give the hazards of a step: those its place and acts bring, and its own, in the table's order."""
    if not isinstance(step, Looked | Action):
        return ()
    brought = needs(step)
    return tuple(
        name
        for name, hazard in draft.hazards.items()
        if name in step.hazards or brought.intersection((*hazard.where, *hazard.acts))
    )


def cautions_for(draft: Draft, hazards: Iterable[str]) -> tuple[str, ...]:
    """Give the cautions that answer any of the hazards, in the table's order."""
    wanted = set(hazards)
    return tuple(name for name, caution in draft.cautions.items() if wanted.intersection(caution.answers))
