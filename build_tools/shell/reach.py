"""How any step is reached, and what guards it: ways counted, the shortest answers, the gates on every way.

All of it comes from `walk.walk_data`, so that it holds for the very walk that the page offers. A gate that
was passed stays open within a walk, and is not asked again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from build_tools.guide.views import GuideView
from build_tools.proof.walk import WalkData, is_open, opened_by

if TYPE_CHECKING:
    import networkx as nx

Walks = Mapping[str, WalkData]


class Spot(NamedTuple):
    """A step of a tree; `passed` marks the far side of a gate, where its yes leads."""

    tree: str
    step: str
    passed: bool = False

    def __str__(self) -> str:
        return f"{self.tree}/{self.step}"


class _State(NamedTuple):
    """Where a walk stands, and the gates that are open by then."""

    spot: Spot
    opened: frozenset[str]


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


def _moves(walks: Walks, state: _State) -> Iterator[tuple[str, _State]]:
    """List what can be answered where a walk stands: nothing but yes, unasked, at a gate that is open."""
    gate = step_data(walks, state.spot).get("gate")
    for answer, head in _exits(walks, state.spot):
        if gate is None or not is_open(gate, state.opened):
            opened = state.opened | opened_by(gate) if gate and answer == "yes" else state.opened
            yield answer, _State(head, opened)
        elif answer == "yes":
            yield "", _State(head, state.opened)


def _in_order(walks: Walks, first: _State) -> list[_State]:
    """Order all that a walk can come to so that each comes after those that lead to it; the guide has no circle."""
    import networkx as nx

    graph: nx.DiGraph[_State] = nx.DiGraph()
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
    first = _State(Spot(start, walks[start]["start"]), frozenset())
    count = {first: 1}
    answers: dict[_State, tuple[str, ...]] = {first: ()}
    order = _in_order(walks, first)
    for state in order:
        for answer, head in _moves(walks, state):
            count[head] = count.get(head, 0) + count[state]
            said = (*answers[state], answer) if answer else answers[state]
            answers[head] = min(answers.get(head, said), said, key=len)
    ends: dict[Spot, list[_State]] = {goal: [] for goal in goals}
    for state in order:
        if state.spot in ends:
            ends[state.spot].append(state)
    return {
        goal: Ways(
            start,
            sum(count[state] for state in states),
            min((answers[state] for state in states), key=len, default=None),
        )
        for goal, states in ends.items()
    }


def guards_of(walks: Walks, entries: Iterable[Spot], goals: Sequence[Spot]) -> Mapping[Spot, Guards]:
    """Find the gates that no way to a step can miss, by dominance, from every entry of the guide.

    The same question as the rule `ungated` asks: with the yes of all gates that open a need taken away,
    the step is not reached.
    """
    spots = [Spot(tree, step) for tree, walk in walks.items() for step in walk["steps"]]
    begin = tuple(entries)
    plain = _passages(walks, spots, begin, {})
    nearest = _dominators(plain)
    needs = {goal: tuple(step_data(walks, goal)["needs"]) for goal in goals}
    openers: dict[Spot, dict[str, tuple[Spot, ...]]] = {goal: {} for goal in goals}
    for need in dict.fromkeys(need for named in needs.values() for need in named):
        opening = [spot for spot in spots if need in step_data(walks, spot).get("gate", {}).get("opens", ())]
        one = Spot("", need, True)
        together = _dominators(_passages(walks, spots, begin, dict.fromkeys(opening, one)))
        for goal in (each for each in goals if need in needs[each]):
            opens = one in _chain(together, goal)
            openers[goal][need] = _nearest(plain, goal, opening) if opens else ()
    return {goal: Guards(needs[goal], _passed(_chain(nearest, goal)), openers[goal]) for goal in goals}


def _passed(chain: Iterable[Spot]) -> tuple[Spot, ...]:
    return tuple(spot._replace(passed=False) for spot in chain if spot.passed)


def _passages(
    walks: Walks, spots: list[Spot], entries: Iterable[Spot], merged: Mapping[Spot, Spot]
) -> nx.DiGraph[Spot]:
    """Make the graph of all trees from one entry, with a node in the yes of each gate.

    Gates in `merged` share one node, which then lies on every way that passes any of them; ways that do not
    pass it are as before, so its dominance is that of all these gates together.
    """
    import networkx as nx

    graph: nx.DiGraph[Spot] = nx.DiGraph()
    graph.add_nodes_from((ENTRY, *spots))
    graph.add_edges_from((ENTRY, entry) for entry in entries)
    for spot in spots:
        for answer, head in _exits(walks, spot):
            if answer == "yes" and step_data(walks, spot)["kind"] == "gate":
                far = merged.get(spot, spot._replace(passed=True))
                graph.add_edges_from(((spot, far), (far, head)))
            else:
                graph.add_edge(spot, head)
    return graph


def _dominators(graph: nx.DiGraph[Spot]) -> Mapping[Spot, Spot]:
    """Give for each step the nearest that every way from the entry to it passes."""
    import networkx as nx

    nearest: Mapping[Spot, Spot] = nx.immediate_dominators(graph, ENTRY)
    return nearest


def _chain(nearest: Mapping[Spot, Spot], goal: Spot) -> tuple[Spot, ...]:
    """Give what every way from the entry to a step passes, the first first."""
    chain: list[Spot] = []
    here = goal
    while here != ENTRY and here in nearest:
        here = nearest[here]
        chain.append(here)
    return tuple(reversed(chain))


def _nearest(graph: nx.DiGraph[Spot], goal: Spot, gates: Iterable[Spot]) -> tuple[Spot, ...]:
    """Give those of the gates that are the last of them on some way to a step."""
    far = {gate._replace(passed=True): gate for gate in gates}
    found: dict[Spot, None] = {}
    seen = {goal}
    waiting = [goal]
    while waiting:
        for tail in graph.predecessors(waiting.pop()):
            if tail in far:
                found[far[tail]] = None
            elif tail not in seen:
                seen.add(tail)
                waiting.append(tail)
    return tuple(found)
