"""How a walk narrows down: at each step of a given way the remedies left, and those its answer closed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from build_tools.walk import Stop, WalkData


@dataclass(frozen=True, slots=True)
class Narrowed:
    """One step of a way: the remedies that could be reached on coming to it, and those its answer closed."""

    stop: Stop
    left: tuple[str, ...]
    closed: tuple[str, ...]


def narrowing(walks: Mapping[str, WalkData], course: Sequence[Stop]) -> Iterator[Narrowed]:
    """Go along a way from `walk.follow`. Every remedy not left at its end was closed at just one step."""
    left = [tuple(walks[stop.tree]["steps"][stop.step]["ends"]) for stop in course]
    for stop, here, onward in zip(course, left, (*left[1:], left[-1]), strict=True):
        yield Narrowed(stop, here, tuple(name for name in here if name not in onward))


def narrowing_text(steps: Sequence[Narrowed]) -> str:
    """Show each step with the count still open, what its answer closed, and at the end what is left."""
    lines: list[str] = []
    for each in steps:
        answer = f"  -> {each.stop.answer}" if each.stop.answer else ""
        lines.append(f"{each.stop.tree}/{each.stop.step}: {each.stop.title}{answer}")
        lines.append(f"   {len(each.left)} still open")
        lines += [f"   closed: {name}" for name in each.closed]
    return "\n".join((*lines, "", "Left at the end:", *(f"   {name}" for name in steps[-1].left)))


def narrowing_json(steps: Sequence[Narrowed]) -> str:
    """Give the same as JSON: steps in order, each with what was left on coming to it and what it closed."""
    rows = [
        {
            "tree": each.stop.tree,
            "step": each.stop.step,
            "answer": each.stop.answer,
            "left": list(each.left),
            "closed": list(each.closed),
        }
        for each in steps
    ]
    return json.dumps({"steps": rows, "left": list(steps[-1].left)}, indent=2, ensure_ascii=False)
