"""What is known of the covering and the light on every way, and what must fit it: remedies, trees and gates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import networkx as nx

from build_tools.model import Gate, GoTo, JoinedGate, Question, RemedyStep, Where
from build_tools.model.problems import Finding
from build_tools.proof.graph import (
    Graph,
    Node,
    after_failed_proof,
    forest_nodes,
    gate_at,
    open_roofs,
    place_of,
    remedy_node,
    step_at,
    target_node,
)
from build_tools.sources.library import Draft, table_path

UNKNOWN = "unknown"
KINDS = ("covering", "light")
Known = Mapping[str, Mapping[Node, frozenset[str]]]
"""By kind of fact, then by step: the values that may be known on arriving there, `UNKNOWN` among them."""


def suiting(draft: Draft, forest: Graph) -> Iterator[Finding]:
    """Find remedies, hand-overs and gates that do not fit the covering or light on some way that leads to them."""
    yield from _gates(draft)
    try:
        order = list(nx.topological_sort(forest))
    except nx.NetworkXUnfeasible:  # a circle; the rule for it comes first
        return
    known = {kind: _established(draft, forest, order, kind) for kind in KINDS}
    for kind, nodes in known.items():
        for node, values in nodes.items():
            yield from _fitting(draft, node, kind, values)
    for node in forest_nodes(draft):
        yield from _gate_at(draft, node, known)


def _gates(draft: Draft) -> Iterator[Finding]:
    """Hold what a gate says of roofs against what it opens, and a joined gate against those that it joins."""
    path = table_path("gates")
    for name, gate in draft.written_gates.items():
        if isinstance(gate, Gate):
            if Where.ROOF in gate.opens and not gate.roofs:
                what = f'"{name}" opens the roof, and does not say which roofs it is for'
                mend = f"Add `roofs:` with one or more of {', '.join(draft.vocabulary.roof)}."
                yield Finding("gate-does-not-fit", path, (name,), what, mend)
            continue
        for number, part in enumerate(gate.joins):
            if isinstance(draft.written_gates.get(part), JoinedGate):
                what, mend = f'"{part}" is itself joined from others', "Name the gates that it joins."
                yield Finding("gate-does-not-fit", path, (name, "joins", number), what, mend)


def _gate_at(draft: Draft, node: Node, known: Known) -> Iterator[Finding]:
    """Hold the roofs that a gate is for against those that somebody who passes it here may stand on."""
    name = gate_at(draft, node)
    gate = draft.gates.get(name) if name else None
    if gate is None or Where.ROOF not in gate.opens or not gate.roofs:
        return
    roofs = _roofs_at(draft, node, known)
    wrong = roofs - set(gate.roofs)
    if wrong:
        path, keys = place_of(node)
        words = " or ".join(draft.vocabulary.roof[each] for each in draft.vocabulary.roof if each in wrong)
        what = f'"{name}" is not for {words}, and a way that leads here may be to one'
        yield Finding("gate-does-not-fit", path, (*keys, "gate"), what, _mend_gate(draft, roofs))


def _mend_gate(draft: Draft, roofs: set[str]) -> str:
    fitting = {name: len(gate.roofs) for name, gate in draft.gates.items() if roofs <= set(gate.roofs)}
    if fitting:
        return f'Ask "{min(fitting, key=fitting.__getitem__)}" here, or ask what the roof is before it.'
    return "Nobody goes there: end in what can be done from below, or ask what the roof is before it."


def _roofs_at(draft: Draft, node: Node, known: Known) -> set[str]:
    """Give the roofs that somebody who comes to a step may stand on, by what is known of covering and light.

    What covers an unknown roof is looked at at its gate, which refuses a roof that no gate is for. Where such a
    covering is known, it stays among the roofs, whatever the light.
    """
    lies_on, some = draft.vocabulary.lies_on, open_roofs(draft)
    by_kind = {
        kind: {roof for value in _values_at(draft, node, kind, known) for roof in lies_on.get(value, some)}
        for kind in KINDS
    }
    closed = by_kind["covering"] - some
    return closed | ((by_kind["covering"] & by_kind["light"]) or by_kind["covering"])


def _values_at(draft: Draft, node: Node, kind: str, known: Known) -> Iterable[str]:
    """Give what may be known on arriving; a remedy is also opened from a search, by anybody whom it suits."""
    if not node.home.startswith("remedies/"):
        return known[kind][node]
    name = node.home.removeprefix("remedies/")
    return {*known[kind][remedy_node(name)], *getattr(draft.remedies[name].suits, kind)}


def _fitting(draft: Draft, node: Node, kind: str, values: frozenset[str]) -> Iterator[Finding]:
    """Hold what may be known on arriving against what the remedy suits, or the next tree takes for certain."""
    step = step_at(draft, node)
    path, keys = place_of(node)
    # A value that is not in the vocabulary is an error elsewhere.
    known = getattr(draft.vocabulary, kind)
    judged = values.intersection((*known, UNKNOWN))
    if isinstance(step, RemedyStep) and step.remedy in draft.remedies:
        suits = getattr(draft.remedies[step.remedy].suits, kind)
        if words := _misfits(judged, suits):
            what = f'"{step.remedy}" suits {kind} {", ".join(suits)}; on a way that leads here the {kind} is {words}'
            mend = f"Ask for the {kind} before it, or end in a remedy that suits."
            yield Finding("does-not-suit", path, (*keys, "remedy"), what, mend)
    if isinstance(step, GoTo) and (head := target_node(draft.trees, step.go_to)):
        assumed = draft.trees[head.home].assumes.get(kind, ("any",))
        if (words := _misfits(judged, assumed)) and known.keys() >= set(assumed):
            what = f'"{head.home}" takes {kind} {", ".join(assumed)} for certain; on a way here the {kind} is {words}'
            mend = f"Ask for the {kind} before it, or hand over elsewhere."
            yield Finding("assumes-too-much", path, (*keys, "go-to"), what, mend)


def _misfits(values: frozenset[str], suits: tuple[str, ...]) -> str:
    """Name the values that are not suited, in words; nothing where all are."""
    wrong = () if "any" in suits else sorted(values - set(suits))
    return " or ".join("not settled" if each == UNKNOWN else f'"{each}"' for each in wrong)


def _established(draft: Draft, forest: Graph, order: list[Node], kind: str) -> dict[Node, frozenset[str]]:
    """Give what may be known of the covering or light on arriving at each step of a tree."""
    known: dict[Node, set[str]] = {node: set() for node in forest}
    for tree_id, tree in draft.trees.items():
        if tree.starts_at in tree.steps:
            known[Node(tree_id, tree.starts_at)].add(UNKNOWN)
    for name, head in after_failed_proof(draft):
        suits = getattr(draft.remedies[name].suits, kind)
        begins = head.step == draft.trees[head.home].starts_at
        known[head].update((UNKNOWN,) if "any" in suits or begins else suits)
    heads = dict(forest.adjacency())
    for node in order:
        if node.home.startswith("remedies/") or not known[node]:
            continue
        known[node] = _assumed(draft, node, kind, known[node])
        for head, exits in heads[node].items():
            known[head].update(*(_after(draft, node, each, kind, known[node]) for each in exits))
    return {node: frozenset(known[node]) for node in forest_nodes(draft)}


def _assumed(draft: Draft, node: Node, kind: str, values: set[str]) -> set[str]:
    """Let what a tree assumes settle what its walkers did not know, or came with from elsewhere."""
    assumed: Mapping[str, tuple[str, ...]] = draft.trees[node.home].assumes
    if kind not in assumed:
        return values
    return (values - {UNKNOWN}) | (set(assumed[kind]) if UNKNOWN in values else set())


def _after(draft: Draft, node: Node, exit_name: str, kind: str, values: set[str]) -> set[str]:
    step = step_at(draft, node)
    facts = step.establishes.get(exit_name, {}) if isinstance(step, Question) else {}
    return set(facts[kind]) if kind in facts else values
