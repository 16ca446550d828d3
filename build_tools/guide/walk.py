"""The walk as data, for the page's script and the shell.

`walk_data` is the one description of a tree's walk; it is written into the tree's page as JSON, and
`proof.walk.follow` goes through the same data, so that page and shell cannot tell different stories.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from build_tools.guide.views import GuideView, StepView, TreeView
from build_tools.model import GUARDED, Gate, GoTo, Measure
from build_tools.proof.graph import is_asked, needs
from build_tools.proof.walk import WalkData


def walk_data(guide: GuideView, tree: TreeView) -> WalkData:
    """Describe one tree's walk in plain values, ready for JSON.

    steps: by id, each with kind, number, title, where, needs (places and acts a gate must have opened),
    asked (whether it asks), left (most questions still to come in this tree), ends (remedies that can
    still be reached), exits (answer to step id), guards (gate steps that open what it needs), and, by
    kind, gate, measure, remedy or goTo.
    """
    wanted = sorted({name for step in tree.steps for name in step.ends})
    return {
        "tree": {"id": tree.id, "title": tree.tree.title, "version": tree.tree.version},
        "start": tree.tree.starts_at,
        "makeSafe": _remedy_link(guide, guide.make_safe.id),
        "remedies": {name: _remedy_link(guide, name) for name in wanted},
        "steps": {step.id: _step(step) for step in tree.steps},
    }


def _remedy_link(guide: GuideView, remedy_id: str) -> Mapping[str, str]:
    view = guide.remedy(remedy_id)
    return {"id": view.id, "title": view.remedy.title, "href": view.address, "lasts": view.remedy.lasts}


def _step(view: StepView) -> Mapping[str, Any]:
    step = view.step
    data: dict[str, Any] = {
        "kind": view.kind,
        "number": view.number,
        "title": view.title,
        "where": view.where,
        "needs": [str(each) for each in GUARDED if each in needs(step)],
        "asked": is_asked(step),
        "left": view.left,
        "ends": list(view.ends),
        "exits": {each.answer: each.target for each in view.exits},
        "guards": list(view.guards),
    }
    if view.gate:
        picks = {each.roof: _gate(each.id, each.gate) for each in view.gate.picks}
        data["gate"] = {**_gate(view.gate.id, view.gate.gate), "picks": picks}
    if isinstance(step, Measure):
        data["measure"] = {"formula": step.measure, "given": dict(step.given)}
    if view.remedy:
        data["remedy"] = view.remedy.id
    if isinstance(step, GoTo) and view.hand_over:
        tree, head, _ = view.hand_over
        data["goTo"] = {"tree": tree, "step": head}
    return data


def _gate(gate_id: str, gate: Gate) -> Mapping[str, Any]:
    return {
        "id": gate_id,
        "title": gate.title,
        "opens": [str(each) for each in gate.opens],
        "endsWhen": list(gate.ends_when),
        "minutes": gate.minutes,
    }
