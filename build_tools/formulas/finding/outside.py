"""Where a mark inside lies on the outside of the roof, and the strip uphill of it to search."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.finding.outside_drawing import STRIP_MM, draw_outside
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.model.data import Data

SIDEWAYS_DEG = 11
"""Under this pitch water may creep sideways or back (project choice)."""

ALONG = choice(
    "along",
    "Measured from the eaves wall",
    choices=(Choice("level", "On the level"), Choice("slope", "Along the sloping ceiling")),
    hint="Level: plumb down from the mark, then along the floor to the wall under the eaves.",
    default="slope",
)
FROM_EAVES = number(
    "from_eaves_mm",
    "Mark to the eaves wall",
    low=0,
    high=20000,
    hint="To the inside face of that wall; on the slope, to where the ceiling meets it or would meet it.",
)
FROM_GABLE = number(
    "from_gable_mm",
    "Mark to the gable wall",
    low=0,
    high=40000,
    hint="Level and square to the gable, to its inside face.",
)
WALL = number("wall_mm", "Thickness of the walls", low=0, high=1500, hint="Measure at a window reveal.", default=300)
EAVES_OVER = number(
    "eaves_over_mm",
    "Overhang at the eaves",
    low=0,
    high=2000,
    hint="Level, from the outside of the wall to the lower edge of the first tile.",
    default=300,
)
VERGE_OVER = number(
    "verge_over_mm",
    "Overhang at the verge",
    low=0,
    high=2000,
    hint="Level, from the outside of the gable to the edge of the last tile.",
    default=50,
)
BUILD_UP = number(
    "build_up_mm",
    "Thickness of the roof",
    low=0,
    high=1000,
    hint="Square to the slope, from the ceiling to the top of the tiles. Measure in the opening of a light.",
    default=300,
)
RAFTER_PITCH = number(
    "rafter_pitch_deg", "Pitch of the rafters", low=0, high=75, hint="Lay a level with an angle on a rafter."
)
OUTSIDE_GAUGE = number(
    "gauge_mm",
    "Gauge of the tiles",
    low=50,
    high=1000,
    hint="Measure ten courses up the slope, tail to tail, and divide by ten.",
)
COVER_WIDTH = number(
    "cover_mm",
    "Cover width of a tile",
    low=50,
    high=1500,
    hint="Measure ten tiles across and divide by ten.",
)
UP = output("up_mm", "Up the slope from the eaves edge", step=1, rounds="nearest")
ACROSS = output("across_mm", "Across from the verge", step=1, rounds="nearest")
COURSE = output("course_count", "Course from the eaves", step=1, rounds="down")
COLUMN = output("column_count", "Tile from the verge", step=1, rounds="down")
FIRST_COLUMN = output("first_count", "Search from tile", step=1, rounds="down")
LAST_COLUMN = output("last_count", "Search to tile", step=1, rounds="down")


def where_outside(
    along: str,
    from_eaves_mm: float,
    from_gable_mm: float,
    wall_mm: float,
    eaves_over_mm: float,
    verge_over_mm: float,
    build_up_mm: float,
    rafter_pitch_deg: float,
    gauge_mm: float,
    cover_mm: float,
) -> Reckoned:
    """Find where a mark inside lies on the outside of the roof, by course and tile.

    up = (level distance + wall + overhang - thickness x sin pitch) / cos pitch

    Args:
        along: [choice] how the distance from the eaves wall was measured.
        from_eaves_mm: [mm] mark to the inside of the eaves wall.
        from_gable_mm: [mm] mark to the inside of the gable, level.
        wall_mm: [mm] thickness of both walls.
        eaves_over_mm: [mm] level overhang at the eaves.
        verge_over_mm: [mm] overhang at the verge.
        build_up_mm: [mm] thickness of the roof, square to the slope.
        rafter_pitch_deg: [deg] pitch of the rafters.
        gauge_mm: [mm] gauge of the tiles.
        cover_mm: [mm] cover width of a tile.

    Returns:
        up_mm: [mm] up the slope from the edge of the first tile; None where the mark falls outside the roof.
        across_mm: [mm] from the verge.
        course_count: [count] course, the one at the eaves is the first; None as above.
        column_count: [count] tile, the one at the verge is the first.
        first_count: [count] first tile of the strip to search uphill.
        last_count: [count] last tile of that strip.

    Source:
        project-choice: half a metre to each side and from the eaves wall, and 11 degrees; the rest is geometry.

    Limits:
        It goes square through the roof from the mark; water runs down inside the roof before it drips.
        For one plane without hips, valleys or sprockets; both walls of one thickness.
        A first course of another gauge, or half tiles at the verge, move the count by one.
        Count from the ground or a scaffold; nobody climbs on tiles to count.

    Example:
        >>> where_outside("level", 2000, 3000, 300, 300, 50, 300, 35, 320, 300).outputs["course_count"]
        10
        >>> where_outside("level", 2000, 3000, 300, 300, 50, 300, 35, 320, 300).outputs["up_mm"]
        2964
    """
    turn = math.radians(rafter_pitch_deg)
    level_mm = from_eaves_mm * math.cos(turn) if along == "slope" else from_eaves_mm
    back_mm = build_up_mm * math.sin(turn)
    up_mm = rounded((level_mm + wall_mm + eaves_over_mm - back_mm) / math.cos(turn), UP)
    across_mm = rounded(from_gable_mm + wall_mm + verge_over_mm, ACROSS)
    on_roof = at_least(up_mm, 0)
    first = _outside_count(max(across_mm - STRIP_MM, 0), cover_mm)
    outputs = {
        "up_mm": up_mm if on_roof else None,
        "across_mm": across_mm,
        "course_count": _outside_count(up_mm, gauge_mm) if on_roof else None,
        "column_count": _outside_count(across_mm, cover_mm),
        "first_count": first,
        "last_count": _outside_count(across_mm + STRIP_MM, cover_mm),
    }
    working = (
        f"Level from the wall: {figure(level_mm, 0)} mm. Square through the roof goes {figure(back_mm, 0)} mm back.",
        _outside_up(level_mm + wall_mm + eaves_over_mm - back_mm, rafter_pitch_deg, up_mm),
        f"{figure(from_gable_mm + wall_mm, 0)} + {figure(verge_over_mm, 0)} = {quantity(across_mm, 'mm')} across.",
    )
    if not on_roof:
        return Reckoned(outputs=outputs, verdict="off-roof", working=working)
    counted = _outside_counted("Course", up_mm, gauge_mm)
    return Reckoned(
        outputs=outputs,
        verdict=_outside_verdict(rafter_pitch_deg, level_mm, first),
        working=(*working, counted, _outside_counted("Tile", across_mm, cover_mm)),
    )


def _outside_up(flat_mm: float, rafter_pitch_deg: float, up_mm: float) -> str:
    return (
        f"With wall and overhang: {figure(flat_mm, 0)} mm on the level. "
        f"{figure(flat_mm, 0)} mm ÷ cos {quantity(rafter_pitch_deg, '°')} = {quantity(up_mm, 'mm')} up the slope."
    )


def _outside_count(away_mm: float, each_mm: float) -> float:
    """Count to the course or tile at a distance, the one at the edge being the first."""
    return rounded(away_mm / each_mm, COURSE) + 1


def _outside_counted(what: str, away_mm: float, each_mm: float) -> str:
    count = figure(_outside_count(away_mm, each_mm), 0)
    return f"{what}: {quantity(away_mm, 'mm')} ÷ {quantity(each_mm, 'mm')}, begun ones counted: {count}."


def _outside_verdict(rafter_pitch_deg: float, level_mm: float, first: float) -> str:
    if not at_least(rafter_pitch_deg, SIDEWAYS_DEG):
        return "flat"
    if at_least(STRIP_MM, level_mm):
        return "at-eaves"
    return "at-verge" if first == 1 else "uphill"


def _outside_factors() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: slope to a metre of level, and how far back 100 mm of roof goes up the slope."""
    return tuple(
        (
            quantity(deg, "°"),
            quantity(rounded(1000 / math.cos(math.radians(deg)), UP), "mm"),
            quantity(rounded(100 * math.tan(math.radians(deg)), UP), "mm"),
        )
        for deg in (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="where-outside",
        title="The mark inside, found outside",
        subject="finding",
        inputs=(
            *(ALONG, FROM_EAVES, FROM_GABLE, WALL, EAVES_OVER, VERGE_OVER),
            *(BUILD_UP, RAFTER_PITCH, OUTSIDE_GAUGE, COVER_WIDTH),
        ),
        outputs=(UP, ACROSS, COURSE, COLUMN, FIRST_COLUMN, LAST_COLUMN),
        verdicts=MappingProxyType(
            {
                "off-roof": "The numbers put the mark outside the eaves. Measure again; else look at the wall head "
                "and the gutter.",
                "flat": "On so flat a roof water creeps sideways and back. Search all round the mark, not only uphill.",
                "at-eaves": "The mark is at the eaves. Look at the gutter, the underlay into it and the wall head, "
                "and then uphill.",
                "at-verge": "Search from this course up to the ridge, and the verge beside it. The hole is seldom "
                "straight outside the mark.",
                "uphill": "Search from this course up to the ridge, over the whole strip. The hole is seldom "
                "straight outside the mark.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Add up the level distance to the wall, the wall and the overhang. Multiply by the second column, "
                "over a metre.",
                "For each 100 mm of roof thickness take off the third column. Divide by the gauge; "
                "the next whole number is the course.",
                "Across, add the gable and its overhang, and divide by the cover width. "
                "Search half a metre to each side, uphill.",
            ),
            heads=("Pitch", "Slope to 1000 mm level", "Back for 100 mm of roof"),
            rows=_outside_factors(),
        ),
        function=where_outside,
        example=MappingProxyType(
            {
                **{"along": "level", "from_eaves_mm": 2000, "from_gable_mm": 3000, "wall_mm": 300},
                **{"eaves_over_mm": 300, "verge_over_mm": 50, "build_up_mm": 300, "rafter_pitch_deg": 35},
                **{"gauge_mm": 320, "cover_mm": 300},
            }
        ),
        draw=draw_outside,
    )
