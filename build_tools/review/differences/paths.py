"""Both versions of a tree walked in step: how many answer paths end differently, and the shortest of each.

An answer path of two versions is what one person would answer on the way through both: a path of the one
and a path of the other that agree wherever both ask the same step. A state of the walk is where it stands
in each version, with the answers that the other version has yet to ask for. Paths are counted over these
states and never listed, because a tree of 50 steps can hold millions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple, TypeGuard, TypeVar

import networkx as nx

from build_tools.model import GoTo, Measure, RemedyStep, StepBase
from build_tools.model.problems import KeyPath
from build_tools.proof.counting import in_walk_order
from build_tools.proof.graph import Node, exits_of, target_node, tree_graph
from build_tools.review.record.changes import Answered, Asked, Ending
from build_tools.sources.library import Draft

MOST_STATES = 100_000
"""So many are walked; more arise only where most questions of a large tree changed their order."""
NOWHERE = "?"
"""The place of an answer that a version does not offer; no id has this letter."""
NOTHING = Ending(kind="nothing", name="", title="nothing")


T = TypeVar("T")


class Uncounted(Exception):
    """The paths cannot be compared; the message says why."""


class Key(NamedTuple):
    """What makes two steps the same question: the id, the kind, and the formula of a measure."""

    step: str
    kind: str
    formula: str


@dataclass(frozen=True, slots=True)
class Walk:
    """One version of a tree, as places that ask and places that end."""

    start: str
    asks: Mapping[str, Key]
    exits: Mapping[str, Mapping[str, str]]
    ends: Mapping[str, Ending]
    rank: Mapping[str, int]
    """A place's number: greater after every answer."""
    ahead: Mapping[str, frozenset[Key]]
    """What can still be asked from a place on, itself included."""
    makes_safe: Mapping[str, str]
    """The remedy that makes safe before the walk goes on, by its place."""


class State(NamedTuple):
    """Where a walk stands in both versions."""

    before: str
    after: str
    known: frozenset[tuple[Key, str]]
    """Answers given in one version that the other may still ask for."""
    past: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())
    """The remedies that made safe on the way, in each version."""


class Tally(NamedTuple):
    """How many ways lead to a state, and the shortest."""

    ways: int
    shortest: tuple[Answered, ...]


def walk_of(
    draft: Draft,
    tree_id: str,
    nodes: Mapping[Node, Node],
    remedies: Mapping[str, str],
    safe: frozenset[str] = frozenset(),
) -> Walk:
    """Describe a tree's walk; `nodes` and `remedies` give what counts as the id where one was changed.

    safe: the remedies that make safe, by the ids that count. Raises Uncounted where the walk goes round in a circle.
    """
    tree = draft.trees.get(tree_id)
    if tree is None:
        return _walk("", {}, {}, {"": NOTHING}, [])
    try:
        order = [node.step for node in in_walk_order(tree_graph(tree_id, tree))]
    except nx.NetworkXUnfeasible:
        raise Uncounted("the walk goes round in a circle") from None
    exits = {name: exits_of(step) for name, step in tree.steps.items()}
    done = {name: remedies.get(each.remedy, each.remedy) for name, each in tree.steps.items() if _goes_on(each)}
    ends = {name: _ending(draft, tree.steps[name], name, nodes, remedies) for name in order if not exits[name]}
    targets = {target for each in exits.values() for target in each.values()} | {tree.starts_at}
    ends |= {name: _missing(name) for name in sorted(targets - set(tree.steps))}
    asks = {name: _key(tree.steps[name], nodes.get(Node(tree_id, name), Node(tree_id, name))) for name in order}
    walk = _walk(tree.starts_at, {name: asks[name] for name in order if exits[name]}, exits, ends, order)
    return replace(walk, makes_safe={name: remedy for name, remedy in done.items() if remedy in safe})


def _goes_on(step: StepBase) -> TypeGuard[RemedyStep]:
    return isinstance(step, RemedyStep) and step.then is not None


def _walk(
    start: str,
    asks: Mapping[str, Key],
    exits: Mapping[str, Mapping[str, str]],
    ends: Mapping[str, Ending],
    order: list[str],
) -> Walk:
    every_end = {**ends, NOWHERE: _missing(NOWHERE)}
    places = dict.fromkeys((*order, *every_end))
    ahead: dict[str, frozenset[Key]] = {name: frozenset() for name in every_end}
    for name in reversed(order):
        if name in asks:
            ahead[name] = frozenset((asks[name],)).union(*(ahead[target] for target in exits[name].values()))
    return Walk(start, asks, exits, every_end, {name: place for place, name in enumerate(places)}, ahead, {})


def _key(step: StepBase, node: Node) -> Key:
    return Key(node.step, type(step).__name__, step.measure if isinstance(step, Measure) else "")


def _ending(draft: Draft, step: StepBase, name: str, nodes: Mapping[Node, Node], remedies: Mapping[str, str]) -> Ending:
    if isinstance(step, RemedyStep):
        title = draft.remedies[step.remedy].title if step.remedy in draft.remedies else step.remedy
        return Ending(kind="remedy", name=remedies.get(step.remedy, step.remedy), title=title)
    if not isinstance(step, GoTo):
        return _missing(name)
    head = target_node(draft.trees, step.go_to)
    if head is None:
        return Ending(kind="go-to", name=step.go_to, title=step.go_to)
    name = str(nodes.get(head, head)) if "/" in step.go_to else head.home
    return Ending(kind="go-to", name=name, title=draft.trees[head.home].title)


def _missing(name: str) -> Ending:
    return Ending(kind="missing", name=name, title=name)


def walk_in_step(before: Walk, after: Walk) -> dict[tuple[Ending, Ending], Tally]:
    """Count the answer paths by where they end in each version. Raises Uncounted where there are too many states."""
    course = _Course(before, after, _answers(before, after))
    levels: list[dict[State, Tally]] = [{} for _ in range(len(before.rank) + len(after.rank))]
    first = State(before.start, after.start, frozenset())
    levels[course.level(first)][first] = Tally(1, ())
    found: dict[tuple[Ending, Ending], Tally] = {}
    walked = 0
    for level in levels:
        walked += len(level)
        if walked > MOST_STATES:
            raise Uncounted("its questions changed their order too much")
        for state, tally in level.items():
            moves = list(course.moves(state))
            for onward, answered in moves:
                _add(levels[course.level(onward)], onward, _longer(tally, answered))
            if not moves:
                ends = before.ends[state.before], after.ends[state.after]
                _add(found, (_past(ends[0], state.past[0]), _past(ends[1], state.past[1])), tally)
    return found


def _past(end: Ending, remedies: frozenset[str]) -> Ending:
    return end.model_copy(update={"past": tuple(sorted(remedies))}) if remedies else end


def _answers(before: Walk, after: Walk) -> Mapping[Key, tuple[str, ...]]:
    """Give the answers to each question that either version offers."""
    offered: dict[Key, dict[str, None]] = {}
    for walk in (before, after):
        for name, key in walk.asks.items():
            offered.setdefault(key, {}).update(dict.fromkeys(walk.exits[name]))
    return {key: tuple(answers) for key, answers in offered.items()}


def _longer(tally: Tally, answered: Answered | None) -> Tally:
    return Tally(tally.ways, (*tally.shortest, answered) if answered else tally.shortest)


def _rank(way: tuple[Answered, ...]) -> tuple[int, list[tuple[str, str]]]:
    """Rank the shorter way first, and of two that are as short always the same one."""
    return len(way), sorted((each.step, each.answer) for each in way)


def _add(tallies: dict[T, Tally], key: T, more: Tally) -> None:
    known = tallies.get(key)
    if known is not None:
        more = Tally(known.ways + more.ways, min(known.shortest, more.shortest, key=_rank))
    tallies[key] = more


@dataclass(frozen=True, slots=True)
class _Course:
    before: Walk
    after: Walk
    answers: Mapping[Key, tuple[str, ...]]

    def level(self, state: State) -> int:
        return self.before.rank[state.before] + self.after.rank[state.after]

    def moves(self, state: State) -> Iterator[tuple[State, Answered | None]]:
        """Give the states that follow. A version waits where the other has yet to ask what it is asking."""
        here, there = self.before.asks.get(state.before), self.after.asks.get(state.after)
        known = dict(state.known)
        if here is not None and here in known:
            yield self._moved(state, here, known[here], "before"), None
        elif there is not None and there in known:
            yield self._moved(state, there, known[there], "after"), None
        elif here is not None and here == there:
            yield from self._fanned(state, here, "both")
        elif here is not None and here not in self.after.ahead[state.after]:
            yield from self._fanned(state, here, "before")
        elif there is not None and there not in self.before.ahead[state.before]:
            yield from self._fanned(state, there, "after")
        elif here is not None:
            # Each version asks first what the other asks later: one goes on, and its answer is kept.
            yield from self._fanned(state, here, "before")

    def _fanned(self, state: State, key: Key, asked: Asked) -> Iterator[tuple[State, Answered]]:
        for answer in self.answers[key]:
            yield self._moved(state, key, answer, asked), Answered(step=key.step, answer=answer, asked=asked)

    def _moved(self, state: State, key: Key, answer: str, asked: Asked) -> State:
        here, there = state.before, state.after
        past = state.past
        if asked != "after":
            past = past[0] | _named(self.before.makes_safe, here), past[1]
            here = self.before.exits[here].get(answer, NOWHERE)
        if asked != "before":
            past = past[0], past[1] | _named(self.after.makes_safe, there)
            there = self.after.exits[there].get(answer, NOWHERE)
        ahead = self.before.ahead[here] | self.after.ahead[there]
        known = frozenset(each for each in (*state.known, (key, answer)) if each[0] in ahead)
        return State(here, there, known, past)


def _named(remedies: Mapping[str, str], place: str) -> frozenset[str]:
    return frozenset((remedies[place],)) if place in remedies else frozenset()


def parting(before: Walk, after: Walk, example: tuple[Answered, ...]) -> tuple[KeyPath, KeyPath]:
    """Give the keys, in each version's file, of the exit after which an example's ways are no longer the same."""
    known: dict[str, str] = {each.step: each.answer for each in example}
    here, there = before.start, after.start
    last: tuple[KeyPath, KeyPath] = (("starts-at",), ("starts-at",))
    while here in before.asks and there in after.asks and before.asks[here] == after.asks[there]:
        answer = known[before.asks[here].step]
        last = (("steps", here, "exits", answer), ("steps", there, "exits", answer))
        here, there = before.exits[here].get(answer, NOWHERE), after.exits[there].get(answer, NOWHERE)
    return last
