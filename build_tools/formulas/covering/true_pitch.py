"""The pitch at which a tile, or a valley, really lies, which is flatter than the rafters."""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import NamedTuple

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.model.data import Data

VALLEY = "valley"


class Tilt(NamedTuple):
    """How much flatter than its rafter a kind of tile lies."""

    id: str
    label: str
    flatter_deg: float


TILTS = (
    Tilt(id="plain-tiles", label="Plain tiles", flatter_deg=10),
    Tilt(id="interlocking-tiles", label="Standard interlocking concrete tiles", flatter_deg=5),
    Tilt(id="other", label="Another tile, or not known", flatter_deg=10),
)
"""Rules of thumb; where nothing is known, the most that a tile lies flatter."""

TRUE_RAFTER = number(
    "rafter_pitch_deg",
    "Pitch of the rafters",
    low=0,
    high=85,
    hint="Measure the rafter in the loft, or reckon it from rise and run.",
)
LYING = choice(
    "lying",
    "What lies there",
    choices=(
        *(Choice(each.id, each.label) for each in TILTS),
        Choice(VALLEY, "A valley between two slopes of this pitch"),
    ),
    hint="A short level or slope gauge laid on a whole tile goes before this rule of thumb.",
    default="other",
)
TRUE_PITCH = output("pitch_deg", "True pitch", step=0.1, rounds="down")


def true_pitch(rafter_pitch_deg: float, lying: str) -> Reckoned:
    """Find the pitch at which a tile or a valley really lies, from the pitch of the rafters.

    tile: rafter pitch less 5 or 10 degrees; valley: tan(valley) = tan(rafter pitch) / sqrt(2)

    Args:
        rafter_pitch_deg: [deg] pitch of the rafters.
        lying: [choice] which tile lies there, or a valley.

    Returns:
        pitch_deg: [deg] pitch at which it lies, rounded down; never under nought.

    Source:
        tile-true-pitch: plain tiles 10 degrees flatter, standard interlocking concrete tiles 5; 3 to 10 in all.

    Limits:
        For tiles it is a rule of thumb. A level on the tile itself is better.
        The least pitch of a covering is declared for the rafter: compare it with the rafter, not with this.
        Laps of sheet and the height of a headlap go by this pitch, the flatter one.
        The valley holds for two slopes of one pitch that meet at a right angle on plan.

    Example:
        >>> true_pitch(35, "plain-tiles").outputs["pitch_deg"]
        25.0
        >>> true_pitch(35, "valley").outputs["pitch_deg"]
        26.3
    """
    if lying == VALLEY:
        slope = math.tan(math.radians(rafter_pitch_deg)) / math.sqrt(2)
        exact_deg = math.degrees(math.atan(slope))
        found_deg = rounded(exact_deg, TRUE_PITCH)
        working: tuple[str, ...] = (
            f"tan {quantity(rafter_pitch_deg, '°')} ÷ √2 = {figure(slope, 4)}.",
            f"The angle with this tangent is {figure(exact_deg, 2)}°. Rounded down: {quantity(found_deg, '°')}.",
        )
        return Reckoned(outputs={"pitch_deg": found_deg}, verdict=None, working=working)
    tilt = TILTS[0]
    for each in TILTS:
        if each.id == lying:
            tilt = each
    left_deg = rafter_pitch_deg - tilt.flatter_deg
    found_deg = rounded(max(left_deg, 0.0), TRUE_PITCH)
    working = (
        f"{quantity(rafter_pitch_deg, '°')} − {quantity(tilt.flatter_deg, '°')} = {figure(left_deg, 2)}°. "
        f"Rounded down, never under nought: {quantity(found_deg, '°')}.",
    )
    if not at_least(found_deg, TRUE_PITCH.step):
        working = (*working, "So flat a tile would lie level or fall backwards: no tile belongs on this roof.")
    return Reckoned(outputs={"pitch_deg": found_deg}, verdict=None, working=working)


def _pitches() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: what lies on rafters of the usual pitches."""
    degrees = (15.0, 17.5, 20.0, 22.5, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0)
    kinds = ("plain-tiles", "interlocking-tiles", VALLEY)
    return tuple(
        (quantity(deg, "°"), *(figure(true_pitch(deg, kind).outputs["pitch_deg"] or 0, 1) for kind in kinds))
        for deg in degrees
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="true-pitch",
        title="True pitch of a tile or a valley",
        subject="covering",
        inputs=(TRUE_RAFTER, LYING),
        outputs=(TRUE_PITCH,),
        verdicts=MappingProxyType({}),
        by_hand=ByHand(
            rule=(
                "Take 10 degrees off the rafter pitch for plain tiles, and 5 for standard interlocking concrete tiles.",
                "For a tile that is not known take off 10.",
                "A valley is flatter than the slopes beside it: see the table, in degrees.",
            ),
            heads=("Rafter", "Plain tile", "Interlocking tile", "Valley"),
            rows=_pitches(),
        ),
        function=true_pitch,
        example=MappingProxyType({"rafter_pitch_deg": 35, "lying": "plain-tiles"}),
    )
