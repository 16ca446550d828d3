"""Sheet metal laid to a slope: how far one piece must lie over the next."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.measured_lap import judged_lap
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.sheets_drawing import VERTICAL_MM, draw_sheet_lap

LEAST_LAP_MM = 150
"""No lap on a roof slope is shorter, however steep it is."""
FLATTEST_DEG = 11
"""The flattest pitch in the published table of laps."""

SHEET_PITCH = number(
    "pitch_deg",
    "Pitch at which the sheet lies",
    low=0,
    high=90,
    hint="Lay a small level or a slope gauge on the sheet itself, at its flattest place. An apron or a back "
    "gutter lies flatter than the rafters.",
)
MEASURED_LAP = number(
    "measured_lap_mm",
    "Lap you measured",
    low=0,
    high=2000,
    hint="Slide a thin rule up between the two sheets until it meets nothing more, and read it at the lower "
    "edge of the upper sheet. Leave it out to see only the lap that is needed.",
    optional=True,
)
LAP = output("lap_mm", "Lap needed", step=5, rounds="up")


def sheet_lap(pitch_deg: float, measured_lap_mm: float | None) -> Reckoned:
    """Find the lap that lead sheet needs at its pitch, and whether a measured lap is long enough.

    lap = max(150, 75 / sin(pitch))

    Args:
        pitch_deg: [deg] pitch at which the sheet really lies.
        measured_lap_mm: [mm] lap as found, along the slope; None if it was not measured.

    Returns:
        lap_mm: [mm] lap needed along the slope, rounded up; None where it is too flat for a lap.

    Source:
        lead-lap-rule: 75 mm upright, never under 150 mm, and the table from 11 to 30 degrees.

    Limits:
        It is the rule for lead sheet. Other metals and lead substitutes go by the lap their maker declares.
        It holds for laps down a slope. Under 11 degrees there is no lap: one piece, or a step down (a drip).
        Exposed places may need more.

    Example:
        >>> sheet_lap(15, 260).outputs["lap_mm"]
        290
        >>> sheet_lap(15, 260).verdict
        'short'
    """
    if not at_least(pitch_deg, FLATTEST_DEG):
        return Reckoned(outputs={"lap_mm": None}, verdict="too-flat", working=(_too_flat(pitch_deg),))
    lap_mm = lap_needed(pitch_deg)
    exact_mm = VERTICAL_MM / math.sin(math.radians(pitch_deg))
    working = (
        f"{quantity(VERTICAL_MM, 'mm')} ÷ sin {quantity(pitch_deg, '°')} = {figure(exact_mm, 1)} mm.",
        f"Never under {quantity(LEAST_LAP_MM, 'mm')}, and up to the next {quantity(LAP.step, 'mm')}: "
        f"{quantity(lap_mm, 'mm')}.",
    )
    return judged_lap(lap_mm, measured_lap_mm, working)


def lap_needed(pitch_deg: float) -> float:
    """Give the lap in mm at a pitch from 11 to 90 degrees, rounded up."""
    return rounded(max(LEAST_LAP_MM, VERTICAL_MM / math.sin(math.radians(pitch_deg))), LAP)


def _too_flat(pitch_deg: float) -> str:
    return f"{quantity(pitch_deg, '°')} is under {quantity(FLATTEST_DEG, '°')}, where the published laps end."


def _laps() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the lap at the usual pitches."""
    degrees = (11.0, 12.5, 15.0, 17.5, 20.0, 22.5, 25.0, 27.5, 30.0)
    return tuple((quantity(deg, "°"), quantity(lap_needed(deg), "mm")) for deg in degrees)


FORMULAS = (
    Formula(
        id="sheet-lap",
        title="Lap of sheet metal down the slope",
        subject="sheet",
        inputs=(SHEET_PITCH, MEASURED_LAP),
        outputs=(LAP,),
        verdicts=MappingProxyType(
            {
                "enough": "The lap is long enough for the pitch at which the sheet lies.",
                "short": "The lap is too short. Water can be drawn up between the sheets and over the hidden edge.",
                "too-flat": "It lies too flat for any lap. It has to be one piece, or step down over a drip.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the pitch at which the sheet lies in the table; between two lines, take the flatter one.",
                "Steeper than 30° the lap stays at 150 mm. Under 11° there is no lap that holds.",
            ),
            heads=("Pitch", "Lap needed"),
            rows=_laps(),
        ),
        function=sheet_lap,
        example=MappingProxyType({"pitch_deg": 15, "measured_lap_mm": 260}),
        draw=draw_sheet_lap,
    ),
)
