"""Whether a covering lies within what it is declared for: its pitch, its headlap, its place and its rafters."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType
from typing import NamedTuple

from build_tools.formulas.covering.slope import MARGIN_DEG
from build_tools.formulas.definition import ByHand, Choice, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Covering, Data

LONG_UP_TO_DEG = 30
"""On steeper rafters their length is no matter (table of slate laps, note)."""
LONG_MODERATE_M = 9
LONG_SEVERE_M = 6
"""Longer rafters than these carry more water at their foot than the laps of the tables may bear."""
UPRIGHT_DEG = 75
"""From here up it is tile or slate hanging, with laps of its own (BS 5534 counts walls from 75 degrees)."""
NOT_LISTED = "data-sheet"


class CoveringLimits(NamedTuple):
    """What a covering asks for, and None where that is not known."""

    pitch_deg: float | None
    lap_mm: float | None
    lap_by_size: bool
    """Whether its least headlap goes by its size, so that the kind alone does not tell it."""
    pitch_by_kind: bool
    """Whether the least pitch is that of the kind, since none was declared."""
    seldom_under_deg: float | None
    """Where many of the kind are declared for less than that: from here up the kind calls no roof too flat."""


def covering_input(coverings: tuple[Covering, ...]) -> Input:
    """Let the kind of covering be picked."""
    return choice(
        "covering",
        "Covering",
        choices=(Choice(NOT_LISTED, "By its data sheet alone"), *choices_of(coverings)),
        hint="Numbers from the data sheet go before those of the table. Without a data sheet pick the kind.",
        default=NOT_LISTED,
    )


RAFTER_PITCH = number(
    "rafter_pitch_deg",
    "Pitch of the rafters",
    low=0,
    high=90,
    hint="Of the rafter, not of a tile. Over a sprocket or in a valley it is flatter: take the flattest place.",
)
DECLARED_PITCH = number(
    "least_pitch_deg",
    "Declared least pitch of the covering",
    low=0,
    high=60,
    hint="From the data sheet of this very tile. Look on the back of a spare tile for its name.",
    optional=True,
)
HEADLAP = number(
    "headlap_mm",
    "Headlap you measured",
    low=0,
    high=400,
    hint="Single lap: how far a tile covers the one below. Double lap: how far it covers the next but one below.",
    optional=True,
)
LEAST_HEADLAP = number(
    "least_headlap_mm",
    "Declared least headlap",
    low=20,
    high=400,
    hint="From the same data sheet, for this pitch and exposure.",
    optional=True,
)
EXPOSURE = choice(
    "exposure",
    "Exposure",
    choices=(Choice("moderate", "Sheltered or moderate"), Choice("severe", "Severe (coast, hill)")),
    hint="Severe is 56.5 litres of driving rain a square metre and spell, or more. If in doubt, take severe.",
    default="severe",
)
RAFTER_LENGTH = number(
    "length_m",
    "Length of the rafter, eaves to ridge",
    low=0.5,
    high=40,
    hint="Along the slope. Count the courses and multiply by the gauge, or measure in the loft.",
    optional=True,
)
PITCH_TO_SPARE = output("pitch_margin_deg", "Pitch to spare", step=0.1, rounds="down")
LAP_TO_SPARE = output("lap_margin_mm", "Headlap to spare", step=1, rounds="down")


def covering_margin(
    coverings: tuple[Covering, ...],
    covering: str,
    rafter_pitch_deg: float,
    least_pitch_deg: float | None,
    headlap_mm: float | None,
    least_headlap_mm: float | None,
    exposure: str,
    length_m: float | None,
) -> Reckoned:
    """Find whether the pitch and the headlap of a covering are within what it is declared for.

    to spare = pitch of the rafters - least pitch; to spare = headlap - least headlap

    Args:
        covering: [choice] which kind, or by its data sheet alone.
        rafter_pitch_deg: [deg] pitch of the rafters.
        least_pitch_deg: [deg] declared least rafter pitch; None if not known.
        headlap_mm: [mm] headlap as found; None if it was not measured.
        least_headlap_mm: [mm] declared least headlap; None if not known.
        exposure: [choice] exposure to driving rain.
        length_m: [m] length of the rafter along the slope; None if not known.

    Returns:
        pitch_margin_deg: [deg] pitch to spare, rounded down; under nought where it is too flat.
        lap_margin_mm: [mm] headlap to spare, rounded down; None where one of the two is not known.

    Source:
        new-homes-7-2: least pitches and headlaps where there is no data sheet.
        project-choice: the margin of two degrees, for a level read wrong and a rafter that sags; the 10 degrees.
        common-practice: in an exposed place a roof is steeper or its headlap longer.
        slate-laps: rafters over 9 m at 30 degrees or less.
        long-rafters: rafters over 6 m in severe exposure.

    Limits:
        The declared numbers belong to one tile of one maker; one that looks like it may need a steeper roof.
        The limits for long rafters were given for slates; here they warn for every covering.
        From 75 degrees up it is hung tile or slate, which has laps of its own.
        Many interlocking tiles are declared for less than their kind, so it calls too flat only what is under 10°.
        Dry today proves nothing for a roof outside its limits, and within them it may still be broken.

    Example:
        >>> covering_margin(COVERINGS, "data-sheet", 17.3, 17.5, 75, 75, "moderate", None).outputs["pitch_margin_deg"]
        -0.2
        >>> covering_margin(COVERINGS, "data-sheet", 17.3, 17.5, 75, 75, "moderate", None).verdict
        'below'
    """
    limits = covering_limits(coverings, covering, least_pitch_deg, least_headlap_mm, exposure)
    lap_spare_mm: float | None = None
    if headlap_mm is not None and limits.lap_mm is not None:
        lap_spare_mm = rounded(headlap_mm - limits.lap_mm, LAP_TO_SPARE)
    working: tuple[str, ...] = (_headlap_line(headlap_mm, limits.lap_mm),)
    if limits.pitch_deg is None:
        none = "The least pitch is not known. Find the data sheet, or pick the kind of covering."
        outputs = {"pitch_margin_deg": None, "lap_margin_mm": lap_spare_mm}
        return Reckoned(outputs=outputs, verdict=None, working=(none, *working))
    spare_deg = rounded(rafter_pitch_deg - limits.pitch_deg, PITCH_TO_SPARE)
    long_rafter = is_long_rafter(rafter_pitch_deg, exposure, length_m)
    working = (_pitch_line(rafter_pitch_deg, limits.pitch_deg, spare_deg, limits.pitch_by_kind), *working)
    if long_rafter:
        working = (*working, "A rafter so long at so low a pitch may ask for more lap than the table gives.")
    if exposure == "severe":
        working = (*working, "In an exposed place the roof should be steeper, or the headlap longer, than the least.")
    if at_least(rafter_pitch_deg, UPRIGHT_DEG):
        working = (*working, f"From {quantity(UPRIGHT_DEG, '°')} up it is hung on a wall: look up the laps for that.")
    outputs = {"pitch_margin_deg": spare_deg, "lap_margin_mm": lap_spare_mm}
    undecided = _undecided(limits, rafter_pitch_deg, spare_deg, lap_spare_mm)
    if undecided is not None:
        return Reckoned(outputs=outputs, verdict=None, working=(*working, undecided))
    verdict = _margin_verdict(spare_deg, lap_spare_mm, long_rafter)
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def covering_limits(
    coverings: tuple[Covering, ...],
    covering: str,
    least_pitch_deg: float | None,
    least_headlap_mm: float | None,
    exposure: str,
) -> CoveringLimits:
    """Give the least pitch and headlap: as declared, or else from the table."""
    pitch_deg = least_pitch_deg
    lap_mm = least_headlap_mm
    lap_by_size = False
    seldom_under_deg: float | None = None
    for row in coverings:
        if row.id == covering:
            pitch_deg = row.least_pitch_deg if least_pitch_deg is None else least_pitch_deg
            table_mm = row.headlap_severe_mm if exposure == "severe" else row.headlap_mm
            lap_mm = table_mm if least_headlap_mm is None else least_headlap_mm
            lap_by_size = row.headlap_mm is None
            seldom_under_deg = row.seldom_under_deg if least_pitch_deg is None else None
    return CoveringLimits(
        pitch_deg=pitch_deg,
        lap_mm=lap_mm,
        lap_by_size=lap_by_size,
        pitch_by_kind=least_pitch_deg is None,
        seldom_under_deg=seldom_under_deg,
    )


def is_long_rafter(rafter_pitch_deg: float, exposure: str, length_m: float | None) -> bool:
    """Tell whether the rafter is longer than the tables of laps allow for at its pitch."""
    if length_m is None or not at_least(LONG_UP_TO_DEG, rafter_pitch_deg):
        return False
    return not at_least(LONG_SEVERE_M if exposure == "severe" else LONG_MODERATE_M, length_m)


def _undecided(limits: CoveringLimits, rafter_deg: float, spare_deg: float, lap_spare_mm: float | None) -> str | None:
    """Say what is missing for a verdict; None where nothing is."""
    if lap_spare_mm is not None and not at_least(lap_spare_mm, 0):
        return None
    seldom_deg = limits.seldom_under_deg
    if seldom_deg is not None and at_least(rafter_deg, seldom_deg) and not at_least(spare_deg, 0):
        return "Many tiles of this kind are declared for less. Only the data sheet of this very tile calls it too flat."
    if limits.lap_by_size and lap_spare_mm is None and at_least(spare_deg, 0):
        return "Slates are judged by pitch and headlap together. Give both, the least from the gauge of slates."
    return None


def _margin_verdict(spare_deg: float, lap_spare_mm: float | None, long_rafter: bool) -> str:
    """Compare what is shown, so that rounding never lifts a roof into a better verdict."""
    if not at_least(spare_deg, 0) or (lap_spare_mm is not None and not at_least(lap_spare_mm, 0)):
        return "below"
    if at_least(MARGIN_DEG, spare_deg) or long_rafter:
        return "at-limit"
    return "within"


def _pitch_line(rafter_deg: float, least_deg: float, spare_deg: float, by_kind: bool) -> str:
    said = f"{quantity(rafter_deg, '°')} − {quantity(least_deg, '°')} = "
    if at_least(spare_deg, 0):
        return said + f"{quantity(spare_deg, '°')} of pitch to spare, rounded down."
    if by_kind:
        return said + f"{quantity(spare_deg, '°')}: flatter than what holds for its kind where nothing is declared."
    return said + f"{quantity(spare_deg, '°')}: flatter than it is declared for."


def _headlap_line(found_mm: float | None, least_mm: float | None) -> str:
    if least_mm is None:
        return "The least headlap is not known, so the headlap is not judged."
    if found_mm is None:
        return f"The headlap should be {quantity(least_mm, 'mm')} or more. It was not measured, so it is not judged."
    said = f"Headlap {quantity(found_mm, 'mm')} − {quantity(least_mm, 'mm')} = "
    return said + f"{quantity(rounded(found_mm - least_mm, LAP_TO_SPARE), 'mm')} to spare, rounded down."


def formula(data: Data) -> Formula:
    """Make the formula."""
    kinds = rows(data, "coverings", Covering)
    return Formula(
        id="covering-margin",
        title="What the covering has to spare",
        subject="covering",
        inputs=(covering_input(kinds), RAFTER_PITCH, DECLARED_PITCH, HEADLAP, LEAST_HEADLAP, EXPOSURE, RAFTER_LENGTH),
        outputs=(PITCH_TO_SPARE, LAP_TO_SPARE),
        verdicts=MappingProxyType(
            {
                "below": "The roof is flatter, or its headlap shorter, than its covering allows. What is declared for "
                "this very tile goes before any table. Write it down as outside its limits and watch it, even where "
                "it is dry today.",
                "at-limit": "The covering is at its limit: two degrees or less to spare, or a long rafter at a low "
                "pitch. Make sure that the numbers are for this very tile, and measure again.",
                "within": "What was measured is within what the covering allows. That does not clear it: look for "
                "broken, slipped and silted pieces.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Take the least pitch from the data sheet; without one, from the table.",
                "Flatter than that is below; interlocking tiles only by their data sheet, or under 10°. Up to two "
                "degrees more is at the limit: a level read wrong and a rafter that sags can hide as much.",
                "Do the same with the headlap: shorter than the least is below, whatever the pitch.",
                "At 30° or less, a rafter over 9 m is at the limit too; in severe exposure, one over 6 m.",
            ),
            heads=("Covering", "Below, if flatter than", "Within, if steeper than"),
            rows=tuple(
                (each.label, quantity(each.least_pitch_deg, "°"), quantity(each.least_pitch_deg + MARGIN_DEG, "°"))
                for each in kinds
            ),
        ),
        function=partial(covering_margin, kinds),
        example=MappingProxyType(
            {
                "covering": "data-sheet",
                "rafter_pitch_deg": 17.3,
                "least_pitch_deg": 17.5,
                "headlap_mm": 75,
                "least_headlap_mm": 75,
                "exposure": "moderate",
                "length_m": 5,
            }
        ),
        tables=only(data, "coverings"),
    )
