"""Formulas whose results move between two versions: both are run on the same inputs, and what differs is counted."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from build_tools.formulas.numbers import quantity
from build_tools.model import Measure
from build_tools.review.formula_code.formula_runs import Answer, CannotRun, FormulaTold, Result, Tries, run
from build_tools.review.formula_code.trials import trials
from build_tools.review.record.changes import Moved, Spot, Tried
from build_tools.review.versions.matching import Match

Sides = tuple[FormulaTold, FormulaTold]


@dataclass(frozen=True, slots=True)
class Ran:
    """Both versions' formulas as they describe themselves, and those whose results move."""

    before: Mapping[str, FormulaTold]
    after: Mapping[str, FormulaTold]
    moved: tuple[Moved, ...]
    said: tuple[str, ...]
    """How they were run, or why they could not be; nothing is known of them then."""


class _Refused(Exception):
    """A version's formulas could not be run; the message is one sentence."""


def run_both(match: Match, roots: tuple[Path, Path], names: tuple[str, str]) -> Ran:
    """Run the formulas of two versions. roots: the project folders; names: what the versions are called."""
    try:
        told = [_answer(*side, {}).formulas for side in zip(roots, names, strict=True)]
        both = sorted(set(told[0]) & set(told[1]))
        tries = {name: trials(name, told[0][name], told[1][name], _stated(match, name)) for name in both}
        results = [_answer(*side, tries).results for side in zip(roots, names, strict=True)]
    except _Refused as refused:
        return Ran({}, {}, (), (str(refused),))
    pairs = {name: tuple(zip(results[0][name], results[1][name], strict=True)) for name in both}
    found = (_moved(match, name, (told[0][name], told[1][name]), tries[name], pairs[name]) for name in both)
    moved = tuple(each for each in found if each)
    count = sum(len(each) for each in tries.values())
    other = {0: "none of them gives", 1: "1 of them gives"}.get(len(moved), f"{len(moved)} of them give")
    said = f"{len(both)} formulas were run in both versions, on {count:,} sets of inputs; {other} other results."
    return Ran(told[0], told[1], moved, (said,))


def _answer(root: Path, name: str, tries: Tries) -> Answer:
    try:
        return run(root, tries)
    except CannotRun as cannot:
        said = f"The formulas of {name} could not be run ({cannot}), so no results are compared."
        raise _Refused(said) from None


def _stated(match: Match, formula: str) -> list[Mapping[str, Any]]:
    """Give what the steps of either version state for a formula."""
    steps = (step for _, step in _measures(match, formula))
    return [step.given for step in steps if step.given]


def _measures(match: Match, formula: str) -> Iterator[tuple[str, Measure]]:
    for draft in (match.before, match.after):
        for tree_id, tree in draft.trees.items():
            for name, step in tree.steps.items():
                if isinstance(step, Measure) and step.measure == formula:
                    yield f"{tree_id}/{name}", step


def used_by(match: Match, formula: str) -> tuple[str, ...]:
    """Name the steps that measure with a formula in either version, and the remedies that reckon with it."""
    remedies = {
        f"remedies/{name}"
        for draft in (match.before, match.after)
        for name, remedy in draft.remedies.items()
        if any(material.formula == formula for material in remedy.materials)
    }
    return (*sorted({place for place, _ in _measures(match, formula)}), *sorted(remedies))


def _moved(
    match: Match, name: str, told: Sides, tries: Sequence[Mapping[str, Any]], results: Sequence[tuple[Result, Result]]
) -> Moved | None:
    shared = {each.name for each in told[0].outputs} & {each.name for each in told[1].outputs}
    pairs = list(zip(tries, results, strict=True))
    moved = [each for each in pairs if _differ(*each[1], shared)]
    verdicts = [each for each in moved if _other_verdict(*each[1])]
    if not moved:
        return None
    plainest = [min(each, key=partial(_rank, told[1].example)) for each in (moved, verdicts) if each]
    return Moved(
        grave="a walk takes another exit for the same numbers" if verdicts else "other numbers come out",
        formula=name,
        tried=len(pairs),
        results=len(moved),
        verdicts=len(verdicts),
        examples=tuple(dict.fromkeys(_tried(told, *each, shared) for each in plainest)),
        used_by=used_by(match, name),
        trees=match.trees("formula", name),
        spot_before=Spot(path=told[0].path, line=told[0].line),
        spot_after=Spot(path=told[1].path, line=told[1].line),
    )


def _differ(before: Result, after: Result, shared: set[str]) -> bool:
    """Tell two results apart by what both versions reckon; a refusal in other words is the same refusal."""
    if before.refused or after.refused:
        return bool(before.refused) != bool(after.refused)
    # Their text, since one that is not a number would differ from itself.
    numbers = ([repr(each.outputs.get(name)) for name in shared] for each in (before, after))
    return before.verdict != after.verdict or next(numbers) != next(numbers)


def _other_verdict(before: Result, after: Result) -> bool:
    return not before.refused and not after.refused and before.verdict != after.verdict


def _rank(example: Mapping[str, Any], tried: tuple[Mapping[str, Any], tuple[Result, Result]]) -> tuple[object, ...]:
    """Rank first what tells most at a glance: numbers before refusals, then what is nearest to the example."""
    inputs, results = tried
    text = inputs_text(inputs)
    others = sum(inputs.get(name) != example.get(name) for name in {**example, **inputs})
    return any(each.refused for each in results), others, len(inputs), len(text), text


def inputs_text(inputs: Mapping[str, Any]) -> str:
    """Write inputs as `calc` takes them."""
    return ", ".join(f"{name}={_typed(value)}" for name, value in sorted(inputs.items()))


def _typed(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(",".join("" if cell is None else _typed(cell) for cell in line) for line in value)
    return value if isinstance(value, str) else f"{value:g}"


def _tried(told: Sides, inputs: Mapping[str, Any], results: tuple[Result, Result], shared: set[str]) -> Tried:
    said = [_said(each, *results, shared) for each in zip(told, results, strict=True)]
    return Tried(inputs=inputs_text(inputs), before=said[0], after=said[1])


def _said(side: tuple[FormulaTold, Result], before: Result, after: Result, shared: set[str]) -> str:
    """Say what one version gives, as far as the other gives something else."""
    told, result = side
    if result.refused:
        return f"refused: {result.refused}"
    whole = bool(before.refused or after.refused)
    differing = (
        each
        for each in told.outputs
        if whole or (each.name in shared and before.outputs.get(each.name) != after.outputs.get(each.name))
    )
    said = [f"{each.label} {_number(result.outputs.get(each.name), each.unit)}" for each in differing]
    if whole or before.verdict != after.verdict:
        said.append(f"verdict {result.verdict or 'none'}")
    return ", ".join(said)


def _number(value: float | None, unit: str) -> str:
    if value is None:
        return "none"
    return quantity(value, unit) if math.isfinite(value) else str(value)
