"""Sheet metal laid to a slope: how far one piece must lie over the next."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.covering.measured_lap import judged_lap
from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, round_up, rounded
from build_tools.formulas.sheet.sheets_drawing import FLATTEST_DEG, VERTICAL_MM, draw_sheet_lap
from build_tools.model.data import Data

LEAST_LAP_MM = 150
"""No lap on a roof slope is shorter, however steep it is."""
LAP_STEP_MM = 5
"""Laps by the rule go up to the next of these; a published one that went down was short."""

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
LAP_METAL = choice(
    "metal",
    "Sheet",
    choices=(Choice("lead", "Lead"), Choice("other", "Other metal, or a substitute for lead")),
    hint="Lead is soft, heavy and grey, and a thumbnail marks it.",
    default="lead",
)
DECLARED_LAP = number(
    "declared_lap_mm",
    "Declared lap, of other sheet than lead",
    low=20,
    high=2000,
    hint="From the data sheet of that very sheet, for this pitch or a flatter one. Of lead, leave it out.",
    optional=True,
)
LAP = output("lap_mm", "Lap needed", step=1, rounds="up")


def sheet_lap(pitch_deg: float, measured_lap_mm: float | None, metal: str, declared_lap_mm: float | None) -> Reckoned:
    """Find the lap that sheet needs at its pitch, and whether a measured lap is long enough.

    lead: lap = max(150, 75 / sin(pitch)); other sheet: the lap that its maker declares

    Args:
        pitch_deg: [deg] pitch at which the sheet really lies.
        measured_lap_mm: [mm] lap as found, along the slope; None if it was not measured.
        metal: [choice] lead, or other sheet.
        declared_lap_mm: [mm] lap that the maker of other sheet declares; None if not known, and for lead.

    Returns:
        lap_mm: [mm] lap needed along the slope, rounded up, by the rule to 5 mm.
            None where it is too flat for a lap, and where the lap of other sheet is not known.

    Source:
        lead-lap-rule: 75 mm upright, never under 150 mm, and the table from 11 to 30 degrees.
        common-practice: other sheet goes by the lap that its maker declares.

    Limits:
        The rule is for lead sheet. It holds for laps down a slope.
        Under 11 degrees no lap is counted on, of any sheet: one piece, or a step down (a drip).
        A declared lap holds for its own sheet, from its least pitch up.
        Exposed places may need more.

    Example:
        >>> sheet_lap(15, 260, "lead", None).outputs["lap_mm"]
        290
        >>> sheet_lap(15, 260, "lead", None).verdict
        'short'
        >>> sheet_lap(15, 260, "other", 200).verdict
        'enough'
    """
    if not at_least(pitch_deg, FLATTEST_DEG):
        return Reckoned(outputs={"lap_mm": None}, verdict="too-flat", working=(_too_flat(pitch_deg),))
    if metal == "other":
        return _declared_lap(pitch_deg, measured_lap_mm, declared_lap_mm)
    lap_mm = lap_needed(pitch_deg)
    exact_mm = VERTICAL_MM / math.sin(math.radians(pitch_deg))
    working = (
        f"{quantity(VERTICAL_MM, 'mm')} ÷ sin {quantity(pitch_deg, '°')} = {figure(exact_mm, 1)} mm.",
        f"Never under {quantity(LEAST_LAP_MM, 'mm')}, and up to the next {quantity(LAP_STEP_MM, 'mm')}: "
        f"{quantity(lap_mm, 'mm')}.",
    )
    return judged_lap(lap_mm, measured_lap_mm, working)


def _declared_lap(pitch_deg: float, measured_lap_mm: float | None, declared_lap_mm: float | None) -> Reckoned:
    """Take the lap that is declared, and set what lead would need beside it."""
    lead = f"Lead would need {quantity(lap_needed(pitch_deg), 'mm')} at {quantity(pitch_deg, '°')}."
    if declared_lap_mm is None:
        said = "Other sheet than lead has no common rule. Look up the lap that its maker declares, and give it."
        return Reckoned(outputs={"lap_mm": None}, verdict=None, working=(said, lead))
    lap_mm = rounded(declared_lap_mm, LAP)
    said = f"The maker declares {quantity(declared_lap_mm, 'mm')}. Rounded up: {quantity(lap_mm, 'mm')}."
    return judged_lap(lap_mm, measured_lap_mm, (said, lead))


def lap_needed(pitch_deg: float) -> float:
    """Give the lap of lead in mm at a pitch from 11 to 90 degrees, rounded up."""
    return round_up(max(LEAST_LAP_MM, VERTICAL_MM / math.sin(math.radians(pitch_deg))), LAP_STEP_MM)


def _too_flat(pitch_deg: float) -> str:
    return f"{quantity(pitch_deg, '°')} is under {quantity(FLATTEST_DEG, '°')}, where the published laps end."


def _laps() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the lap at the usual pitches."""
    degrees = (11.0, 12.5, 15.0, 17.5, 20.0, 22.5, 25.0, 27.5, 30.0)
    return tuple((quantity(deg, "°"), quantity(lap_needed(deg), "mm")) for deg in degrees)


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="sheet-lap",
        title="Lap of sheet metal down the slope",
        subject="sheet",
        inputs=(SHEET_PITCH, MEASURED_LAP, LAP_METAL, DECLARED_LAP),
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
                "The table is for lead. Other sheet goes by the lap that its maker declares.",
            ),
            heads=("Pitch", "Lap needed"),
            rows=_laps(),
        ),
        function=sheet_lap,
        example=MappingProxyType({"pitch_deg": 15, "measured_lap_mm": 260, "metal": "lead"}),
        draw=draw_sheet_lap,
    )
