"""Rules of the graph: one way in, no dead end, no circle, nothing asked twice, no way too long."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping

import networkx as nx

from build_tools.model import GoTo, Measure, Question, RemedyStep, StepBase, Tree
from build_tools.model.problems import Finding
from build_tools.proof.counting import asked_in, longest_from
from build_tools.proof.graph import DONE, Graph, Node, exits_of, forest_graph, step_at, tree_graph
from build_tools.sources.library import Draft, tree_path

TOO_DEEP = 13
DEEP = 10


def flow(draft: Draft) -> Iterator[Finding]:
    """Find what is wrong with the ways through each tree and through all together."""
    for tree_id, tree in draft.trees.items():
        if _is_whole(tree):
            yield from _one_tree(tree_id, tree)
    yield from _between_trees(draft)


def _is_whole(tree: Tree) -> bool:
    """Tell whether every exit leads to a step; a broken exit is told once, by the rule for it."""
    targets = [target for step in tree.steps.values() for target in exits_of(step).values()]
    return tree.starts_at in tree.steps and all(target in tree.steps for target in targets)


def _one_tree(tree_id: str, tree: Tree) -> Iterator[Finding]:
    graph = tree_graph(tree_id, tree)
    start = Node(tree_id, tree.starts_at)
    reached = nx.descendants(graph, start) | {start}
    ends = [node for node in graph if isinstance(tree.steps[node.step], RemedyStep | GoTo)]
    ending = set(ends).union(*(nx.ancestors(graph, end) for end in ends))
    for node in graph:
        if node not in reached:
            what = f'nothing leads to step "{node.step}"'
            yield _at(node, "unreachable-step", what, "Lead an exit to it, or take it out.")
        if node not in ending:
            what = f'no way from step "{node.step}" ends in a remedy'
            yield _at(node, "dead-end", what, "Give it a way on, to a remedy or another tree.")
    try:
        yield from _depth(tree_id, tree, graph)
    except nx.NetworkXUnfeasible:
        yield _told_circle(graph, _circle(graph))


def _at(node: Node, code: str, what: str, mend: str) -> Finding:
    return Finding(code, tree_path(node.home), ("steps", node.step), what, mend)


def _circle(graph: Graph) -> list[Node]:
    """Give the nodes of one circle of a graph that has one, beginning with the first in the files."""
    nodes = [edge[0] for edge in nx.find_cycle(graph)]
    order = {node: number for number, node in enumerate(graph)}
    first = nodes.index(min(nodes, key=order.__getitem__))
    return nodes[first:] + nodes[:first]


def _told_circle(graph: Graph, circle: list[Node]) -> Finding:
    """Tell of a circle at the exit that closes it."""
    same_tree = len({node.home for node in circle}) == 1
    names = [node.step if same_tree else str(node) for node in (*circle, circle[0])]
    what = f"the walk goes round in a circle: {' -> '.join(names)}"
    last, exit_name = circle[-1], next(iter(graph[circle[-1]][circle[0]]))
    keys = {"go-to": ("go-to",), DONE: ("then",)}.get(exit_name, ("exits", exit_name))
    mend = "Lead this exit, or another of these, somewhere new. Until then nobody knows what suits or is asked twice."
    return Finding("circle", tree_path(last.home), ("steps", last.step, *keys), what, mend)


def _depth(tree_id: str, tree: Tree, graph: Graph) -> Iterator[Finding]:
    longest = longest_from(graph, asked_in(graph, tree))[Node(tree_id, tree.starts_at)]
    if longest > DEEP:
        code, bound = ("too-deep", TOO_DEEP) if longest > TOO_DEEP else ("deep", DEEP)
        what = f"the longest way asks {longest} times; at most {bound} are wanted"
        yield Finding(code, tree_path(tree_id), ("starts-at",), what, "Ask less, or hand a part over to another tree.")


def _between_trees(draft: Draft) -> Iterator[Finding]:
    graph = forest_graph(draft)
    circle = _circle_through_trees(graph)
    if circle:
        yield _told_circle(graph, circle)
    if nx.is_directed_acyclic_graph(graph):
        yield from _asked_twice(draft, graph)


def _circle_through_trees(graph: Graph) -> list[Node]:
    """Give the nodes of a circle that a hand-over closes, whatever circles the trees have by themselves."""
    together = {node: number for number, part in enumerate(nx.strongly_connected_components(graph)) for node in part}
    for tail, head, exit_name in graph.edges(keys=True):
        if exit_name == "go-to" and together[tail] == together[head]:
            way: list[Node] = nx.shortest_path(graph, head, tail)
            return way
    return []


def _wording(step: StepBase) -> str | None:
    if isinstance(step, Question | Measure):
        return " ".join(step.question.lower().split())
    return None


def _asked_twice(draft: Draft, graph: Graph) -> Iterator[Finding]:
    asked: dict[str, list[Node]] = defaultdict(list)
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            if wording := _wording(step):
                asked[wording].append(Node(tree_id, name))
    for nodes in asked.values():
        behind = _led_to(graph, nodes) if len(nodes) > 1 else {}
        for again in nodes:
            if again in behind:
                question = getattr(step_at(draft, again), "question", "")
                what = f'"{question}" was already asked at "{behind[again]}" on the same way'
                keys = ("steps", again.step, "question")
                mend = "Ask it once, and hand over to the step after it."
                yield Finding("asked-twice", tree_path(again.home), keys, what, mend)


def _led_to(graph: Graph, nodes: Iterable[Node]) -> Mapping[Node, Node]:
    """Give every node that some of these lead to, with the nearest of them; each node is looked at once."""
    nearest: dict[Node, Node] = {}
    waiting = deque((node, node) for node in nodes)
    while waiting:
        node, first = waiting.popleft()
        for head in graph.successors(node):
            if head not in nearest:
                nearest[head] = first
                waiting.append((head, first))
    return nearest
