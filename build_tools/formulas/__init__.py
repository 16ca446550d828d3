"""The formulas of the guide, by id: a module for a new subject goes on the list here.

In: data tables, and numbers and choices that were typed. Out: results with their working, verdict, limits and sources.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType, ModuleType

from build_tools.formulas.covering import courses, laps, margin, slating, slope, slope_length, true_pitch, underlay
from build_tools.formulas.definition import SUBJECTS, Formula, Input, Lines, Output, Reckoned, Value
from build_tools.formulas.finding import hosing, outside, spells
from build_tools.formulas.glass import mass
from build_tools.formulas.ladder import foot
from build_tools.formulas.moisture import dew_point, drying, interstitial, surfaces, timber, ventilation
from build_tools.formulas.sheet import sheet_masses, sheets, soakers, thermal
from build_tools.formulas.take_off import formula as take_off
from build_tools.formulas.validation import Validated, validate, validate_given
from build_tools.formulas.water import back_gutters, driving, eaves, rain, side_gutters
from build_tools.model.data import Data

__all__ = [
    "Formula",
    "Input",
    "Lines",
    "Output",
    "Reckoned",
    "Validated",
    "Value",
    "by_subject",
    "formulas_of",
    "reckon",
    "validate",
    "validate_given",
]

MODULES: tuple[ModuleType, ...] = (
    rain,
    side_gutters,
    back_gutters,
    eaves,
    driving,
    slope,
    slope_length,
    true_pitch,
    margin,
    slating,
    courses,
    underlay,
    laps,
    sheets,
    soakers,
    sheet_masses,
    thermal,
    mass,
    dew_point,
    surfaces,
    interstitial,
    timber,
    ventilation,
    drying,
    outside,
    hosing,
    spells,
    foot,
    take_off,
)
"""The modules that define formulas, each with a function `formula` that makes it of the data tables."""


def formulas_of(data: Data) -> Mapping[str, Formula]:
    """Make all formulas of these data tables; by id, subject by subject, in the order in which they are listed."""
    order = list(SUBJECTS)
    found = (module.formula(data) for module in MODULES)
    in_order = sorted(found, key=lambda each: order.index(each.subject))
    return MappingProxyType({formula.id: formula for formula in in_order})


def by_subject(formulas: Mapping[str, Formula]) -> Mapping[str, tuple[Formula, ...]]:
    """Give the title of each subject that has formulas, with these."""
    grouped = {
        title: tuple(each for each in formulas.values() if each.subject == subject)
        for subject, title in SUBJECTS.items()
    }
    return {title: each for title, each in grouped.items() if each}


def reckon(formula: Formula, values: Mapping[str, Value]) -> Reckoned:
    """Reckon a formula with values that `validate` has taken in."""
    return formula.function(*(values[entry.name] for entry in formula.inputs))
