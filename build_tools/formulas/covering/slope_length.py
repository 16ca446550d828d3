"""The pitch from what can be measured where there is no level run: the length up the slope, or a fall in per cent."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.model.data import Data

MEASURED = choice(
    "measured",
    "What was measured",
    choices=(Choice("slope", "Rise and length up the slope"), Choice("percent", "Slope in per cent")),
    hint="Where rise and run on the flat can be measured, take the formula for the pitch of the roof.",
    default="slope",
)
SLOPE_RISE = number(
    "rise_mm",
    "Rise",
    low=0,
    high=20000,
    hint="How much higher the upper end of that length stands: the difference of two heights over one floor.",
    optional=True,
)
UP_THE_SLOPE = number(
    "slope_mm",
    "Length up the slope",
    low=100,
    high=20000,
    hint="Along the rafter or the sloping ceiling, between the same two points.",
    optional=True,
)
PERCENT = number(
    "slope_percent",
    "Slope in per cent",
    low=0,
    high=1000,
    hint="From a drawing or a slope gauge: the rise over a hundred of run on the flat.",
    optional=True,
)
SLOPE_PITCH = output("pitch_deg", "Pitch", step=0.1, rounds="down")
RISE_IN_A_METRE = output("metre_rise_mm", "Rise over a run of a metre", step=1, rounds="down")


def pitch_from_slope(
    measured: str, rise_mm: float | None, slope_mm: float | None, slope_percent: float | None
) -> Reckoned:
    """Find the pitch of a roof from its rise and its length up the slope, or from a slope in per cent.

    pitch = arcsin(rise / length up the slope), or arctan(per cent / 100)

    Args:
        measured: [choice] what was measured.
        rise_mm: [mm] height gained over the length; counts only with it.
        slope_mm: [mm] length up the slope.
        slope_percent: [percent] rise in a hundred of run; counts only if per cent was picked.

    Returns:
        pitch_deg: [deg] rounded down; None where something is missing or cannot be.
        metre_rise_mm: [mm] rise over a metre on the flat, rounded down; None likewise.

    Source:
        common-practice: what is measured, with a rule and a level; the rest is geometry.

    Limits:
        On a steep roof a small slip in the length makes a large one in the pitch: over 60 degrees use a level.
        Measure the rafter or the ceiling that follows it, not a tile: a tile lies flatter.

    Example:
        >>> pitch_from_slope("slope", 1500, 3000, None).outputs["pitch_deg"]
        30.0
        >>> pitch_from_slope("percent", None, None, 100).outputs["pitch_deg"]
        45.0
    """
    nothing = {"pitch_deg": None, "metre_rise_mm": None}
    if measured == "percent":
        if slope_percent is None:
            return Reckoned(outputs=nothing, verdict=None, working=("Give the slope in per cent.",))
        share = slope_percent / 100
        said = f"{quantity(slope_percent, '%')} ÷ 100 = {figure(share, 4)}."
        return _pitch_of_share(share, said)
    if rise_mm is None or slope_mm is None:
        return Reckoned(outputs=nothing, verdict=None, working=("Give the rise and the length up the slope.",))
    if at_least(rise_mm, slope_mm):
        upright = "The rise is as long as the slope, or longer. That is no roof: measure both again."
        return Reckoned(outputs=nothing, verdict=None, working=(upright,))
    run_mm = math.sqrt((slope_mm - rise_mm) * (slope_mm + rise_mm))
    said = (
        f"Run on the flat: √({figure(slope_mm, 1)}² − {figure(rise_mm, 1)}²) = {figure(run_mm, 1)} mm. "
        f"{quantity(rise_mm, 'mm')} ÷ {figure(run_mm, 1)} mm = {figure(rise_mm / run_mm, 4)}."
    )
    return _pitch_of_share(rise_mm / run_mm, said)


def _pitch_of_share(share: float, said: str) -> Reckoned:
    """Give pitch and rise in a metre for a rise of so much in one of run."""
    exact_deg = math.degrees(math.atan(share))
    found_deg = rounded(exact_deg, SLOPE_PITCH)
    rise_mm = rounded(1000 * share, RISE_IN_A_METRE)
    working = (
        said,
        f"The angle with this tangent is {figure(exact_deg, 2)}°. Rounded down: {quantity(found_deg, '°')}.",
        f"Over a metre on the flat it rises {quantity(rise_mm, 'mm')}, rounded down.",
    )
    return Reckoned(outputs={"pitch_deg": found_deg, "metre_rise_mm": rise_mm}, verdict=None, working=working)


def _slopes() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the rise over a metre up the slope, and the per cent, of the usual pitches."""
    degrees = (10.0, 12.5, 15.0, 17.5, 20.0, 22.5, 25.0, 30.0, 35.0, 40.0, 45.0)
    return tuple(
        (
            quantity(deg, "°"),
            f"{figure(1000 * math.sin(math.radians(deg)), 0)} mm",
            f"{figure(100 * math.tan(math.radians(deg)), 1)}%",
        )
        for deg in degrees
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="pitch-from-slope",
        title="Pitch from the slope length or per cent",
        subject="covering",
        inputs=(MEASURED, SLOPE_RISE, UP_THE_SLOPE, PERCENT),
        outputs=(SLOPE_PITCH, RISE_IN_A_METRE),
        verdicts=MappingProxyType({}),
        by_hand=ByHand(
            rule=(
                "Mark a metre up the slope, and measure how much higher its upper end stands.",
                "Find that rise, or the per cent, in the table; between two lines the flatter one counts.",
            ),
            heads=("Pitch", "Rise over 1000 mm of slope", "Per cent"),
            rows=_slopes(),
        ),
        function=pitch_from_slope,
        example=MappingProxyType({"measured": "slope", "rise_mm": 1500, "slope_mm": 3000}),
    )
