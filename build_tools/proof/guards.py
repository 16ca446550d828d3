"""What stands on every way to a step, asked of the one graph by the proof, the review, the pages and the shell.

A gate guards by its yes: whoever answers otherwise has not passed it. So one gate guards a step alone where it
dominates it in the flow graph, and several guard it together where every way passes one of those that open the
same place. Both are found at once, since it is not gates that are followed but what they leave on whoever passes.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Container, Iterable, Iterator, Mapping
from typing import TypeVar

import networkx as nx

N = TypeVar("N")
M = TypeVar("M")
YES = "yes"


def on_every_way(graph: nx.MultiDiGraph[N], start: N, marks: Mapping[N, Iterable[M]]) -> Mapping[N, frozenset[M]]:
    """Give, for each step that a start leads to, the marks that no way from there to it can miss.

    graph: steps, joined by exits as keys. marks: what the yes of each gate leaves on whoever passes it, such as its
    id or what it opens. A step is looked at again only when a way is found that brings less to it; so circles do no
    harm, and it is looked at as often as there are marks at most, and once.
    """
    left = {gate: frozenset(brought) for gate, brought in marks.items()}
    heads = dict(graph.adjacency())
    found: dict[N, frozenset[M]] = {start: frozenset()}
    waiting = deque((start,))
    while waiting:
        tail = waiting.popleft()
        for head, exits in heads[tail].items():
            brought = found[tail] | left[tail] if tail in left and _only_yes(exits) else found[tail]
            known = found.get(head)
            if known is None or not known <= brought:
                found[head] = brought if known is None else known & brought
                waiting.append(head)
    return found


def _only_yes(exits: Collection[str]) -> bool:
    return len(exits) == 1 and YES in exits


def reached_without(graph: nx.MultiDiGraph[N], start: N, shut: Container[N]) -> Mapping[N, N | None]:
    """Walk everywhere from a start, but never by the yes of a gate that is shut.

    Gives each step that is reached, the nearest first, with the step that it was first reached from.
    """

    def onward(tail: N) -> Iterator[N]:
        heads = graph.successors(tail)
        return (head for head in heads if not _only_yes(graph[tail][head])) if tail in shut else heads

    return {start: None, **{head: tail for tail, head in nx.generic_bfs_edges(graph, start, onward)}}


def last_gates(graph: nx.MultiDiGraph[N], goal: N, gates: Container[N]) -> tuple[N, ...]:
    """Give those of the gates that are the last of them on some way to a step."""
    found: dict[N, None] = {}
    seen = {goal}
    waiting = [goal]
    while waiting:
        head = waiting.pop()
        for tail, exits in graph.pred[head].items():
            if tail in gates and YES in exits:
                found[tail] = None
            if tail not in seen and not (tail in gates and _only_yes(exits)):
                seen.add(tail)
                waiting.append(tail)
    return tuple(found)
