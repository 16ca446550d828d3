"""Values made for the inputs of any formula: all over their ranges, of every kind."""

from __future__ import annotations

import os
import random

from edges import Values
from hypothesis import strategies as st

from build_tools.formulas import Formula, Input
from build_tools.formulas.definition import Value

THOROUGH = os.environ.get("THOROUGH") == "1"
"""Whether more is tried than daily, before a release."""


def tried(usually: int, thoroughly: int) -> int:
    """Say how many made inputs are tried: many where it is done thoroughly."""
    return thoroughly if THOROUGH else usually


def values_of(formula: Formula) -> st.SearchStrategy[dict[str, Value]]:
    """Draw any set of values that the limits of a formula's inputs allow."""
    return st.fixed_dictionaries({spec.name: value_of(spec) for spec in formula.inputs})


def value_of(spec: Input) -> st.SearchStrategy[Value]:
    """Draw a value for one input."""
    if spec.columns:
        line = st.tuples(*map(value_of, spec.columns))
        return st.lists(line, min_size=int(spec.low), max_size=int(spec.high)).map(tuple)
    if spec.choices:
        return st.sampled_from([each.value for each in spec.choices])
    number = st.integers(int(spec.low), int(spec.high)) if spec.whole else st.floats(spec.low, spec.high)
    return number | st.none() if spec.optional else number


def seeded_rows(formula: Formula, count: int) -> list[Values]:
    """Make inputs as finely or as roughly as people write them; the same on every run."""
    chance = random.Random(formula.id)
    return [tuple(_seeded(spec, chance) for spec in formula.inputs) for _ in range(count)]


def _seeded(spec: Input, chance: random.Random) -> Value:
    if spec.columns:
        count = chance.randint(int(spec.low), int(spec.high))
        return tuple(tuple(_seeded(column, chance) for column in spec.columns) for _ in range(count))  # type: ignore[misc]
    if spec.choices:
        return chance.choice(spec.choices).value
    if spec.optional and chance.random() < 0.2:
        return None
    if spec.whole:
        return chance.randint(int(spec.low), int(spec.high))
    exact = chance.uniform(spec.low, spec.high)
    return min(spec.high, max(spec.low, round(exact, chance.choice((0, 1, 2, 3, 15)))))
