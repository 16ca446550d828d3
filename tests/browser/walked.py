"""What the walk's tests walk: the walks of the guide, and three plain questions in a row of one of them."""

from __future__ import annotations

from typing import Any

from made_values import THOROUGH
from walker import line, walks, way_to

WALKS = walks()
START = "start-here"
TREE, (LINE, NEXT) = next((name, line(walk, 3)) for name, walk in WALKS.items() if len(walk["steps"]) > 25)
STEPS = WALKS[TREE]["steps"]
"""Three plain questions in a row, with the answers that lead to a fourth."""


def _of_every_kind() -> tuple[str, ...]:
    """Give trees that together have every kind of step, place, gate, need and count of exits, and the longest tree."""
    left = {name: _kinds(walk) for name, walk in WALKS.items()}
    wanted = set().union(*left.values())
    found = [START, max(WALKS, key=lambda name: len(WALKS[name]["steps"]))]
    while wanted := wanted.difference(*(left[name] for name in found)):
        found.append(max(left, key=lambda name: (len(left[name] & wanted), -len(WALKS[name]["steps"]))))
    return tuple(dict.fromkeys(found))


def _kinds(walk: Any) -> set[tuple[str, ...]]:
    kinds: set[tuple[str, ...]] = set()
    for step in walk["steps"].values():
        kinds |= {("kind", step["kind"], str(step["where"])), ("exits", str(len(step["exits"])))}
        kinds |= {("need", each) for each in step["needs"]}
        kinds |= {("gate", step["gate"]["id"])} if step["kind"] == "gate" else set()
    return kinds


BROWSED = _of_every_kind()
"""The trees that a browser goes through step by step. Tests without a browser go through all of them."""


def _clicked() -> tuple[str, ...]:
    """Give the first tree, and of those with every kind of step and a joined gate the one of the fewest steps."""
    every = {step["kind"] for walk in WALKS.values() for step in walk["steps"].values()} | {"joined"}
    whole = [name for name, walk in WALKS.items() if _forms(walk) == every]
    return START, min(whole, key=lambda name: len(WALKS[name]["steps"]))


def _forms(walk: Any) -> set[str]:
    steps = walk["steps"].values()
    return {step["kind"] for step in steps} | {"joined" for step in steps if step.get("gate", {}).get("picks")}


CLICKED = BROWSED if THOROUGH else _clicked()
"""The trees whose every exit is clicked on a page. `test_walk_model` goes through all trees without one."""
FIRST, SECOND, THIRD = (step for step, _ in LINE)
ANSWERS = [answer for _, answer in LINE]
UP = next(name for name, step in STEPS.items() if step["needs"])
"""A step that a gate must open."""


def hands_over() -> tuple[list[str], str, str]:
    """Give answers to a step of the first tree that hands over, the step, and the tree it hands over to."""
    step = next(name for name, each in WALKS[START]["steps"].items() if each["kind"] == "go-to")
    return way_to(WALKS[START], step), step, WALKS[START]["steps"][step]["goTo"]["tree"]
