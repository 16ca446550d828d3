"""Taking off: how much of one material a light or a slope asks for, and how many to buy."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned
from build_tools.formulas.numbers import figure, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.formulas.take_off.drawing import draw_take_off
from build_tools.formulas.take_off.inputs import INPUTS, TAKEN_AREA, TAKEN_LENGTH, TAKEN_PIECES, TO_BUY
from build_tools.formulas.take_off.runs import run_by_id
from build_tools.formulas.take_off.ways import (
    NOT_GIVEN,
    TakenSizes,
    still_wanted,
    taken,
    taken_area,
    taken_edges,
    taken_pieces,
    taken_slope,
)
from build_tools.model.data import Data, UnderlayLap


def take_off(
    underlay_laps: tuple[UnderlayLap, ...],
    run: str,
    joint: str,
    width_mm: float | None,
    height_mm: float | None,
    lights_count: int,
    gauge_mm: float | None,
    cover_mm: float | None,
    pitch_deg: float | None,
    slope_width_m: float | None,
    slope_length_m: float | None,
    reveal_mm: float | None,
    strip_mm: float,
    past_mm: float,
    longest_mm: float | None,
    waste_percent: float,
    sold_m: float | None,
) -> Reckoned:
    """Find how much of a material a light or a slope asks for, with laps and waste, and how many to buy.

    length = edges + a lap or a roll for each joint + waste; to buy = length / length sold, rounded up

    Args:
        run: [choice] the edges, courses or area that it is taken along.
        joint: [choice] how its pieces meet.
        width_mm: [mm] width of the light, over its outside.
        height_mm: [mm] length of the light up the slope, over its outside.
        lights_count: [count] lights of that size.
        gauge_mm: [mm] gauge of the covering.
        cover_mm: [mm] cover width of a tile or slate.
        pitch_deg: [deg] pitch at which the pieces lie.
        slope_width_m: [m] width of the slope along the eaves.
        slope_length_m: [m] length of the slope along the rafter, eaves to ridge.
        reveal_mm: [mm] depth of the reveal indoors.
        strip_mm: [mm] width of a roll of underlay.
        past_mm: [mm] how far a piece goes past each end of an edge.
        longest_mm: [mm] longest piece that may be laid; None where there is no limit.
        waste_percent: [percent] waste.
        sold_m: [m] length of one as it is sold; None to leave that open.

    Returns:
        length_m: [m] length with laps and waste, rounded up; None where it is not taken by length.
        area_m2: [m2] area with waste, rounded up; None where it is not taken by area.
        pieces_count: [count] pieces with waste, rounded up; None where they are not counted.
        sold_count: [count] bars, rolls or cartridges to buy, rounded up; None where their length is not known.

    Source:
        lead-lap-rule: the lap of sheet for its pitch.
        underlay-laps: the lap of underlay for its pitch, draped, and 100 mm sideways.
        soaker-book: one to each course.
        courses-guidance: courses up a slope.
        new-homes-weathering: lead in pieces of at most 1.5 m.
        common-practice: 250 mm of sheet in a roll between two pieces of a gutter; a tenth for waste,
            and one tile or soaker more where no course starts at an end.

    Limits:
        It takes a light as a rectangle, and edges as straight.
        Sheet is reckoned by its length only: its width follows from the drawing of the work.
        Other sheet than lead is lapped as its maker declares, which can be more.
        What is found broken when the roof is open comes on top.

    Example:
        >>> sizes = (780, 1180, 1, 345, 300, 22.5, None, None, None, 1000)
        >>> take_off(UNDERLAY_LAPS, "sides-and-head", "whole", *sizes, 0, None, 10, 3).outputs["length_m"]
        3.5
    """
    row = run_by_id(run)
    sizes = TakenSizes(
        width_mm=_or_not_given(width_mm),
        height_mm=_or_not_given(height_mm),
        gauge_mm=_or_not_given(gauge_mm),
        cover_mm=_or_not_given(cover_mm),
        pitch_deg=_or_not_given(pitch_deg),
        slope_width_m=_or_not_given(slope_width_m),
        slope_length_m=_or_not_given(slope_length_m),
        reveal_mm=_or_not_given(reveal_mm),
    )
    wanted = still_wanted(row, joint, sizes)
    if wanted != "":
        return taken(None, None, None, None, (f"Still wanted: {wanted}.",))
    if row.gives == "pieces":
        return taken_pieces(row, sizes, lights_count, waste_percent)
    if row.gives == "area":
        return taken_area(row, sizes, lights_count, waste_percent)
    if row.gives == "slope":
        return taken_slope(underlay_laps, row, sizes, strip_mm, waste_percent, sold_m)
    return taken_edges(underlay_laps, row, sizes, lights_count, joint, past_mm, longest_mm, waste_percent, sold_m)


def _or_not_given(value: float | None) -> float:
    return NOT_GIVEN if value is None else value


def _by_hand() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: edges of some lights with a tenth for waste."""
    lights = ((500.0, 700.0), (600.0, 900.0), (800.0, 1200.0), (1000.0, 1500.0), (1200.0, 2000.0))
    return tuple(
        (
            f"{figure(width, 0)} × {figure(height, 0)} mm",
            *(quantity(rounded(mm * 1.1 / 1000, TAKEN_LENGTH), "m") for mm in _edges_by_hand(width, height)),
        )
        for width, height in lights
    )


def _edges_by_hand(width: float, height: float) -> tuple[float, ...]:
    """Give both sides, both sides with the head, and all round, in mm."""
    return (2 * height, 2 * height + width, 2 * height + 2 * width)


def formula(data: Data) -> Formula:
    """Make the formula."""
    underlay_laps = rows(data, "underlay-laps", UnderlayLap)
    return Formula(
        id="take-off",
        title="Materials to buy",
        subject="take-off",
        inputs=INPUTS,
        outputs=(TAKEN_LENGTH, TAKEN_AREA, TAKEN_PIECES, TO_BUY),
        verdicts=MappingProxyType({}),
        by_hand=ByHand(
            rule=(
                "Add the edges that it runs along, and one lap for each piece where it is lapped. "
                "A gutter is not lapped: add 250 mm for each roll between two pieces.",
                "Courses beside the light: its length divided by the gauge, rounded up, and one more to a side.",
                "Add a tenth for waste, divide by the length that it is sold in, and round up.",
            ),
            heads=("Light", "Both sides", "Sides and head", "All round"),
            rows=_by_hand(),
        ),
        function=partial(take_off, underlay_laps),
        example=MappingProxyType(
            {
                "run": "sides",
                "joint": "sheet",
                "width_mm": 780,
                "height_mm": 1180,
                "lights_count": 1,
                "pitch_deg": 22.5,
                "strip_mm": 1000,
                "past_mm": 0,
                "longest_mm": 1500,
                "waste_percent": 10,
                "sold_m": 3,
            }
        ),
        draw=draw_take_off,
        tables=only(data, "underlay-laps"),
    )
