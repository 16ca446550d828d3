"""The formulas of the guide, by id: add a module for a new subject, and its FORMULAS to the list here."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from build_tools.formulas import moisture, sheets, slope
from build_tools.formulas.definition import Formula, Input, Output, Reckoned
from build_tools.formulas.validation import Validated, validate, validate_given

__all__ = ["FORMULAS", "Formula", "Input", "Output", "Reckoned", "Validated", "reckon", "validate", "validate_given"]

FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.id: formula for formula in (*slope.FORMULAS, *sheets.FORMULAS, *moisture.FORMULAS)}
)
"""All formulas, in the order in which they are listed."""


def reckon(formula: Formula, values: Mapping[str, float | str | None]) -> Reckoned:
    """Reckon a formula with values that `validate` has taken in."""
    return formula.function(*(values[entry.name] for entry in formula.inputs))
