"""What covers what: from each tree that begins with a sign, the lasting remedies for a light on a covering.

A walk that knows its light and covering passes no answer that makes another certain, and no tree that takes
another for certain. What it can still end in is counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.graph import Node, exits_of, target_node
from build_tools.library import Draft
from build_tools.model import GoTo, Question, Remedy, RemedyStep, Tree
from build_tools.views import CoverRow, CoverView

Facts = Mapping[str, str]
"""The covering and the light that are there, by kind."""


def cover_views(draft: Draft) -> tuple[CoverView, ...]:
    """Give for each kind of light a table: signs by coverings on which that light is found."""
    signs = {name: tree for name, tree in draft.trees.items() if tree.begins_with == "sign"}
    return tuple(
        CoverView(
            light=draft.vocabulary.light[light],
            coverings=tuple(draft.vocabulary.covering[each] for each in coverings),
            rows=tuple(
                CoverRow(name, tree.title, tuple(len(lasting_ends(draft, name, _facts(light, c))) for c in coverings))
                for name, tree in signs.items()
            ),
        )
        for light, coverings in draft.vocabulary.found_on.items()
    )


def _facts(light: str, covering: str) -> Facts:
    return {"light": light, "covering": covering}


def lasting_ends(draft: Draft, tree_id: str, facts: Facts) -> frozenset[str]:
    """Give the lasting remedies that suit, of all in which a walk from the start of a tree can end."""
    start = Node(tree_id, draft.trees[tree_id].starts_at)
    if not _fits(draft.trees[tree_id].assumes, facts):
        return frozenset()
    reached = {start}
    to_look_at = [start]
    while to_look_at:
        new = set(_onward(draft, to_look_at.pop(), facts)) - reached
        reached |= new
        to_look_at += new
    steps = (draft.trees[node.home].steps[node.step] for node in reached)
    ends = {step.remedy for step in steps if isinstance(step, RemedyStep)}
    return frozenset(name for name in ends if _lasts_and_suits(draft.remedies[name], facts))


def _lasts_and_suits(remedy: Remedy, facts: Facts) -> bool:
    suits = {"light": remedy.suits.light, "covering": remedy.suits.covering}
    return remedy.lasts == "lasting" and all("any" in suits[kind] or facts[kind] in suits[kind] for kind in facts)


def _onward(draft: Draft, node: Node, facts: Facts) -> Iterator[Node]:
    """List the steps that come next where the light and the covering are these."""
    tree: Tree = draft.trees[node.home]
    step = tree.steps[node.step]
    if isinstance(step, GoTo):
        head = target_node(draft.trees, step.go_to)
        if head and _fits(draft.trees[head.home].assumes, facts):
            yield head
        return
    certain = step.establishes if isinstance(step, Question) else {}
    for answer, target in exits_of(step).items():
        if _fits(certain.get(answer, {}), facts):
            yield Node(node.home, target)


def _fits(certain: Mapping[str, tuple[str, ...]], facts: Facts) -> bool:
    return all(facts[kind] in values for kind, values in certain.items())
