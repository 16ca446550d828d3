"""How a walk narrows down: at each step of a given way the remedies left, and those its answer closed."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from build_tools.proof.walk import Stop, WalkData
from build_tools.shell.walk_text import WIDTH


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
        lines += [_listed(f"   closed {len(each.closed)}", each.closed)] if each.closed else []
    return "\n".join((*lines, "", _listed("Left at the end", steps[-1].left)))


def _listed(said: str, names: Sequence[str]) -> str:
    """List names after a few words, in lines; an id is never broken."""
    text = f"{said}: {', '.join(names)}"
    return textwrap.fill(text, WIDTH, subsequent_indent="      ", break_on_hyphens=False)


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
