"""How any step is reached, and what guards it: ways counted, the shortest answers, the gates on every way.

All of it comes from `walk.walk_data`, so that it holds for the very walk that the page offers. A gate that
was passed stays open within a walk, and is not asked again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import networkx as nx

from build_tools.guide.views import GuideView
from build_tools.proof.guards import last_gates, on_every_way
from build_tools.proof.walk import State, WalkData, answered, unasked

Walks = Mapping[str, WalkData]


class Spot(NamedTuple):
    """A step of a tree."""

    tree: str
    step: str

    def __str__(self) -> str:
        return f"{self.tree}/{self.step}"


ENTRY = Spot("", "")
"""Where everybody begins who opens the guide."""


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways from a tree's start to a step: how many, and the fewest answers that lead there (None: no way)."""

    start: str
    count: int
    answers: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class Guards:
    """What guards a step. A gate counts by its yes."""

    needs: tuple[str, ...]
    """The places and acts that the step takes and a gate must have opened."""
    on_every_way: tuple[Spot, ...]
    """The gates that every way passes, the first first; a way begins wherever the guide can be entered."""
    openers: Mapping[str, tuple[Spot, ...]]
    """By need: the last gates that open it, of which every way passes one. Empty where some way passes none."""


def entries_of(guide: GuideView, walks: Walks) -> tuple[Spot, ...]:
    """Give where a walk can begin: at the start of every tree, and where a failed proof leads."""
    targets = (*walks, *(each.remedy.after_failed_proof for each in guide.remedies))
    spots = (target.partition("/") for target in targets)
    return tuple(dict.fromkeys(Spot(tree, step or walks[tree]["start"]) for tree, _, step in spots if tree in walks))


def step_data(walks: Walks, spot: Spot) -> Mapping[str, Any]:
    """Give the data of a step."""
    data: Mapping[str, Any] = walks[spot.tree]["steps"][spot.step]
    return data


def _exits(walks: Walks, spot: Spot) -> Iterator[tuple[str, Spot]]:
    """List the exits of a step, a hand-over being one without a name."""
    data = step_data(walks, spot)
    if "goTo" in data:
        yield "", Spot(data["goTo"]["tree"], data["goTo"]["step"])
    yield from ((answer, Spot(spot.tree, target)) for answer, target in data["exits"].items())


def _moves(walks: Walks, state: State) -> Iterator[tuple[str, State]]:
    """List what can be answered where a walk stands, each with where it leads; nothing where it goes on unasked."""
    if onward := unasked(walks, state):
        yield "", onward
    else:
        exits = step_data(walks, Spot(state.tree, state.step))["exits"]
        yield from ((answer, answered(walks, state, answer)) for answer in exits)


def _in_order(walks: Walks, first: State) -> list[State]:
    """Order all that a walk can come to so that each comes after those that lead to it; the guide has no circle."""
    graph: nx.DiGraph[State] = nx.DiGraph()
    graph.add_node(first)
    waiting = [first]
    while waiting:
        state = waiting.pop()
        for _, head in _moves(walks, state):
            waiting += [] if head in graph else [head]
            graph.add_edge(state, head)
    return list(nx.topological_sort(graph))


def ways_to(walks: Walks, start: str, goals: Iterable[Spot]) -> Mapping[Spot, Ways]:
    """Count the ways from a tree's start to each of these steps, and find the fewest answers that lead there."""
    first = State(start, walks[start]["start"])
    count = {first: 1}
    answers: dict[State, tuple[str, ...]] = {first: ()}
    order = _in_order(walks, first)
    for state in order:
        for answer, head in _moves(walks, state):
            count[head] = count.get(head, 0) + count[state]
            said = (*answers[state], answer) if answer else answers[state]
            answers[head] = min(answers.get(head, said), said, key=len)
    ends: dict[Spot, list[State]] = {goal: [] for goal in goals}
    for state in order:
        if (spot := Spot(state.tree, state.step)) in ends:
            ends[spot].append(state)
    return {
        goal: Ways(
            start,
            sum(count[state] for state in states),
            min((answers[state] for state in states), key=len, default=None),
        )
        for goal, states in ends.items()
    }


def guards_of(walks: Walks, entries: Iterable[Spot], goals: Sequence[Spot]) -> Mapping[Spot, Guards]:
    """Find the gates that no way to a step can miss, from every entry of the guide."""
    graph = _graph(walks, entries)
    gates = {Spot(tree, name): step["gate"] for tree, name, step in _steps(walks) if step["kind"] == "gate"}
    passed = on_every_way(graph, ENTRY, {spot: (spot,) for spot in gates})
    opened = on_every_way(graph, ENTRY, {spot: gate["opens"] for spot, gate in gates.items()})

    def openers(goal: Spot, need: str) -> tuple[Spot, ...]:
        opening = {spot for spot, gate in gates.items() if need in gate["opens"]}
        return last_gates(graph, goal, opening) if need in opened.get(goal, ()) else ()

    found = {}
    for goal in goals:
        needs = tuple(step_data(walks, goal)["needs"])
        # Whoever passes one of these gates has passed all before it.
        in_order = tuple(sorted(passed.get(goal, ()), key=lambda gate: len(passed[gate])))
        found[goal] = Guards(needs, in_order, {need: openers(goal, need) for need in needs})
    return found


def _steps(walks: Walks) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    return ((tree, name, step) for tree, walk in walks.items() for name, step in walk["steps"].items())


def _graph(walks: Walks, entries: Iterable[Spot]) -> nx.MultiDiGraph[Spot]:
    """Make the graph of all trees from one entry, joined as the walk goes from step to step."""
    graph: nx.MultiDiGraph[Spot] = nx.MultiDiGraph()
    graph.add_node(ENTRY)
    for entry in entries:
        graph.add_edge(ENTRY, entry, key="entry")
    for tree, name, _ in _steps(walks):
        for answer, head in _exits(walks, Spot(tree, name)):
            graph.add_edge(Spot(tree, name), head, key=answer)
    return graph
