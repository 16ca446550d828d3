"""Cautions and gates as a reader meets them: which no longer stand before a step that both versions have.

A gate stands before a step when every way to it, from every place where a reader may begin, takes the gate's
yes; this is dominance in the flow graph. A caution stands before a step of a tree when it answers one of the
step's hazards, and before a step of a remedy's work when it was first shown there or earlier.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from build_tools.graph import Node, cautions_for, forest_graph, gate_at, hazards_of, remedy_node, target_node
from build_tools.library import Draft
from build_tools.model import WorkGate
from build_tools.problems import KeyPath
from build_tools.review.changes import Change, Row
from build_tools.review.matching import Match
from build_tools.review.places import home_spot

Standing = Mapping[Node, frozenset[str]]
"""The cautions or gates that stand before each step."""
Onward = Mapping[Node, list[tuple[str, Node]]]
"""The exits of each step: the answer, and the step it leads to."""


@dataclass(frozen=True, slots=True)
class Guards:
    """What stands before each step of one version."""

    cautions: Standing
    gates: Standing
    """Of the steps that can be reached at all."""
    onward: Onward


def guards_of(draft: Draft) -> Guards:
    """Find what stands before each step."""
    onward = _onward(draft)
    return Guards(_cautions_met(draft), _gates_passed(draft, onward), onward)


def way_losses(match: Match, before: Guards, after: Guards) -> Iterator[Row]:
    """Find what stood before a step, or in a remedy's list, in the first version and does not in the second."""
    listed = list(_listed(match))
    told = {(row.subject, row.detail) for row in listed}
    yield from listed
    for row in (*_cautions(match, before.cautions, after.cautions), *_gates(match, before, after)):
        if (row.subject, row.detail) not in told:
            yield row


def _listed(match: Match) -> Iterator[Row]:
    for old, new in match.kept_remedies.items():
        kept = match.after.remedies[new].cautions
        for number, name in enumerate(match.before.remedies[old].cautions):
            if match.cautions.get(name, name) not in kept:
                home = f"remedies/{old}"
                yield Row(
                    change="removed",
                    subject=f'caution "{name}"',
                    detail=f"in {home}",
                    spot_before=home_spot(match.before, home, ("cautions", number)),
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
            fallen[name, node.home, _fall(match.after, after.onward, match.nodes[node], new_name)].append(node)
    yield from (_row(match, "gate", *key, nodes) for key, nodes in fallen.items())


def _fall(draft: Draft, onward: Onward, node: Node, gate: str) -> Change:
    """Tell how a gate fell from before a step: it comes later, there is a way round it, or it is gone."""
    there = {each for each in onward if each.home == node.home and gate_at(draft, each) == gate}
    if there & _reached(onward, [node], frozenset()):
        return "moved-later"
    return "weakened" if there else "removed"


def _lost(match: Match, old: Standing, new: Standing, names: Mapping[str, str]) -> Iterator[tuple[Node, str]]:
    for node, met in old.items():
        there = match.nodes.get(node)
        if there is not None and there in new:
            yield from ((node, name) for name in sorted(met) if names.get(name, name) not in new[there])


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
    for name, tree in draft.trees.items():
        for step_id, step in tree.steps.items():
            met[Node(name, step_id)] = frozenset(cautions_for(draft, hazards_of(draft, step)))
    for name, remedy in draft.remedies.items():
        so_far: frozenset[str] = frozenset()
        for number, work in enumerate(remedy.steps, start=1):
            if isinstance(work, WorkGate):
                so_far |= frozenset(draft.gates[work.gate].cautions if work.gate in draft.gates else ())
            else:
                so_far |= frozenset(cautions_for(draft, hazards_of(draft, work))) & set(remedy.cautions)
            met[remedy_node(name, number)] = so_far
    return met


def _onward(draft: Draft) -> Onward:
    graph = forest_graph(draft)
    return {node: [(exit_name, head) for _, head, exit_name in graph.out_edges(node, keys=True)] for node in graph}


def _gates_passed(draft: Draft, onward: Onward) -> Standing:
    gates = {node: gate for node in onward if (gate := gate_at(draft, node))}
    begins = list(_begins(draft))
    reached = _reached(onward, begins, frozenset())
    passed: dict[Node, set[str]] = {node: set() for node in onward if node in reached}
    for gate in sorted(set(gates.values())):
        shut = frozenset(node for node, name in gates.items() if name == gate)
        for node in reached - _reached(onward, begins, shut):
            passed[node].add(gate)
    return {node: frozenset(names) for node, names in passed.items()}


def _begins(draft: Draft) -> Iterator[Node]:
    """Give every step at which a reader may begin, no gate passed: trees, remedies, and after a failed proof."""
    for name, tree in draft.trees.items():
        if tree.starts_at in tree.steps:
            yield Node(name, tree.starts_at)
    for name, remedy in draft.remedies.items():
        yield remedy_node(name)
        if head := target_node(draft.trees, remedy.after_failed_proof):
            yield head


def _reached(onward: Onward, begins: list[Node], shut: frozenset[Node]) -> frozenset[Node]:
    """Walk everywhere, but never by the yes of a gate that is shut."""
    seen = set(begins)
    waiting = list(begins)
    while waiting:
        node = waiting.pop()
        for exit_name, head in onward[node]:
            if head not in seen and not (exit_name == "yes" and node in shut):
                seen.add(head)
                waiting.append(head)
    return frozenset(seen)
