"""Where things stand in a version's files, and which trees' walks meet them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from build_tools.graph import cautions_for, hazards_of
from build_tools.library import Draft, remedy_path, tree_path
from build_tools.model import GateStep, Measure, RemedyStep, Tree, WorkGate
from build_tools.problems import KeyPath
from build_tools.review.changes import Spot

Users = Mapping[tuple[str, str], frozenset[str]]
"""The trees that lead to a thing, by its kind and id: ("gate", "roof-access")."""


def spot(draft: Draft, path: str, keys: KeyPath = ()) -> Spot | None:
    """Give the line of a value, or of the nearest value around it; nothing where the file was not read."""
    file = draft.files.get(path)
    return Spot(path=path, line=file.place(keys).line) if file else None


def home_spot(draft: Draft, home: str, keys: KeyPath = ()) -> Spot | None:
    """Give the line of a value in the file of a tree or remedy, named as in the graph."""
    _, sign, remedy = home.partition("remedies/")
    return spot(draft, remedy_path(remedy) if sign else tree_path(home), keys)


def users(draft: Draft) -> Users:
    """Find which trees use each remedy, gate, caution, hazard and formula; a tree uses itself."""
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for name, tree in draft.trees.items():
        for used in _used(draft, tree):
            found[used].add(name)
        found["tree", name].add(name)
    return {used: frozenset(trees) for used, trees in found.items()}


def _used(draft: Draft, tree: Tree) -> set[tuple[str, str]]:
    """Give the kind and id of all that a tree leads to, but for other trees."""
    remedies = {each.remedy for each in tree.steps.values() if isinstance(each, RemedyStep)}
    held = [draft.remedies[name] for name in sorted(remedies & set(draft.remedies))]
    steps = (*tree.steps.values(), *(work for remedy in held for work in remedy.steps))
    gates = {each.gate for each in steps if isinstance(each, GateStep | WorkGate)}
    hazards = {hazard for each in steps for hazard in hazards_of(draft, each)}
    cautions = {*cautions_for(draft, hazards), *(name for remedy in held for name in remedy.cautions)}
    cautions |= {name for gate in gates & set(draft.gates) for name in draft.gates[gate].cautions}
    formulas = {each.measure for each in tree.steps.values() if isinstance(each, Measure)}
    formulas |= {material.formula for remedy in held for material in remedy.materials if material.formula}
    kinds = {"remedy": remedies, "gate": gates, "hazard": hazards, "caution": cautions, "formula": formulas}
    return {(kind, name) for kind, names in kinds.items() for name in names}
