"""Which thing of one version is which of the other: by id first, then by content where an id was changed.

Ids are stable for ever, so the same id is the same thing. What stands under an id on one side only, and
whose content stands once under an id on the other side only, was renamed (Stephan and Cordy, A survey of
model comparison approaches, 2013: identity first, similarity second).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from pydantic import BaseModel

from build_tools.formulas import Formula
from build_tools.model import Action, Remedy, WorkGate
from build_tools.proof.graph import Node
from build_tools.review.versions.places import Users, users
from build_tools.sources.library import Draft

T = TypeVar("T")
Pairs = tuple[tuple[int | None, int | None], ...]
"""Places in two lists that belong together; None where there is no partner."""
ALIKE = 0.5
"""The share of common words from which one text is taken for the other, reworded."""
PLACED: Mapping[str, Any] = {"accept": True, "exits": True, "part": True}
"""What says where a step stands, not what it is."""


def plain(text: str) -> str:
    """Fold white space, so that text which was only reflowed is the same."""
    return " ".join(text.split())


def content_of(record: BaseModel) -> Hashable:
    """Give what makes a record what it is, apart from its place among the others."""
    return plain(f"{type(record).__name__} {record.model_dump_json(exclude=dict(PLACED))}")


def renamed(before: Mapping[str, BaseModel], after: Mapping[str, BaseModel]) -> dict[str, str]:
    """Give the new id of each record that stands under another id only, by its old id."""
    gone = _alone(before[name] for name in before if name not in after)
    come = _alone(after[name] for name in after if name not in before)
    old = {content_of(record): name for name, record in before.items() if name not in after}
    new = {content_of(record): name for name, record in after.items() if name not in before}
    return {old[content]: new[content] for content in old if content in gone & come}


def _alone(records: Iterable[BaseModel]) -> set[Hashable]:
    times: dict[Hashable, int] = defaultdict(int)
    for record in records:
        times[content_of(record)] += 1
    return {content for content, count in times.items() if count == 1}


def aligned(before: Sequence[T], after: Sequence[T], key: Callable[[T], Hashable]) -> Pairs:
    """Pair two lists: equal keys first, each time they occur; then those alike in their words.

    What is left over is paired in order if it is as many on both sides.
    """
    here, there = _occurrences(before, key), _occurrences(after, key)
    pairs: list[tuple[int | None, int | None]] = [(here[each], there[each]) for each in here if each in there]
    left = {place: str(key(before[place])) for each, place in here.items() if each not in there}
    right = {place: str(key(after[place])) for each, place in there.items() if each not in here}
    for one, other in tuple(_alike(left, right)):
        pairs.append((one, other))
        del left[one], right[other]
    if len(left) == len(right):
        return (*pairs, *zip(left, right, strict=True))
    return (*pairs, *((place, None) for place in left), *((None, place) for place in right))


def overtaken(before: Sequence[str], after: Sequence[str]) -> Iterator[int]:
    """Give the places before of what both lists hold, and something stands ahead of now that stood behind."""
    for place, each in enumerate(before):
        if each in after and any(other in after[: after.index(each)] for other in before[place + 1 :]):
            yield place


def _alike(left: Mapping[int, str], right: Mapping[int, str]) -> Iterator[tuple[int, int]]:
    """Pair texts that share half of their words or more, the most alike first, whichever side is called left."""
    ranked = sorted(((one, other) for one in left for other in right), key=lambda each: _rank(left, right, *each))
    ones: set[int] = set()
    others: set[int] = set()
    for one, other in ranked:
        if alike(left[one], right[other]) >= ALIKE and one not in ones and other not in others:
            ones.add(one)
            others.add(other)
            yield one, other


def _rank(left: Mapping[int, str], right: Mapping[int, str], one: int, other: int) -> tuple[float, list[str], int]:
    return -alike(left[one], right[other]), sorted((left[one], right[other])), one + other


def alike(one: str, other: str) -> float:
    """Give the share of words that two texts have in common (Dice's coefficient)."""
    words = set(one.split()), set(other.split())
    return 2 * len(words[0] & words[1]) / max(1, len(words[0]) + len(words[1]))


def _occurrences(items: Sequence[T], key: Callable[[T], Hashable]) -> dict[Hashable, int]:
    times: dict[Hashable, int] = defaultdict(int)
    found: dict[Hashable, int] = {}
    for place, item in enumerate(items):
        times[key(item)] += 1
        found[key(item), times[key(item)]] = place
    return found


def work_key(step: Action | WorkGate) -> Hashable:
    """Give what a step of a remedy's work is told by."""
    return ("do", plain(step.do)) if isinstance(step, Action) else ("gate", step.gate)


@dataclass(frozen=True)
class Match:
    """Two drafts, and which thing of the one is which of the other."""

    before: Draft
    after: Draft

    @property
    def formulas(self) -> Mapping[str, Formula]:
        """The formulas by which measures of both are told: of the later tables, unless these cannot be used."""
        return self.after.formulas or self.before.formulas

    @cached_property
    def remedies(self) -> Mapping[str, str]:
        """New ids of renamed remedies, by their old ids."""
        return renamed(self.before.remedies, self.after.remedies)

    @cached_property
    def cautions(self) -> Mapping[str, str]:
        """New ids of renamed cautions, by their old ids."""
        return renamed(self.before.cautions, self.after.cautions)

    @cached_property
    def gates(self) -> Mapping[str, str]:
        """New ids of renamed gates, by their old ids."""
        named_now = {
            name: gate.model_copy(update={"cautions": tuple(self.cautions.get(each, each) for each in gate.cautions)})
            for name, gate in self.before.gates.items()
        }
        return renamed(named_now, self.after.gates)

    @cached_property
    def steps(self) -> Mapping[str, Mapping[str, str]]:
        """New ids of renamed steps, by their old ids, by tree."""
        both = [name for name in self.before.trees if name in self.after.trees]
        return {
            name: renamed(self.before.trees[name].steps, self.after.trees[name].steps)
            if self.before.trees[name].steps.keys() != self.after.trees[name].steps.keys()
            else {}
            for name in both
        }

    @cached_property
    def kept_remedies(self) -> Mapping[str, str]:
        """New ids of all remedies that both versions have, by their old ids."""
        kept = {name: name for name in self.before.remedies if name in self.after.remedies}
        return {**kept, **self.remedies}

    @cached_property
    def _users(self) -> tuple[Users, Users]:
        return users(self.before), users(self.after)

    def trees(self, kind: str, name: str) -> tuple[str, ...]:
        """Name the trees whose walks meet a thing in either version, by its kind and old id."""
        names = {"remedy": self.remedies, "gate": self.gates, "caution": self.cautions}.get(kind, {})
        old, new = self._users
        found = old.get((kind, name), frozenset()) | new.get((kind, names.get(name, name)), frozenset())
        return tuple(sorted(found))

    @cached_property
    def nodes(self) -> Mapping[Node, Node]:
        """Nodes of the forest that both versions have: the new one by the old one."""
        found: dict[Node, Node] = {}
        for name, names in self.steps.items():
            if self.before.trees[name] is self.after.trees[name]:
                found.update((node, node) for node in (Node(name, step) for step in self.before.trees[name].steps))
                continue
            kept = {step: step for step in self.before.trees[name].steps if step in self.after.trees[name].steps}
            found.update({Node(name, old): Node(name, new) for old, new in {**kept, **names}.items()})
        for old, new in self.kept_remedies.items():
            for here, there in work_pairs(self.before.remedies[old], self.after.remedies[new]):
                if here is not None and there is not None:
                    found[Node(f"remedies/{old}", str(here + 1))] = Node(f"remedies/{new}", str(there + 1))
        return found

    @cached_property
    def _other_way(self) -> Match:
        return Match(self.after, self.before)

    def mirrored(self) -> Match:
        """Give the match of the same drafts the other way round."""
        return self._other_way


def work_pairs(before: Remedy, after: Remedy) -> Pairs:
    """Pair the steps of a remedy's work; a gate is never paired with an action."""
    pairs = aligned(before.steps, after.steps, work_key)
    apart = [
        (here, there)
        for here, there in pairs
        if here is not None and there is not None and type(before.steps[here]) is not type(after.steps[there])
    ]
    split = [each for here, there in apart for each in ((here, None), (None, there))]
    return (*(pair for pair in pairs if pair not in apart), *split)
