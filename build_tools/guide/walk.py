"""The walk as data and as a course: what the page's script reads, and what the shell walks.

`walk_data` is the one description of a tree's walk; it is written into the tree's page as JSON, and
`follow` goes through the same data, so that page and shell cannot tell different stories.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from build_tools.guide.views import GuideView, StepView, TreeView
from build_tools.model import Gate, GoTo, Measure
from build_tools.proof.graph import needs
from build_tools.proof.rules.flow import is_asked
from build_tools.proof.rules.safety import GUARDED

WalkData = Mapping[str, Any]


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


def is_open(gate: Mapping[str, Any], opened: Container[str]) -> bool:
    """Tell whether a gate is passed without asking; one that joins others is open when one of these is."""
    return gate["id"] in opened or any(each["id"] in opened for each in gate["picks"].values())


def opened_by(gate: Mapping[str, Any], roof: str = "") -> frozenset[str]:
    """Give the gates that a yes opens: of a joined gate the one for this roof, or all where the roof is not told."""
    picks = {name: each["id"] for name, each in gate["picks"].items() if name == roof or not roof}
    return frozenset(picks.values() or (gate["id"],))


@dataclass(frozen=True, slots=True)
class Stop:
    """One step that a walk came to, and the answer given there; None where it waits or ends."""

    tree: str
    step: str
    kind: str
    title: str
    answer: str | None
    asked: bool = True
    """False for a gate that was open already, and is passed without asking."""


class WrongAnswer(ValueError):
    """An answer that the step does not have; the message says which it has."""


def follow(walks: Mapping[str, WalkData], tree_id: str, answers: Iterable[str]) -> tuple[Stop, ...]:
    """Walk from a tree's start by the answers given, through other trees where it hands over.

    A gate whose yes was given stays open and is passed without asking again. At a gate that joins others the
    roof may stand for yes ("slope"): it opens the gate for that roof, and yes opens all of them. The last stop
    is a remedy, the step that waits for the next answer, or a hand-over to what is not among the walks. Raises
    WrongAnswer for an answer the step does not have, and for answers left over at the end.
    """
    course: list[Stop] = []
    open_gates: set[str] = set()
    given = iter(answers)
    tree, step = tree_id, str(walks[tree_id]["start"])
    while True:
        data = walks[tree]["steps"][step]
        open_already = data["kind"] == "gate" and is_open(data["gate"], open_gates)
        answer, roof = ("yes", "") if open_already else _answer(data, given)
        course.append(Stop(tree, step, data["kind"], data["title"], answer, not open_already))
        if data["kind"] == "gate" and answer == "yes" and not open_already:
            open_gates |= opened_by(data["gate"], roof)
        if "goTo" in data:
            tree, step = data["goTo"]["tree"], data["goTo"]["step"]
        elif answer is None:
            break
        else:
            step = data["exits"][answer]
    left = list(given)
    if left and course[-1].kind == "remedy":
        over = "1 answer" if len(left) == 1 else f"{len(left)} answers"
        raise WrongAnswer(f'the walk ended at "{course[-1].title}" with {over} left over')
    return tuple(course)


def _answer(data: Mapping[str, Any], given: Iterable[str]) -> tuple[str | None, str]:
    """Take the next answer to a step, and the roof where that was told; None where the walk waits or ends."""
    if not data["exits"]:
        return None, ""
    answer = next(iter(given), None)
    if answer in data.get("gate", {}).get("picks", {}):
        return "yes", str(answer)
    if answer is not None and answer not in data["exits"]:
        raise WrongAnswer(f'"{answer}" is not an answer to "{data["title"]}"; answer {", ".join(answers_to(data))}')
    return answer, ""


def answers_to(data: Mapping[str, Any]) -> tuple[str, ...]:
    """Give all that a step can be answered with."""
    return (*data.get("gate", {}).get("picks", {}), *data["exits"])
