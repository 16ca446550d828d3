"""Underlay beneath the covering: how far one width must lie over the next."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.covering.measured_lap import judged_lap
from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.model.data import Data, UnderlayLap

SIDE_LAP_MM = 100
"""Where two lengths meet, at any pitch, counted past the rafter."""


UNDERLAY_PITCH = number(
    "rafter_pitch_deg",
    "Pitch of the rafters",
    low=0,
    high=90,
    hint="In the loft: the level of a metre held against a rafter, or the formula for the pitch.",
)
SUPPORT = choice(
    "support",
    "What it lies on",
    choices=(Choice("draped", "Draped over rafters"), Choice("boarded", "On boards or rigid insulation")),
    hint="Look up between the rafters: underlay that can be pushed with a finger is draped.",
    default="draped",
)
MEASURED_UNDERLAY_LAP = number(
    "measured_lap_mm",
    "Lap you measured",
    low=0,
    high=1000,
    hint="In the loft, feel for the hidden edge, or read the line printed on the sheet. Leave it out to see only "
    "the lap that is needed.",
    optional=True,
)
UNDERLAY_LAP = output("lap_mm", "Lap needed", step=5, rounds="up")


def underlay_lap(
    underlay_laps: tuple[UnderlayLap, ...], rafter_pitch_deg: float, support: str, measured_lap_mm: float | None
) -> Reckoned:
    """Find the lap between widths of underlay at a pitch, and whether a measured lap is long enough.

    the lap stands in the table, by pitch and by what the underlay lies on

    Args:
        rafter_pitch_deg: [deg] pitch of the rafters.
        support: [choice] draped between the rafters, or fully supported.
        measured_lap_mm: [mm] lap as found, along the slope; None if it was not measured.

    Returns:
        lap_mm: [mm] lap needed, rounded up; None below the flattest pitch of the table.

    Source:
        underlay-laps: horizontal laps by pitch and support, and side laps of 100 mm.

    Limits:
        It is the lap of one width over the next down the slope. Side laps are 100 mm at all pitches.
        The source gives whole degrees; a pitch between 14 and 15 degrees counts with the flatter ones here.
        A sealed lap, or one in a windy place, goes by what the underlay is declared for.
        Underlay carries off a little water for a while. It is no second roof.

    Example:
        >>> underlay_lap(UNDERLAY_LAPS, 22.5, "draped", 100).outputs["lap_mm"]
        150
        >>> underlay_lap(UNDERLAY_LAPS, 22.5, "draped", 100).verdict
        'short'
    """
    row = underlay_laps[0]
    if not at_least(rafter_pitch_deg, row.from_deg):
        said = f"{quantity(rafter_pitch_deg, '°')} is under {quantity(row.from_deg, '°')}, where the table begins."
        return Reckoned(outputs={"lap_mm": None}, verdict="too-flat", working=(said,))
    for each in underlay_laps:
        if at_least(rafter_pitch_deg, each.from_deg):
            row = each
    boarded = support == "boarded"
    lap_mm = rounded(row.boarded_lap_mm if boarded else row.draped_lap_mm, UNDERLAY_LAP)
    lies = "on boards" if boarded else "draped"
    working = (
        f"{quantity(rafter_pitch_deg, '°')}: the row “{row.label}”, {lies}: {quantity(lap_mm, 'mm')}.",
        f"Where two lengths meet sideways: {quantity(SIDE_LAP_MM, 'mm')}, past the rafter.",
    )
    return judged_lap(lap_mm, measured_lap_mm, working)


def formula(data: Data) -> Formula:
    """Make the formula."""
    underlay_laps = rows(data, "underlay-laps", UnderlayLap)
    return Formula(
        id="underlay-lap",
        title="Lap of underlay",
        subject="covering",
        inputs=(UNDERLAY_PITCH, SUPPORT, MEASURED_UNDERLAY_LAP),
        outputs=(UNDERLAY_LAP,),
        verdicts=MappingProxyType(
            {
                "enough": "The lap is long enough for the pitch. Look also for tears, for nail holes, and for the lap "
                "lying the wrong way round.",
                "short": "The lap is too short for the pitch. Water on the underlay, and snow blown under the tiles, "
                "can pass through it.",
                "too-flat": "The roof is flatter than the table of laps. Ask for what the underlay is declared for.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the row of the rafter pitch, and the column of what the underlay lies on.",
                "Flatter than the first row there is no lap in the table.",
                "Side laps are 100 mm at every pitch, counted past the rafter.",
            ),
            heads=("Pitch", "Draped", "On boards"),
            rows=tuple(
                (each.label, quantity(each.draped_lap_mm, "mm"), quantity(each.boarded_lap_mm, "mm"))
                for each in underlay_laps
            ),
        ),
        function=partial(underlay_lap, underlay_laps),
        example=MappingProxyType({"rafter_pitch_deg": 22.5, "support": "draped", "measured_lap_mm": 100}),
        tables=only(data, "underlay-laps"),
    )
