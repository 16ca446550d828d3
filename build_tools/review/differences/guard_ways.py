"""Cautions and gates as a reader meets them: which no longer stand before a step that both versions have.

A gate stands before a step when every way to it, from every place where a reader may begin, takes the gate's
yes; this is dominance in the flow graph. A caution stands before a step of a tree when it answers one of the
step's hazards, and before a step of a remedy's work when it was first shown there or earlier.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import networkx as nx

from build_tools.model import WorkGate
from build_tools.model.problems import KeyPath
from build_tools.proof.graph import ROOT, Graph, Node, forest_nodes, gate_at, gates_of, remedy_node, rooted_forest
from build_tools.proof.guards import on_every_way
from build_tools.review.record.changes import Change, Row
from build_tools.review.versions.matching import Match, overtaken
from build_tools.review.versions.places import Dangers, home_spot
from build_tools.sources.library import Draft

Standing = Mapping[Node, frozenset[str]]
"""The cautions or gates that stand before each step."""


@dataclass(frozen=True, slots=True)
class Guards:
    """What stands before each step of one version."""

    cautions: Standing
    gates: Standing
    """Of the steps that can be reached at all."""
    forest: Graph


def guards_of(draft: Draft) -> Guards:
    """Find what stands before each step."""
    forest = rooted_forest(draft)
    passed = on_every_way(forest, ROOT, {node: (gate,) for node, gate in gates_of(draft).items()})
    return Guards(_cautions_met(draft), {node: passed[node] for node in forest_nodes(draft) if node in passed}, forest)


def way_losses(match: Match, before: Guards, after: Guards) -> Iterator[Row]:
    """Find what stood before a step, or in a remedy's list, in the first version and does not in the second."""
    listed = list(_listed(match))
    told = {(row.subject, row.detail) for row in listed}
    yield from (*listed, *_overtaken(match))
    for row in (*_cautions(match, before.cautions, after.cautions), *_gates(match, before, after)):
        if (row.subject, row.detail) not in told:
            yield row


def _listed(match: Match) -> Iterator[Row]:
    for old, new in match.kept_remedies.items():
        kept = match.after.remedies[new].cautions
        for number, name in enumerate(match.before.remedies[old].cautions):
            if match.cautions.get(name, name) not in kept:
                home = f"remedies/{old}"
                yield _in_list(match, (old, new), number, name, "removed", f"in {home}")


def _overtaken(match: Match) -> Iterator[Row]:
    """Find the cautions that come later in a remedy's list."""
    for old, new in match.kept_remedies.items():
        listed = match.before.remedies[old].cautions
        names = tuple(match.cautions.get(name, name) for name in listed)
        for number in overtaken(names, match.after.remedies[new].cautions):
            yield _in_list(match, (old, new), number, listed[number], "moved-later", f"in the list of remedies/{old}")


def _in_list(match: Match, remedies: tuple[str, str], number: int, name: str, change: Change, detail: str) -> Row:
    old, new = remedies
    return Row(
        change=change,
        subject=f'caution "{name}"',
        detail=detail,
        spot_before=home_spot(match.before, f"remedies/{old}", ("cautions", number)),
        spot_after=home_spot(match.after, f"remedies/{new}", ("cautions",)),
        trees=match.trees("remedy", old),
    )


def _cautions(match: Match, old: Standing, new: Standing) -> Iterator[Row]:
    last = {node.home: names for node, names in new.items()}
    fallen: dict[tuple[str, str, Change], list[Node]] = defaultdict(list)
    for node, name in _lost(match, old, new, match.cautions):
        home = match.nodes[node].home
        later = home.startswith("remedies/") and match.cautions.get(name, name) in last[home]
        if match.cautions.get(name, name) in match.after.cautions:
            fallen[name, node.home, "moved-later" if later else "removed"].append(node)
    yield from (_row(match, "caution", *key, nodes) for key, nodes in fallen.items())


def _gates(match: Match, before: Guards, after: Guards) -> Iterator[Row]:
    fallen: dict[tuple[str, str, Change], list[Node]] = defaultdict(list)
    for node, name in _lost(match, before.gates, after.gates, match.gates):
        new_name = match.gates.get(name, name)
        if new_name in match.after.gates:
            fallen[name, node.home, _fall(match.after, after.forest, match.nodes[node], new_name)].append(node)
    yield from (_row(match, "gate", *key, nodes) for key, nodes in fallen.items())


def _fall(draft: Draft, forest: Graph, node: Node, gate: str) -> Change:
    """Tell how a gate fell from before a step: it comes later, there is a way round it, or it is gone."""
    there = {each for each in _beside(draft, node.home) if gate_at(draft, each) == gate}
    if there & {node, *nx.descendants(forest, node)}:
        return "moved-later"
    return "weakened" if there else "removed"


def _beside(draft: Draft, home: str) -> Iterator[Node]:
    """Give all steps of a tree or remedy."""
    _, sign, remedy = home.partition("remedies/")
    if sign:
        return (remedy_node(remedy, number + 1) for number in range(len(draft.remedies[remedy].steps)))
    return (Node(home, name) for name in draft.trees[home].steps)


def _lost(match: Match, old: Standing, new: Standing, names: Mapping[str, str]) -> Iterator[tuple[Node, str]]:
    for node, met in old.items():
        there = match.nodes.get(node)
        if there is not None and there in new:
            lost = [name for name in met if names.get(name, name) not in new[there]]
            yield from ((node, name) for name in sorted(lost))


def _row(match: Match, kind: str, name: str, home: str, change: Change, nodes: list[Node]) -> Row:
    first = nodes[0]
    there = match.nodes[first]
    _, sign, remedy = home.partition("remedies/")
    return Row(
        change=change,
        subject=f'{kind} "{name}"',
        detail=f"in {home}",
        steps=tuple(node.step for node in nodes),
        spot_before=home_spot(match.before, home, _keys(first)),
        spot_after=home_spot(match.after, there.home, _keys(there)),
        trees=match.trees("remedy", remedy) if sign else (home,),
    )


def _keys(node: Node) -> KeyPath:
    return ("steps", int(node.step) - 1 if node.home.startswith("remedies/") else node.step)


def _cautions_met(draft: Draft) -> Standing:
    met: dict[Node, frozenset[str]] = {}
    dangers = Dangers(draft)
    for name, tree in draft.trees.items():
        for step_id, step in tree.steps.items():
            met[Node(name, step_id)] = dangers.of(step)[1]
    for name, remedy in draft.remedies.items():
        so_far: frozenset[str] = frozenset()
        for number, work in enumerate(remedy.steps, start=1):
            if isinstance(work, WorkGate):
                so_far |= frozenset(draft.gates[work.gate].cautions if work.gate in draft.gates else ())
            else:
                so_far |= dangers.of(work)[1] & set(remedy.cautions)
            met[remedy_node(name, number)] = so_far
    return met
