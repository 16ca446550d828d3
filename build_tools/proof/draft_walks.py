"""A draft that nobody has proved as the data that `walk.follow` goes through, as far as `follow` reads it.

Where an exit leads to no step, there stands a step of the kind "missing", at which a walk waits.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import networkx as nx

from build_tools.model import GateStep, GoTo, RemedyStep, StepBase, Tree, step_kind
from build_tools.proof.graph import exits_of, forest_graph, target_node
from build_tools.proof.titles import step_name
from build_tools.proof.walk import WalkData
from build_tools.sources.gates import parts
from build_tools.sources.library import Draft


class Circle(Exception):
    """The ways of a draft go round in a circle, so that a walk might never end."""


def draft_walks(draft: Draft) -> Mapping[str, WalkData]:
    """Describe the walk of each tree, by id. Raises Circle."""
    if not nx.is_directed_acyclic_graph(forest_graph(draft)):
        raise Circle
    return {name: {"start": tree.starts_at, "steps": _steps(draft, tree)} for name, tree in draft.trees.items()}


def _steps(draft: Draft, tree: Tree) -> Mapping[str, Mapping[str, Any]]:
    held = {name: _step(draft, step) for name, step in tree.steps.items()}
    led_to = {tree.starts_at, *(target for step in held.values() for target in step["exits"].values())}
    return {**{name: _missing(name) for name in led_to}, **held}


def _missing(name: str) -> Mapping[str, Any]:
    return {"kind": "missing", "title": name, "exits": {}}


def _step(draft: Draft, step: StepBase) -> Mapping[str, Any]:
    data: dict[str, Any] = {"kind": step_kind(step), "title": step_name(draft, step), "exits": dict(exits_of(step))}
    if isinstance(step, GateStep):
        written = draft.written_gates.get(step.gate)
        joined = parts(written, draft.written_gates) if written else {}
        picks = {roof: {"id": name} for name, gate in joined.items() for roof in gate.roofs}
        data["gate"] = {"id": step.gate, "picks": picks}
    elif isinstance(step, RemedyStep):
        data["remedy"] = step.remedy
    elif isinstance(step, GoTo):
        head = target_node(draft.trees, step.go_to)
        if head is None:
            return _missing(step.go_to)
        data["goTo"] = {"tree": head.home, "step": head.step}
    return data
