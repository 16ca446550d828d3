"""What is tried with a formula in both versions: its examples, defaults and limits, and seeded inputs between them.

The sets of inputs are the same whichever version comes first.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from build_tools.review.formula_code.formula_runs import FormulaTold, InputTold

SEEDED = 300
"""Sets of inputs that are drawn over the ranges."""
STEPS = 8
"""Parts into which a range is divided, for what is tried with one input after another."""
MOST_LINES = 3
"""In a list that is drawn."""
Inputs = Mapping[str, Any]


def trials(
    name: str, before: FormulaTold, after: FormulaTold, stated: Iterable[Inputs]
) -> tuple[Mapping[str, Any], ...]:
    """Give the sets of inputs to try; `stated` are those that steps of the trees give, put into the examples."""
    specs = _both(before, after)
    each, other = before.example, after.example
    examples = [each, other, {**each, **other}, {**other, **each}, {}]
    found = [*examples, *({**example, **given} for example in examples for given in stated)]
    for example in examples[:2]:
        found += ({**example, spec: value} for spec, values in specs.items() for value in _corners(values))
        found += [{spec: value for spec, value in example.items() if spec != left_out} for left_out in example]
    chance = random.Random(name)
    found += ({spec: _drawn(chance, values) for spec, values in specs.items()} for _ in range(SEEDED))
    bare = ({spec: value for spec, value in each.items() if value is not None} for each in found)
    return tuple(json.loads(each) for each in sorted({json.dumps(each, sort_keys=True) for each in bare}))


def _both(before: FormulaTold, after: FormulaTold) -> dict[str, tuple[InputTold, ...]]:
    """Give each input by its name, as either version has it, in an order that does not tell which came first."""
    found: dict[str, list[InputTold]] = {}
    for spec in (*before.inputs, *after.inputs):
        found.setdefault(spec.name, []).append(spec)
    return {name: tuple(found[name]) for name in sorted(found)}


def _corners(specs: tuple[InputTold, ...]) -> Iterator[Any]:
    """Give the limits and defaults of one input, and values that divide its range; each pick of a choice."""
    for spec in specs:
        yield spec.default
        yield from spec.choices
    if not any(spec.choices or spec.columns for spec in specs):
        low, high = _range(specs)
        yield from (limit for spec in specs for limit in (spec.low, spec.high))
        yield from (_plain(specs, low + (high - low) * part / STEPS) for part in range(1, STEPS))


def _range(specs: tuple[InputTold, ...]) -> tuple[float, float]:
    return min(spec.low for spec in specs), max(spec.high for spec in specs)


def _plain(specs: tuple[InputTold, ...], value: float) -> float:
    """Round as somebody on a roof would read it, and keep within the range."""
    low, high = _range(specs)
    decimals = 0 if any(spec.whole for spec in specs) or high - low >= 100 else 1 if high - low >= 10 else 2
    return min(max(round(value, decimals), low), high)


def _drawn(chance: random.Random, specs: tuple[InputTold, ...]) -> Any:
    """Draw a value for one input; None leaves it out, as a fourth of those do that may be."""
    if any(spec.optional or spec.default is not None for spec in specs) and chance.random() < 0.25:
        return None
    if choices := sorted({pick for spec in specs for pick in spec.choices}):
        return chance.choice(choices)
    if columns := max((spec.columns for spec in specs), key=repr):
        count = chance.randint(1, MOST_LINES)
        return [[_drawn(chance, (column,)) for column in columns] for _ in range(count)]
    return _plain(specs, chance.uniform(*_range(specs)))
