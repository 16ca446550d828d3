"""What the walk's tests walk: the walks of the guide, and three plain questions in a row of one of them."""

from __future__ import annotations

from walker import line, walks, way_to

WALKS = walks()
START = "start-here"
TREE, (LINE, NEXT) = next((name, line(walk, 3)) for name, walk in WALKS.items() if len(walk["steps"]) > 25)
STEPS = WALKS[TREE]["steps"]
"""Three plain questions in a row, with the answers that lead to a fourth."""
FIRST, SECOND, THIRD = (step for step, _ in LINE)
ANSWERS = [answer for _, answer in LINE]
UP = next(name for name, step in STEPS.items() if step["needs"])
"""A step that a gate must open."""


def hands_over() -> tuple[list[str], str, str]:
    """Give answers to a step of the first tree that hands over, the step, and the tree it hands over to."""
    step = next(name for name, each in WALKS[START]["steps"].items() if each["kind"] == "go-to")
    return way_to(WALKS[START], step), step, WALKS[START]["steps"][step]["goTo"]["tree"]
