"""A remedy's list to buy from: what a reader measures for it, and what each material then comes to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from build_tools.formulas import Formula, Reckoned, Value, reckon
from build_tools.formulas.definition import Output
from build_tools.formulas.numbers import quantity
from build_tools.formulas.take_off.inputs import INPUTS
from build_tools.formulas.take_off.runs import run_by_id, sizes_for
from build_tools.model import Material, Remedy, TakeOff

TAKE_OFF = "take-off"
"""The id of the formula that takes materials off."""
INPUT_NAMES = tuple(each.name for each in INPUTS)


@dataclass(frozen=True, slots=True)
class Taken:
    """One material of the list, with what was reckoned for it; None where its quantity stands in words only."""

    material: Material
    formula: Formula
    """What takes it off."""
    reckoned: Reckoned | None

    @property
    def said(self) -> str:
        """Say how much it is, or what is wanting; empty where it stands in words only."""
        if self.reckoned is None or self.material.take_off is None:
            return ""
        outputs = self.reckoned.outputs
        known = [_said(each, outputs[each.name], self.material.take_off) for each in self.formula.outputs]
        lines = [each for each in known if each]
        unsold = self.material.take_off.sold_m is not None and outputs["sold_count"] is None
        return ". ".join((*lines, self.reckoned.working[-1]) if unsold or not lines else lines)


def _said(output: Output, value: float | None, take_off: TakeOff) -> str:
    if value is None:
        return ""
    said = f"{output.label}: {quantity(value, output.unit.symbol)}"
    if output.name != "sold_count":
        return said
    return f"{said} × {take_off.sold_as}, {quantity(take_off.sold_m or 0, 'm')} each"


def settled(take_off: TakeOff) -> Mapping[str, str | float]:
    """Give the inputs of the formula that a material settles itself."""
    held = ((name, getattr(take_off, name)) for name in TakeOff.model_fields if name in INPUT_NAMES)
    return {name: value for name, value in held if value is not None}


def sizes_of(take_off: TakeOff) -> tuple[str, ...]:
    """Give the inputs that it leaves to the reader."""
    own = settled(take_off)
    sizes = sizes_for(run_by_id(take_off.run), take_off.joint or "none")
    return tuple(name for name in (*sizes, "waste_percent") if name not in own)


def asked(remedy: Remedy, formula: Formula) -> Formula | None:
    """Give the formula with no more inputs than a remedy's list asks a reader for; None where nothing is taken off."""
    wanted = {name for each in remedy.materials if each.take_off for name in sizes_of(each.take_off)}
    inputs = tuple(each for each in formula.inputs if each.name in wanted)
    return replace(formula, inputs=inputs) if inputs else None


def taken(remedy: Remedy, formula: Formula, sizes: Mapping[str, Value]) -> tuple[Taken, ...]:
    """Take off every material of a remedy by the formula for it, in its order, from the sizes that were asked."""
    return tuple(Taken(each, formula, _reckoned(each.take_off, formula, sizes)) for each in remedy.materials)


def _reckoned(take_off: TakeOff | None, formula: Formula, sizes: Mapping[str, Value]) -> Reckoned | None:
    if take_off is None:
        return None
    values = {**{each.name: each.default for each in INPUTS}, **sizes, **settled(take_off)}
    return reckon(formula, values)


def sources_of(remedy: Remedy, formula: Formula) -> tuple[str, ...]:
    """Give the ids of all that a remedy's list rests on, the formula's first."""
    own = (source for each in remedy.materials if each.take_off for source in each.take_off.sources)
    return tuple(dict.fromkeys((*formula.sources, *own)))
