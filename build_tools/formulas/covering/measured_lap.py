"""A lap that was measured, held against the lap that is needed: of sheet and of underlay alike."""

from __future__ import annotations

from build_tools.formulas.definition import Reckoned
from build_tools.formulas.numbers import at_least, quantity


def judged_lap(lap_mm: float, measured_lap_mm: float | None, working: tuple[str, ...]) -> Reckoned:
    """Sum up a lap that is needed, in mm; with a verdict, enough or short, where one was measured."""
    if measured_lap_mm is None:
        return Reckoned(outputs={"lap_mm": lap_mm}, verdict=None, working=working)
    enough = at_least(measured_lap_mm, lap_mm)
    gap = quantity(abs(measured_lap_mm - lap_mm), "mm")
    found = f"Measured {quantity(measured_lap_mm, 'mm')}: " + (f"{gap} to spare." if enough else f"{gap} short.")
    return Reckoned(outputs={"lap_mm": lap_mm}, verdict="enough" if enough else "short", working=(*working, found))
