"""A ladder against an eaves: where its foot stands, and how long it has to be."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.ladder.foot_drawing import LADDER_UP, draw_ladder_foot
from build_tools.formulas.numbers import at_least, figure, quantity, round_down, round_up, rounded
from build_tools.model.data import Data

ABOVE_M = 1
"""A ladder stands so far above where one steps off, for a hold."""
FOOT_MARGIN = 0.1
"""A foot within a tenth of its distance stands right: from 74.6 to 77.3 degrees (a choice of this guide)."""

STEP_OFF_HEIGHT = number(
    "height_m",
    "Height where you step off",
    low=1,
    high=12,
    hint="From the ground at the ladder's foot to what it leans on. Let a tape hang from a window, or count brick "
    "courses: four rise 300 mm.",
)
MEASURED_FOOT = number(
    "measured_foot_m",
    "Distance of the foot",
    low=0,
    high=12,
    hint="On the ground, from the foot to the point plumb under where the ladder leans. The eaves stand out from the "
    "wall: add how far.",
    optional=True,
)
LADDER_FOUND = number(
    "ladder_m",
    "Length of the ladder, as it is drawn out",
    low=0.5,
    high=20,
    hint="From its foot to its top, with its parts overlapping as its label says. Leave it out if none is chosen.",
    optional=True,
)
FOOT = output("foot_m", "Distance of the foot", step=0.01, rounds="nearest")
LADDER_LENGTH = output("ladder_length_m", "Length of ladder needed", step=0.1, rounds="up")
LADDER_ANGLE = output("angle_deg", "Angle as it stands", step=0.1, rounds="nearest")


def ladder_foot(height_m: float, measured_foot_m: float | None, ladder_m: float | None) -> Reckoned:
    """Find where the foot of a ladder stands and how long it has to be, and whether it stands right.

    foot = height / 4; length = (height + 1 m) x sqrt(17) / 4

    Args:
        height_m: [m] height at which one steps off.
        measured_foot_m: [m] distance of the foot from plumb under where it leans; None if it does not stand yet.
        ladder_m: [m] length of the ladder as it is drawn out; None if not known.

    Returns:
        foot_m: [m] distance of the foot, to the nearest centimetre.
        ladder_length_m: [m] least length, so that it stands a metre above, rounded up.
        angle_deg: [deg] angle of the ladder as it was measured, to the nearest tenth; None if it was not.

    Source:
        ladder-guidance: one out for four up, 75 degrees, and a metre above the step-off.
        ladder-use: for light work of short duration, with three points of contact, tied at the top.
        common-practice: the palms as a check.
        project-choice: a tenth to either side counts as right.

    Limits:
        It is for a leaning ladder on firm level ground, with a top that bears: never on a gutter or on glass.
        A ladder is for getting up and for a short look, not for work with both hands; that takes a scaffold.
        Some ladders name another angle on their label, and that goes before this one.
        It says nothing of overhead lines, wind, wet rungs or damage.

    Example:
        >>> ladder_foot(4, 1.4, 6).outputs["foot_m"]
        1.0
        >>> ladder_foot(4, 1.4, 6).verdict
        'too-flat'
    """
    foot_m = rounded(height_m / LADDER_UP, FOOT)
    exact_m = (height_m + ABOVE_M) * math.sqrt(1 + LADDER_UP * LADDER_UP) / LADDER_UP
    length_m = rounded(exact_m, LADDER_LENGTH)
    nearest_m = ladder_nearest_m(height_m)
    furthest_m = ladder_furthest_m(height_m)
    working: tuple[str, ...] = (
        f"{quantity(height_m, 'm')} ÷ {LADDER_UP} = {figure(height_m / LADDER_UP, 3)} m. To the nearest centimetre: "
        f"{quantity(foot_m, 'm')}.",
        f"From {quantity(nearest_m, 'm')} to {quantity(furthest_m, 'm')} it stands right.",
        f"({quantity(height_m, 'm')} + {quantity(ABOVE_M, 'm')}) × √17 ÷ 4 = {figure(exact_m, 2)} m of ladder. "
        f"Rounded up: {quantity(length_m, 'm')}.",
    )
    angle_deg: float | None = None
    if measured_foot_m is not None:
        exact_deg = math.degrees(math.atan2(height_m, measured_foot_m))
        angle_deg = rounded(exact_deg, LADDER_ANGLE)
        working = (
            *working,
            f"{quantity(height_m, 'm')} up and {quantity(measured_foot_m, 'm')} out make {figure(exact_deg, 1)}°.",
        )
    outputs = {"foot_m": foot_m, "ladder_length_m": length_m, "angle_deg": angle_deg}
    if ladder_m is not None and not at_least(ladder_m, length_m):
        return Reckoned(outputs=outputs, verdict="too-short", working=working)
    if measured_foot_m is None:
        return Reckoned(outputs=outputs, verdict=None, working=working)
    if not at_least(measured_foot_m, nearest_m):
        return Reckoned(outputs=outputs, verdict="too-steep", working=working)
    verdict = "right" if at_least(furthest_m, measured_foot_m) else "too-flat"
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def ladder_nearest_m(height_m: float) -> float:
    """Give how near the foot may stand, up to the centimetre."""
    return round_up(height_m / LADDER_UP * (1 - FOOT_MARGIN), FOOT.step)


def ladder_furthest_m(height_m: float) -> float:
    """Give how far out the foot may stand, down to the centimetre."""
    return round_down(height_m / LADDER_UP * (1 + FOOT_MARGIN), FOOT.step)


def _ladder_feet() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: heights of a storey, of two and between."""
    return tuple(
        (
            quantity(height, "m"),
            quantity(rounded(height / LADDER_UP, FOOT), "m"),
            f"{quantity(ladder_nearest_m(height), 'm')} to {quantity(ladder_furthest_m(height), 'm')}",
            quantity(rounded((height + ABOVE_M) * math.sqrt(17) / LADDER_UP, LADDER_LENGTH), "m"),
        )
        for height in (2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="ladder-foot",
        title="Foot and length of a ladder",
        subject="ladder",
        inputs=(STEP_OFF_HEIGHT, MEASURED_FOOT, LADDER_FOUND),
        outputs=(FOOT, LADDER_LENGTH, LADDER_ANGLE),
        verdicts=MappingProxyType(
            {
                "right": "Its foot stands right, one out for four up. Firm ground, a tied top and somebody at the "
                "foot are still needed before anybody goes up.",
                "too-steep": "Its foot stands too near, and it can tip backwards. Nobody goes up: draw the foot out "
                "and measure again.",
                "too-flat": "Its foot stands too far out, and it can slide away. Nobody goes up: bring the foot in "
                "and measure again.",
                "too-short": "The ladder is too short to stand a metre above the step-off. Nobody goes up: take a "
                "longer one, and never stand it steeper to reach.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Divide the height by four: so far out stands the foot, from plumb under where the ladder leans.",
                "A check: with your toes at its feet and your arms straight out, your palms just reach a rung.",
                "Add a metre to the height, and take a ladder a twenty-fifth longer than that, or more.",
            ),
            heads=("Height", "Foot", "Right from and to", "Ladder"),
            rows=_ladder_feet(),
        ),
        function=ladder_foot,
        example=MappingProxyType({"height_m": 4, "measured_foot_m": 1.4, "ladder_m": 6}),
        draw=draw_ladder_foot,
    )
