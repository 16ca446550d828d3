"""The content of a tree with all it leads to, as a short hash, and the rule that a change raises its version."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from build_tools.model import GateStep, Measure, RemedyStep, Tree, Versions, WorkGate
from build_tools.model.problems import Finding
from build_tools.proof.graph import cautions_for, hazards_of
from build_tools.proof.take_off import TAKE_OFF
from build_tools.sources.library import Draft, tree_path

WAIVERS: Any = {"accept": True, "steps": {"__all__": {"accept"}}}
"""What only authors read, in trees and remedies alike."""


def content_hash(draft: Draft, tree: Tree) -> str:
    """Hash a tree with its remedies, gates, cautions and formulas; version, day and waivers left out."""
    remedies = {s.remedy for s in tree.steps.values() if isinstance(s, RemedyStep)} & set(draft.remedies)
    works = [work for name in sorted(remedies) for work in draft.remedies[name].steps]
    gates = {s.gate for s in (*tree.steps.values(), *works) if isinstance(s, GateStep | WorkGate)}
    hazards = {hazard for step in (*tree.steps.values(), *works) for hazard in hazards_of(draft, step)}
    cautions = {*cautions_for(draft, hazards), *(c for g in gates & set(draft.gates) for c in draft.gates[g].cautions)}
    measures = {s.measure for s in tree.steps.values() if isinstance(s, Measure)}
    materials = [material for name in remedies for material in draft.remedies[name].materials]
    reckoned = {each.formula for each in materials} | {TAKE_OFF for each in materials if each.take_off}
    formulas = {name for name in draft.formulas if name in measures | reckoned}
    content = {
        "tree": tree.model_dump(mode="json", exclude={"version": True, "revised": True, "any_order": True, **WAIVERS}),
        "remedies": _chosen(draft.remedies, remedies),
        "gates": _chosen(draft.gates, gates),
        "cautions": _chosen(draft.cautions, cautions),
        "formulas": {name: draft.formulas[name].fingerprint() for name in sorted(formulas)},
    }
    text = json.dumps(content, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _chosen(table: Mapping[str, BaseModel], names: set[str]) -> dict[str, Any]:
    return {name: table[name].model_dump(mode="json", exclude=WAIVERS) for name in sorted(names & set(table))}


def current_versions(draft: Draft) -> Mapping[str, Versions]:
    """Give what tables/versions.yaml should hold for the trees as they stand."""
    return {
        name: Versions(version=tree.version, content=content_hash(draft, tree))
        for name, tree in sorted(draft.trees.items())
    }


def versions_text(versions: Mapping[str, Versions]) -> str:
    """Write tables/versions.yaml."""
    entries = (f"{name}:\n  version: {each.version}\n  content: '{each.content}'\n" for name, each in versions.items())
    return "".join(entries)


def versions(draft: Draft) -> Iterator[Finding]:
    """Find trees whose content is not the one recorded for their version."""
    for name, now in current_versions(draft).items():
        recorded = draft.versions.get(name)
        if recorded == now:
            continue
        what, mend = f"version {now.version} is not recorded yet", "Run `python -m build_tools record`."
        if recorded and recorded.version == now.version:
            what = f"the tree, or what it leads to, changed since version {now.version} was recorded"
            mend = "Raise `version:` if that one was published, then run `python -m build_tools record`."
        yield Finding("version-not-raised", tree_path(name), ("version",), what, mend)
