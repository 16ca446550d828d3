"""How a step is reached, as text and JSON for the shell; what is true of it is `reach`'s affair."""

from __future__ import annotations

import json
from collections.abc import Sequence

from build_tools.reach import Guards, Spot, Walks, Ways, step_data


def reach_text(walks: Walks, spot: Spot, ways: Sequence[Ways], guards: Guards) -> str:
    """Show a step with the ways to it from each start, and its guards."""
    rows = [f"{spot}: {step_data(walks, spot)['title']}", ""]
    for each in ways:
        rows.append(f"From the start of {each.start}: {_counted(each.count)}.")
        if each.answers is not None:
            rows.append(f"   shortest: {_walk(each.start, each.answers)}" if each.answers else "   at once")
    rows += ["", "Every way into it passes:", *_gates(walks, guards.on_every_way)]
    for need in guards.needs:
        rows += [f"It needs {need}; every way passes one of:", *_gates(walks, guards.openers[need])]
    return "\n".join(rows)


def _walk(start: str, answers: Sequence[str]) -> str:
    """Write the command that walks a way."""
    return f"python -m build_tools walk {start} --answers {','.join(answers)}"


def _counted(count: int) -> str:
    return "no way" if not count else "1 way" if count == 1 else f"{count} ways"


def _gates(walks: Walks, gates: Sequence[Spot]) -> list[str]:
    return [f"   {each}: {step_data(walks, each)['title']}" for each in gates] or ["   no gate"]


def reach_json(spot: Spot, ways: Sequence[Ways], guards: Guards) -> str:
    """Give the same as JSON."""
    found = {
        "tree": spot.tree,
        "step": spot.step,
        "ways": [{"start": each.start, "count": each.count, "answers": each.answers} for each in ways],
        "needs": guards.needs,
        "onEveryWay": [str(each) for each in guards.on_every_way],
        "openers": {need: [str(each) for each in gates] for need, gates in guards.openers.items()},
    }
    return json.dumps(found, indent=2, ensure_ascii=False)
