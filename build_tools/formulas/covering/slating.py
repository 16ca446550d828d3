"""Double-lap slates: the gauge that a headlap leaves, where the holes go, and whether the lap does."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType
from typing import NamedTuple

from build_tools.formulas.covering.margin import EXPOSURE
from build_tools.formulas.covering.slating_drawing import draw_slate_gauge
from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.model.data import Data, SlateLaps

HEAD_TO_NAIL_MM = 25
"""A slate nailed near the head counts from its nail hole, an inch below the head."""
HOLE_CLEARANCE_MM = 10
"""A centre nail passes so far above the head of the slate below; 8 to 15 mm is published."""
SIDE_GAP_MM = 5
"""Left open between neighbours in a course (common practice, no source)."""
LAPS_IN_A_SLATE = 3
"""A lap of more than a third of the slate leaves less slate showing than lapped: one of the two was misread."""
TO_A_CLEAR_SIZE_MM = 8
"""A slate counts as a size in the table when it is within this of it: 20 inches is 508 mm (common practice)."""


class LeastLap(NamedTuple):
    """What the table says of a slate: the lap, or why there is none."""

    lap_mm: float | None
    said: str
    too_flat: bool


SLATE_LENGTH = number(
    "length_mm", "Length of the slate", low=200, high=900, hint="Of a spare or slipped slate, head to tail."
)
SLATE_HEADLAP = number(
    "headlap_mm",
    "Headlap",
    low=0,
    high=300,
    hint="How far a slate covers the next but one below: the slate's length less two gauges. Measure the gauge "
    "from tail to tail over ten courses and divide by ten.",
)
NAILING = choice(
    "nailing",
    "Nailed",
    choices=(Choice("centre", "Near the centre"), Choice("head", "Near the head")),
    hint="Lift the tail of a slate, or look at a spare: holes half way up, or an inch under the head.",
    default="centre",
)
SLATE_WIDTH = number(
    "width_mm",
    "Width of the slate",
    low=100,
    high=600,
    hint="Leave it out to see the gauge alone.",
    optional=True,
)
SLATE_PITCH = number(
    "rafter_pitch_deg",
    "Pitch of the rafters",
    low=0,
    high=90,
    hint="Leave it out to see the gauge alone.",
    optional=True,
)
GAUGE = output("gauge_mm", "Gauge", step=0.5, rounds="down")
HOLE = output("hole_mm", "Nail hole from the tail", step=0.5, rounds="up")
SLATES_PER_M2 = output("slates_per_m2", "Slates, without waste", step=0.1, rounds="up")
SLATE_LEAST_LAP = output("least_headlap_mm", "Least headlap by the table", step=5, rounds="up")


def slate_gauge(
    headlaps: tuple[SlateLaps, ...],
    length_mm: float,
    headlap_mm: float,
    nailing: str,
    width_mm: float | None,
    rafter_pitch_deg: float | None,
    exposure: str,
) -> Reckoned:
    """Find the gauge of double-lap slates, where their holes go, and whether the headlap does at the pitch.

    centre-nailed: gauge = (length - headlap) / 2; head-nailed: gauge = (length - 25 mm - headlap) / 2

    Args:
        length_mm: [mm] length of the slate.
        headlap_mm: [mm] headlap: over the head of the next slate but one, or over its nail hole if head-nailed.
        nailing: [choice] near the centre, or near the head.
        width_mm: [mm] width of the slate; None to leave out the count and the table.
        rafter_pitch_deg: [deg] pitch of the rafters; None to leave out the table.
        exposure: [choice] exposure to driving rain.

    Returns:
        gauge_mm: [mm] from tail to tail, rounded down; None where the lap does not fit the slate.
        hole_mm: [mm] from the tail up to the nail hole, rounded up.
        slates_per_m2: [per_m2] to a square metre of slope, without waste, rounded up.
        least_headlap_mm: [mm] least headlap of this size at this pitch; None where the table has none.

    Source:
        slate-gauge-book: the gauge of slates nailed near the centre and near the head.
        slating-terms: holes of centre-nailed slates; ten millimetres of clearance are taken.
        common-practice: five millimetres between slates, no lap over a third of the slate,
            and up to eight millimetres between an old inch size and its row.

    Limits:
        It is for slates of one size. Random and diminishing slates have a gauge for each course.
        Between two pitches of the table the flatter one counts; sizes between those of the table are not guessed.
        Long rafters at 30 degrees or less may need more lap than the table gives.
        The hole of a head-nailed slate is 25 millimetres below its head.

    Example:
        >>> slate_gauge(HEADLAPS, 500, 100, "centre", 250, 25, "moderate").outputs["gauge_mm"]
        200.0
        >>> slate_gauge(HEADLAPS, 500, 75, "centre", 250, 25, "moderate").verdict
        'short'
    """
    nothing = {"gauge_mm": None, "hole_mm": None, "slates_per_m2": None, "least_headlap_mm": None}
    if not at_least(length_mm, LAPS_IN_A_SLATE * headlap_mm):
        said = (
            f"A third of {quantity(length_mm, 'mm')} is {figure(length_mm / LAPS_IN_A_SLATE, 1)} mm: less than "
            f"a headlap of {quantity(headlap_mm, 'mm')}."
        )
        return Reckoned(outputs=nothing, verdict="misfit", working=(said,))
    head_mm = HEAD_TO_NAIL_MM if nailing == "head" else 0
    exact_mm = (length_mm - head_mm - headlap_mm) / 2
    gauge_mm = rounded(exact_mm, GAUGE)
    hole_mm = rounded(length_mm - head_mm if nailing == "head" else exact_mm + headlap_mm + HOLE_CLEARANCE_MM, HOLE)
    working: tuple[str, ...] = (
        _gauge_line(length_mm, head_mm, headlap_mm, exact_mm, gauge_mm),
        _hole_line(nailing, exact_mm, headlap_mm, hole_mm),
    )
    per_m2: float | None = None
    if width_mm is not None:
        per_m2 = rounded(1000000 / (exact_mm * (width_mm + SIDE_GAP_MM)), SLATES_PER_M2)
        working = (*working, _count_line(exact_mm, width_mm, per_m2))
    outputs = {"gauge_mm": gauge_mm, "hole_mm": hole_mm, "slates_per_m2": per_m2, "least_headlap_mm": None}
    if width_mm is None or rafter_pitch_deg is None:
        return Reckoned(outputs=outputs, verdict=None, working=working)
    least = least_slate_lap(headlaps, length_mm, width_mm, rafter_pitch_deg, exposure)
    outputs = {"gauge_mm": gauge_mm, "hole_mm": hole_mm, "slates_per_m2": per_m2, "least_headlap_mm": least.lap_mm}
    return Reckoned(outputs=outputs, verdict=_slate_verdict(headlap_mm, least), working=(*working, least.said))


def least_slate_lap(
    headlaps: tuple[SlateLaps, ...], length_mm: float, width_mm: float, rafter_pitch_deg: float, exposure: str
) -> LeastLap:
    """Look up the least headlap of a size, at the next flatter pitch of the table; nothing is interpolated."""
    place = "severe" if exposure == "severe" else "moderate"
    for row in headlaps:
        length_fits = at_least(TO_A_CLEAR_SIZE_MM, abs(row.length_mm - length_mm))
        if length_fits and at_least(TO_A_CLEAR_SIZE_MM, abs(row.width_mm - width_mm)):
            laps = row.severe if exposure == "severe" else row.moderate
            found = laps[0]
            for each in laps:
                if at_least(rafter_pitch_deg, each.rafter_pitch_deg):
                    found = each
            from_deg = quantity(found.rafter_pitch_deg, "°")
            if not at_least(rafter_pitch_deg, found.rafter_pitch_deg):
                said = f"A slate of {row.label} is listed from {from_deg} up, in {place} exposure."
                return LeastLap(lap_mm=None, said=said, too_flat=True)
            lap = quantity(found.headlap_mm, "mm")
            said = f"The table gives {lap} for a slate of {row.label} from {from_deg} up, in {place} exposure."
            return LeastLap(lap_mm=found.headlap_mm, said=said, too_flat=False)
    return LeastLap(lap_mm=None, said="This size is not in the table of headlaps.", too_flat=False)


def _slate_verdict(headlap_mm: float, least: LeastLap) -> str:
    if least.lap_mm is None:
        return "too-flat" if least.too_flat else "not-listed"
    return "enough" if at_least(headlap_mm, least.lap_mm) else "short"


def _gauge_line(length_mm: float, head_mm: float, headlap_mm: float, exact_mm: float, gauge_mm: float) -> str:
    head = "" if head_mm == 0 else f" − {quantity(head_mm, 'mm')} above the nail"
    return (
        f"({quantity(length_mm, 'mm')}{head} − {quantity(headlap_mm, 'mm')}) ÷ 2 = {figure(exact_mm, 2)} mm. "
        f"Rounded down: gauge {quantity(gauge_mm, 'mm')}."
    )


def _hole_line(nailing: str, exact_mm: float, headlap_mm: float, hole_mm: float) -> str:
    if nailing == "head":
        return f"The hole is {quantity(HEAD_TO_NAIL_MM, 'mm')} below the head: {quantity(hole_mm, 'mm')} from the tail."
    return (
        f"Hole from the tail: {figure(exact_mm, 2)} + {figure(headlap_mm, 2)} + {quantity(HOLE_CLEARANCE_MM, 'mm')} "
        f"to clear the slate below. Rounded up: {quantity(hole_mm, 'mm')}."
    )


def _count_line(exact_mm: float, width_mm: float, per_m2: float) -> str:
    return (
        f"1 m² ÷ ({figure(exact_mm, 2)} mm × ({quantity(width_mm, 'mm')} + {quantity(SIDE_GAP_MM, 'mm')})) = "
        f"{figure(per_m2, 1)} slates, rounded up. Add for waste, eaves, verge and cuts."
    )


def _gauges() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: gauges of centre-nailed slates by headlap."""
    return tuple(
        (
            quantity(length, "mm"),
            *(figure(rounded((length - lap) / 2, GAUGE), 1) for lap in (70.0, 80.0, 90.0, 100.0, 115.0)),
        )
        for length in (300.0, 350.0, 400.0, 450.0, 500.0, 600.0)
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    headlaps = rows(data, "headlaps", SlateLaps)
    return Formula(
        id="slate-gauge",
        title="Gauge of slates",
        subject="covering",
        inputs=(SLATE_LENGTH, SLATE_HEADLAP, NAILING, SLATE_WIDTH, SLATE_PITCH, EXPOSURE),
        outputs=(GAUGE, HOLE, SLATES_PER_M2, SLATE_LEAST_LAP),
        verdicts=MappingProxyType(
            {
                "enough": "The headlap is no shorter than the table asks for. Slipped, cracked and badly holed slates "
                "still leak.",
                "short": "The headlap is shorter than the table asks for. Wind can drive water over the heads or to "
                "the nail holes.",
                "too-flat": "The table has no lap for this slate at so low a pitch. Count it as outside its limits, "
                "even where it is dry today.",
                "not-listed": "This size is not in the table. Ask for the headlap in the data of the slate itself.",
                "misfit": "The lap is more than a third of the slate. Measure both again: one of them was misread.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Take the headlap from the length of the slate, and halve what is left: that is the gauge.",
                "Nailed near the head, take off another 25 mm first.",
                "The hole of a centre-nailed slate is gauge, headlap and 10 mm up from the tail.",
            ),
            heads=("Slate", "Lap 70 mm", "80 mm", "90 mm", "100 mm", "115 mm"),
            rows=_gauges(),
        ),
        function=partial(slate_gauge, headlaps),
        example=MappingProxyType(
            {
                "length_mm": 500,
                "headlap_mm": 75,
                "nailing": "centre",
                "width_mm": 250,
                "rafter_pitch_deg": 25,
                "exposure": "moderate",
            }
        ),
        draw=draw_slate_gauge,
        tables=only(data, "headlaps"),
    )
