"""How steep a roof is, and whether what is declared for a least pitch may lie so flat."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.covering.slope_drawing import draw_pitch
from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, round_up, rounded
from build_tools.model.data import Data

MARGIN_DEG = 2
"""A choice of this guide. A level read 10 mm wrong over a metre misses 0.6°, and a rafter that sags by a 200th of its
length lies 1.1° flatter at its foot (the chord of a parabola): together nearly as much."""

RISE = number(
    "rise_mm",
    "Rise",
    low=0,
    high=20000,
    hint="In the loft or on the sloping ceiling: put one end of a level against the underside of a rafter, "
    "hold it level, and measure straight up from its other end to the same rafter.",
)
RUN = number(
    "run_mm",
    "Run",
    low=100,
    high=20000,
    hint="The length of the level, along the flat. A metre is handy.",
    default=1000,
)
LEAST_PITCH = number(
    "least_pitch_deg",
    "Declared least pitch",
    low=0,
    high=60,
    hint="Of this very tile, sheet, window or flashing, from its own papers. Of two, the greater. Leave it out if it "
    "is not known.",
    optional=True,
)
PITCH = output("pitch_deg", "Pitch", step=0.1, rounds="down")
SLOPE_PERCENT = output("slope_percent", "Slope", step=0.1, rounds="down")
SLOPE_LENGTH = output("slope_mm", "Length on the slope", step=1, rounds="up")


def pitch(rise_mm: float, run_mm: float, least_pitch_deg: float | None) -> Reckoned:
    """Find the pitch of a roof, and whether its covering or its window is declared for it.

    pitch = arctan(rise / run); length on the slope = sqrt(rise² + run²)

    Args:
        rise_mm: [mm] height gained over the run.
        run_mm: [mm] length on the flat.
        least_pitch_deg: [deg] least rafter pitch that the covering, or the window, is declared for; None if not known.

    Returns:
        pitch_deg: [deg] rounded down.
        slope_percent: [percent] rise in a hundred of run, rounded down.
        slope_mm: [mm] length on the slope, rounded up.

    Source:
        project-choice: the margin of two degrees, for a level read wrong and a sagging rafter; the rest is geometry.
        new-homes-7-2: least pitches are stated as rafter pitches.

    Limits:
        Measure the rafter, not a tile: a tile lies flatter than its rafter.
        Over a sprocket or in a valley the roof is flatter; measure it there.
        The declared least pitch belongs to one tile or window of one maker; of a tile at a stated headlap and exposure.

    Example:
        >>> pitch(312, 1000, 17.5).outputs["pitch_deg"]
        17.3
        >>> pitch(312, 1000, 17.5).verdict
        'below'
    """
    exact_deg = math.degrees(math.atan(rise_mm / run_mm))
    found_deg = rounded(exact_deg, PITCH)
    percent = rounded(100 * rise_mm / run_mm, SLOPE_PERCENT)
    exact_mm = math.sqrt(rise_mm * rise_mm + run_mm * run_mm)
    slope_mm = rounded(exact_mm, SLOPE_LENGTH)
    working = (
        f"{quantity(rise_mm, 'mm')} ÷ {quantity(run_mm, 'mm')} = {figure(rise_mm / run_mm, 4)}, "
        f"or {quantity(percent, '%')}.",
        f"The angle with this tangent is {figure(exact_deg, 2)}°. Rounded down: {quantity(found_deg, '°')}.",
        f"√({figure(rise_mm, 1)}² + {figure(run_mm, 1)}²) = {figure(exact_mm, 1)} mm along the slope. "
        f"Rounded up: {quantity(slope_mm, 'mm')}.",
    )
    outputs = {"pitch_deg": found_deg, "slope_percent": percent, "slope_mm": slope_mm}
    if least_pitch_deg is None:
        return Reckoned(outputs=outputs, verdict=None, working=working)
    return Reckoned(
        outputs=outputs,
        verdict=_pitch_verdict(found_deg, least_pitch_deg),
        working=(*working, _pitch_margin(found_deg, least_pitch_deg)),
    )


def _pitch_verdict(found_deg: float, least_deg: float) -> str:
    """Compare the pitch as shown, so that rounding never lifts a roof into a better verdict."""
    if not at_least(found_deg, least_deg):
        return "below"
    if at_least(least_deg + MARGIN_DEG, found_deg):
        return "at-limit"
    return "within"


def _pitch_margin(found_deg: float, least_deg: float) -> str:
    """Write by how much the pitch clears or misses the declared least."""
    gap = quantity(abs(found_deg - least_deg), "°")
    if at_least(found_deg, least_deg):
        return f"{quantity(least_deg, '°')} is the declared least: the roof has {gap} more."
    return f"{quantity(least_deg, '°')} is the declared least: the roof is {gap} too flat."


def _rises() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the rise over a metre that the usual pitches need."""
    degrees = (10.0, 12.5, 15.0, 17.5, 20.0, 22.5, 25.0, 30.0, 35.0, 40.0, 45.0)
    return tuple(
        (
            quantity(deg, "°"),
            quantity(round_up(1000 * math.tan(math.radians(deg)), 1), "mm"),
            quantity(round_up(1000 * math.tan(math.radians(deg + MARGIN_DEG)), 1), "mm"),
        )
        for deg in degrees
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="pitch",
        title="Pitch of the roof",
        subject="covering",
        inputs=(RISE, RUN, LEAST_PITCH),
        outputs=(PITCH, SLOPE_PERCENT, SLOPE_LENGTH),
        verdicts=MappingProxyType(
            {
                "below": "The roof is flatter than the declared least. What was declared for it is outside its limits, "
                "even where it is dry today.",
                "at-limit": "The roof is no more than two degrees above the declared least. Measure again, and make "
                "sure that the number is for this very tile, sheet or window.",
                "within": "The roof is steeper than the declared least, by more than two degrees. The pitch alone "
                "does not explain a leak.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Hold a level a metre long against a rafter, and measure the rise over that metre.",
                "Find the declared least pitch in the table. A rise under the second column is below the limit.",
                "A rise from there up to the third column is at the limit; more than that is within it.",
            ),
            heads=("Least pitch", "Rise over 1000 mm", "Rise at two degrees more"),
            rows=_rises(),
        ),
        function=pitch,
        example=MappingProxyType({"rise_mm": 312, "run_mm": 1000, "least_pitch_deg": 17.5}),
        draw=draw_pitch,
    )
