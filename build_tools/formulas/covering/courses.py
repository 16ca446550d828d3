"""Courses up a slope: how many it needs at the greatest gauge, and whether those on the roof are enough."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, round_up, rounded
from build_tools.model.data import Data

BATTENED_LENGTH = number(
    "length_m",
    "Length up the slope, first batten to top batten",
    low=0.2,
    high=40,
    hint="From the top edge of the eaves batten to the top edge of the top batten. Leave it out to reckon it from "
    "the width on the flat.",
    optional=True,
)
PLAN_WIDTH = number(
    "plan_width_m",
    "Width on the flat between the same battens",
    low=0.2,
    high=30,
    hint="For when the slope cannot be measured: along a ceiling or on a drawing, eaves batten to top batten.",
    optional=True,
)
COURSES_PITCH = number(
    "rafter_pitch_deg",
    "Pitch of the rafters",
    low=0,
    high=80,
    hint="Only needed with the width on the flat.",
    optional=True,
)
GREATEST_GAUGE = number(
    "gauge_mm",
    "Greatest gauge",
    low=50,
    high=700,
    hint="From the data sheet of the tile at this pitch: its length less its least headlap; of slates and plain "
    "tiles, half of that.",
)
COUNTED = number(
    "counted_count",
    "Courses counted on the roof",
    low=1,
    high=400,
    whole=True,
    hint="The steps from tail to tail between the same two battens, counted from the ground or on a photo.",
    optional=True,
)
UP_THE_SLOPE_STEP_MM = 0.1
"""A length reckoned from the flat is rounded up to this, finer than anybody measures."""
COURSES = output("courses_count", "Courses needed", step=1, rounds="up")
EVEN_GAUGE = output("even_gauge_mm", "Even gauge", step=0.5, rounds="down")
FOUND_GAUGE = output("found_gauge_mm", "Gauge as it lies", step=0.5, rounds="up")


def courses(
    length_m: float | None,
    plan_width_m: float | None,
    rafter_pitch_deg: float | None,
    gauge_mm: float,
    counted_count: int | None,
) -> Reckoned:
    """Find how many courses a slope needs at the greatest gauge, and whether those on the roof are enough.

    courses = length / greatest gauge, rounded up; even gauge = length / courses

    Args:
        length_m: [m] length up the slope from the eaves batten to the top batten; None if not measured.
        plan_width_m: [m] the same on the flat; counts only where the length is left out.
        rafter_pitch_deg: [deg] pitch of the rafters; counts only with the width on the flat.
        gauge_mm: [mm] greatest gauge of the covering.
        counted_count: [count] courses on the roof over that length; None if they were not counted.

    Returns:
        courses_count: [count] courses needed, rounded up; None where the length is not known.
        even_gauge_mm: [mm] the gauge that spaces them evenly, rounded down.
        found_gauge_mm: [mm] the gauge of those counted, rounded up.

    Source:
        courses-guidance: the distance over the greatest gauge, rounded up, and the even gauge.

    Limits:
        Courses are counted as steps between battens; there is one batten more than steps.
        It takes the gauge as even. A roof may have stretched courses in one place: measure there too.
        Closing the gauge up lengthens the headlap, but interlocking tiles close up only so far.
        One slip in counting makes a difference: count twice.

    Example:
        >>> courses(5, None, None, 345, 14).outputs["courses_count"]
        15
        >>> courses(5, None, None, 345, 14).verdict
        'too-few'
    """
    slope_mm: float | None = None
    working: tuple[str, ...] = ("Give the length up the slope, or the width on the flat with the pitch.",)
    if length_m is not None:
        slope_mm = length_m * 1000
        working = ()
    elif plan_width_m is not None and rafter_pitch_deg is not None:
        slope_mm = round_up(plan_width_m * 1000 / math.cos(math.radians(rafter_pitch_deg)), UP_THE_SLOPE_STEP_MM)
        working = (
            f"{quantity(plan_width_m, 'm')} ÷ cos {quantity(rafter_pitch_deg, '°')} = "
            f"{figure(slope_mm / 1000, 4)} m up the slope, rounded up.",
        )
    if slope_mm is None:
        nothing = {"courses_count": None, "even_gauge_mm": None, "found_gauge_mm": None}
        return Reckoned(outputs=nothing, verdict=None, working=working)
    needed = max(rounded(slope_mm / gauge_mm, COURSES), 1)
    even_mm = rounded(slope_mm / needed, EVEN_GAUGE)
    working = (
        *working,
        f"{figure(slope_mm, 1)} mm ÷ {quantity(gauge_mm, 'mm')} = {figure(slope_mm / gauge_mm, 2)}. "
        f"Rounded up: {figure(needed, 0)}.",
        f"{figure(slope_mm, 1)} mm ÷ {figure(needed, 0)} = {figure(slope_mm / needed, 1)} mm. "
        f"Rounded down: {quantity(even_mm, 'mm')}.",
    )
    if counted_count is None:
        outputs = {"courses_count": needed, "even_gauge_mm": even_mm, "found_gauge_mm": None}
        return Reckoned(outputs=outputs, verdict=None, working=working)
    found_mm = rounded(slope_mm / counted_count, FOUND_GAUGE)
    verdict = "enough" if at_least(counted_count, needed) else "too-few"
    return Reckoned(
        outputs={"courses_count": needed, "even_gauge_mm": even_mm, "found_gauge_mm": found_mm},
        verdict=verdict,
        working=(*working, _counted_line(slope_mm, counted_count, found_mm)),
    )


def _counted_line(slope_mm: float, counted_count: int, found_mm: float) -> str:
    return (
        f"Counted {counted_count}: {figure(slope_mm, 1)} mm ÷ {counted_count} = "
        f"{figure(slope_mm / counted_count, 1)} mm. Rounded up: {quantity(found_mm, 'mm')}."
    )


def _courses() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: gauges needed over some lengths."""
    gauges = (100, 200, 215, 320, 345)
    return tuple(
        (quantity(length, "m"), *(figure(round_up(length * 1000 / gauge, 1), 0) for gauge in gauges))
        for length in (2, 3, 4, 5, 6, 8, 10)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="courses",
        title="Courses up the slope",
        subject="covering",
        inputs=(BATTENED_LENGTH, PLAN_WIDTH, COURSES_PITCH, GREATEST_GAUGE, COUNTED),
        outputs=(COURSES, EVEN_GAUGE, FOUND_GAUGE),
        verdicts=MappingProxyType(
            {
                "enough": "There are enough courses, if they are evenly spaced. Look for single courses that were "
                "stretched.",
                "too-few": "There are too few courses: the gauge is longer than it may be, so headlaps are short. "
                "Count again, then measure the headlap.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Divide the length between the eaves batten and the top batten by the greatest gauge.",
                "Any remainder asks for one more course; then share the length out evenly.",
                "Fewer courses on the roof than that means short headlaps.",
            ),
            heads=("Length", "Gauge 100 mm", "200 mm", "215 mm", "320 mm", "345 mm"),
            rows=_courses(),
        ),
        function=courses,
        example=MappingProxyType({"length_m": 5, "gauge_mm": 345, "counted_count": 14}),
    )
