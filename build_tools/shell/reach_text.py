"""How a step is reached, as text and JSON for the shell; what is true of it is `reach`'s affair."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from build_tools.shell.reach import Guards, Spot, Walks, Ways, step_data


@dataclass(frozen=True, slots=True)
class Reached:
    """A step with the ways to it from each start, its guards, and the files whose ways are not known."""

    spot: Spot
    ways: Sequence[Ways]
    guards: Guards
    left_out: Sequence[str] = ()


def reach_text(walks: Walks, found: Reached) -> str:
    """Show a step with the ways to it from each start, and its guards."""
    guards = found.guards
    rows = [f"{found.spot}: {step_data(walks, found.spot)['title']}", ""]
    for each in found.ways:
        rows.append(f"From the start of {each.start}: {_counted(each.count)}.")
        if each.answers is not None:
            rows.append(f"   shortest: {_walk(each.start, each.answers)}" if each.answers else "   at once")
    rows += ["", "Every way into it passes:", *_gates(walks, guards.on_every_way)]
    for need in guards.needs:
        rows += [f"It needs {need}; every way passes one of:", *_gates(walks, guards.openers[need])]
    if found.left_out:
        rows += ["", f"Not counted, for errors: ways through {', '.join(found.left_out)}."]
    return "\n".join(rows)


def _walk(start: str, answers: Sequence[str]) -> str:
    """Write the command that walks a way."""
    return f"python -m build_tools walk {start} --answers {','.join(answers)}"


def _counted(count: int) -> str:
    return "no way" if not count else "1 way" if count == 1 else f"{count} ways"


def _gates(walks: Walks, gates: Sequence[Spot]) -> list[str]:
    return [f"   {each}: {step_data(walks, each)['title']}" for each in gates] or ["   no gate"]


def reach_json(found: Reached) -> str:
    """Give the same as JSON."""
    guards = found.guards
    content = {
        "tree": found.spot.tree,
        "step": found.spot.step,
        "ways": [{"start": each.start, "count": each.count, "answers": each.answers} for each in found.ways],
        "needs": guards.needs,
        "onEveryWay": [str(each) for each in guards.on_every_way],
        "openers": {need: [str(each) for each in gates] for need, gates in guards.openers.items()},
        "leftOut": list(found.left_out),
    }
    return json.dumps(content, indent=2, ensure_ascii=False)
