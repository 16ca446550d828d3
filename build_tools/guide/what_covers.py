"""What covers what: from each tree that begins with a sign, the lasting remedies for a light on a covering.

A walk that knows its light and covering passes no answer that makes another certain, and no tree that takes
another for certain. What it can still end in is counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from build_tools.guide.views import GuideView
from build_tools.model import GoTo, Question, Remedy, RemedyStep, Tree
from build_tools.proof.graph import Node, exits_of, target_node

Facts = Mapping[str, str]
"""The covering and the light that are there, by kind."""


@dataclass(frozen=True, slots=True)
class CoverRow:
    """A tree that begins with a sign, and for each covering the count of lasting remedies it can end in."""

    tree: str
    title: str
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CoverView:
    """What the guide has for one kind of light, on each covering that it is set in."""

    id: str
    light: str
    coverings: tuple[str, ...]
    rows: tuple[CoverRow, ...]


def cover_views(guide: GuideView) -> tuple[CoverView, ...]:
    """Give for each kind of light a table: signs by coverings on which that light is found."""
    vocabulary = guide.vocabulary
    signs = sorted(guide.trees_that_begin_with("sign"), key=lambda each: each.id)
    return tuple(
        CoverView(
            id=light,
            light=vocabulary.light[light],
            coverings=tuple(vocabulary.covering[each] for each in coverings),
            rows=tuple(
                CoverRow(sign.id, sign.tree.title, tuple(_count(guide, sign.id, light, each) for each in coverings))
                for sign in signs
            ),
        )
        for light, coverings in vocabulary.found_on.items()
    )


def _count(guide: GuideView, tree_id: str, light: str, covering: str) -> int:
    return len(lasting_ends(guide, tree_id, {"light": light, "covering": covering}))


def lasting_ends(guide: GuideView, tree_id: str, facts: Facts) -> frozenset[str]:
    """Give the lasting remedies that suit, of all in which a walk from the start of a tree can end."""
    trees = {each.id: each.tree for each in guide.trees}
    if not _fits(trees[tree_id].assumes, facts):
        return frozenset()
    start = Node(tree_id, trees[tree_id].starts_at)
    reached = {start}
    to_look_at = [start]
    while to_look_at:
        new = set(_onward(trees, to_look_at.pop(), facts)) - reached
        reached |= new
        to_look_at += new
    steps = (trees[node.home].steps[node.step] for node in reached)
    ends = {step.remedy for step in steps if isinstance(step, RemedyStep)}
    return frozenset(each.id for each in guide.remedies if each.id in ends and _lasts_and_suits(each.remedy, facts))


def _lasts_and_suits(remedy: Remedy, facts: Facts) -> bool:
    suits = {"light": remedy.suits.light, "covering": remedy.suits.covering}
    return remedy.lasts == "lasting" and all("any" in suits[kind] or facts[kind] in suits[kind] for kind in facts)


def _onward(trees: Mapping[str, Tree], node: Node, facts: Facts) -> Iterator[Node]:
    """List the steps that come next where the light and the covering are these."""
    step = trees[node.home].steps[node.step]
    if isinstance(step, GoTo):
        head = target_node(trees, step.go_to)
        if head and _fits(trees[head.home].assumes, facts):
            yield head
        return
    certain = step.establishes if isinstance(step, Question) else {}
    for answer, target in exits_of(step).items():
        if _fits(certain.get(answer, {}), facts):
            yield Node(node.home, target)


def _fits(certain: Mapping[str, tuple[str, ...]], facts: Facts) -> bool:
    return all(facts[kind] in values for kind, values in certain.items())
