"""How tiles and slates lie over each other: single-lap with a hook at the side, and double-lap in bond."""

from __future__ import annotations

from build_tools.drawings.pen import (
    Drawing,
    Point,
    Slope,
    area,
    away,
    ball,
    box,
    legend,
    line,
    out_note,
    span,
    water,
    words,
)
from build_tools.formulas.covering import COVERINGS
from build_tools.formulas.numbers import quantity
from build_tools.formulas.slating import slate_gauge

PLAIN_LONG_MM = 265
PLAIN_WIDE_MM = 165
"""A plain tile, and the third of its width that each joint keeps from the next (plain-tile-side-lap)."""
SIDE_LAP_MM = PLAIN_WIDE_MM / 3


def headlap_of(covering: str) -> float:
    """Give the least headlap of a covering of the table in mm, where exposure is not severe."""
    return next(float(each.headlap_mm or 0) for each in COVERINGS if each.id == covering)


def plain_gauge_mm(lap_mm: float) -> float:
    """Give the gauge of plain tiles in mm at a headlap: half of what the lap leaves of the tile."""
    return slate_gauge(PLAIN_LONG_MM, lap_mm, "centre", None, None, "moderate").outputs["gauge_mm"] or 0


class Courses:
    """Tiles laid up a slope, in section: every tail lies on what is under it, and every head on its batten."""

    def __init__(self, slope: Slope, gauge: float, long: float, thick: float, gap: float = 0) -> None:
        """Take the line of the battens' tops, and in pixels gauge, length and thickness of a tile, and what is open."""
        self.slope, self.gauge, self.long, self.thick = slope, gauge, long, thick
        self.tail = (thick + gap) * long / gauge

    def top(self, course: int, along: float, above: float = 0) -> Point:
        """Give the point on the upper face of a course, so far up the slope, and so far off it."""
        under = self.tail * (1 - (along - course * self.gauge) / self.long)
        return self.slope.at(along, under + self.thick + above)

    def tile(self, course: int) -> str:
        """Draw one tile with its nib, and the batten behind which that hangs."""
        foot, head = course * self.gauge, course * self.gauge + self.long
        corners = (
            (foot, self.tail),
            (head - 8, 0.5),
            (head - 8, -7),
            (head, -7),
            (head, self.thick),
            (foot, self.tail + self.thick),
        )
        batten = self.slope.box(head - 26, -14, 18, 14)
        return area("cut", *batten) + "\n  " + area("edge", *self.slope.points(*corners))

    def run(self, high: float, first: int) -> tuple[Point, ...]:
        """Give the way of water from a height on the first course down and off the lowest tail."""
        points = [self.top(first, high, 6)]
        for course in range(first, -1, -1):
            foot = course * self.gauge - 3
            points.append(self.top(course, foot, 6))
            if course:
                points.append(self.top(course - 1, foot - 3, 6))
        return (*points, self.slope.at(-26, self.tail / 2))


def double_lap() -> Drawing:
    """Draw plain tiles up the slope, three thick at the lap, and their bond from above."""
    lap_mm = headlap_of("plain-tiles")
    gauge_mm = plain_gauge_mm(lap_mm)
    scale = 0.6
    gauge, long = gauge_mm * scale, PLAIN_LONG_MM * scale
    laid = Courses(Slope(34, 266, 27), gauge, long, 8)
    slope = laid.slope
    foot, head, under = 2 * gauge, long, -44
    lap_text, gauge_text = f"headlap {quantity(lap_mm, 'mm')}", f"gauge {quantity(gauge_mm, 'mm')}"
    return Drawing(
        name="double-lap-bond",
        title="Plain tiles in double lap",
        desc=f"Above, a section up the slope. Each plain tile, 1, hangs on its batten, 2, over the underlay, 3. It "
        f"lies over the next course below, and by the headlap of {quantity(lap_mm, 'mm')} over the one below that. So "
        f"the lap, 4, is three tiles thick, and the rest, 5, two. A tile {quantity(PLAIN_LONG_MM, 'mm')} long then has "
        f"a gauge of {quantity(gauge_mm, 'mm')}. Water runs from tile to tile and off at the foot. Below, the same "
        "from above: joints lie over the middle of the tile below. Water that goes through a joint lands on that tile "
        f"and runs off its tail. A joint stays at least {quantity(SIDE_LAP_MM, 'mm')}, a third of the tile, from the "
        "next. Headlap after house-building standards, side lap after the tile trade's association; gauge after a "
        "glossary, no public source seen.",
        height=500,
        sources=("new-homes-7-2", "slating-terms", "plain-tile-side-lap"),
        shapes=(
            *_double_lap_parts(slope, long, gauge, laid, foot, under, head, lap_text, gauge_text),
            *_double_lap_names(slope, gauge, long, foot, head, lap_mm),
        ),
    )


def _double_lap_parts(
    slope: Slope,
    long: float,
    gauge: float,
    laid: Courses,
    foot: float,
    under: float,
    head: float,
    lap_text: str,
    gauge_text: str,
) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        line("sheet", *slope.points((-10, -16), (3 * gauge + long, -16))),
        *(laid.tile(course) for course in range(4)),
        line("thin", *slope.points((foot, laid.tail), (foot, under - 6))),
        line("thin", *slope.points((head, 4), (head, under - 6))),
        span(*slope.points((foot, under), (head, under))),
        words(*slope.at((foot + head) / 2 - 6, under - 18), lap_text, "middle", 27),
        line("thin", laid.top(2, 2 * gauge, 2), laid.top(2, 2 * gauge, 40)),
        line("thin", laid.top(3, 3 * gauge, 2), laid.top(2, 3 * gauge, 40)),
        span(laid.top(2, 2 * gauge, 34), laid.top(2, 3 * gauge, 34)),
        words(*laid.top(2, 2.5 * gauge - 12, 42), gauge_text, "end", 0),
        water(*laid.run(3 * gauge + 96, 3)),
    )


def _double_lap_names(
    slope: Slope, gauge: float, long: float, foot: float, head: float, lap_mm: float
) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (316, 196), slope.at(3 * gauge + 124, 10)),
        ball(2, (298, 236), slope.at(2 * gauge + long - 18, -8)),
        ball(3, (246, 262), slope.at(gauge + long - 2, -16)),
        ball(4, (92, 160), slope.at((foot + head) / 2, 6)),
        ball(5, (60, 190), slope.at(gauge + 0.7 * (head - foot) + 16, 7)),
        *_bond(316, lap_mm),
        *legend(("tile", "batten", "underlay"), ("lap: three thick", "else: two thick")),
    )


def _bond(y: float, lap_mm: float) -> tuple[str, ...]:
    """Draw three courses from above; the joints under the middle one are dashed."""
    scale = 0.56
    wide, high, left = PLAIN_WIDE_MM * scale, plain_gauge_mm(lap_mm) * scale, 20.0
    joint = left + 2 * wide
    rows = tuple(box("edge", left, y + row * high, 3.46 * wide, high) for row in range(3))
    starts = (wide / 2, wide, wide / 2)
    joints = tuple(
        line("sheet", (left + start + at * wide, y + row * high), (left + start + at * wide, y + (row + 1) * high))
        for row, start in enumerate(starts)
        for at in range(3 if start < wide else 2)
    )
    under = tuple(
        line("hidden", (left + wide * (0.5 + at), y + high), (left + wide * (0.5 + at), y + 2 * high))
        for at in range(3)
    )
    return (
        *rows,
        *joints,
        *under,
        water((joint, y + high + 4), (joint, y + 2 * high + 30)),
        line("thin", (joint + wide / 2, y + 2 * high), (joint + wide / 2, y - 16)),
        line("thin", (joint, y + high), (joint, y - 16)),
        span((joint, y - 10), (joint + wide / 2, y - 10)),
        words(joint - 6, y - 6, f"{quantity(SIDE_LAP_MM, 'mm')} or more", "end"),
    )


def single_lap() -> Drawing:
    """Draw the headlap and the side hook of single-lap tiles, clean and with silt in them."""
    lap_mm = headlap_of("interlocking-tiles")
    laid = Courses(Slope(32, 222, 22), 102, 130, 9, 4)
    slope = laid.slope
    return Drawing(
        name="single-lap-joint",
        title="Single-lap tiles: headlap and side hook",
        desc=f"At the top, a section up the slope. Each single-lap tile, 1, lies over the one below by a headlap of "
        f"{quantity(lap_mm, 'mm')}, or what its data sheet says; under it is the underlay, 2. Silt, 3, lies at the "
        "head of the lower tile. Below, two sections across the slope, of the side hook, 4, by which a tile lies over "
        "its neighbour. Clean, water that gets in at the joint runs down in the channel, 5, and out on the tile below. "
        "With silt, 6, in the channel it rises over the hook, falls on the underlay, and runs on down that. "
        "Headlap after house-building standards; where silt gathers is common practice, no source.",
        height=456,
        sources=("new-homes-7-2", "common-practice"),
        shapes=(*_single_lap_parts(slope, laid, lap_mm), *_single_lap_names(slope, laid)),
    )


def _single_lap_parts(slope: Slope, laid: Courses, lap_mm: float) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        line("sheet", *slope.points((-10, -16), (340, -16))),
        *(laid.tile(course) for course in range(3)),
        area("seal", laid.top(0, 114), laid.top(0, 130), laid.top(0, 130, 4), laid.top(0, 120, 4)),
        line("thin", *slope.points((102, laid.tail), (102, -46))),
        line("thin", *slope.points((130, 4), (130, -46))),
        span(*slope.points((102, -40), (130, -40))),
        words(*slope.at(138, -48), f"headlap {quantity(lap_mm, 'mm')}"),
        water(*laid.run(286, 2)),
    )


def _single_lap_names(slope: Slope, laid: Courses) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (338, 136), slope.at(316, 8)),
        ball(2, (300, 168), slope.at(290, -16)),
        ball(3, (112, 128), laid.top(0, 126, 2)),
        *_hook(286, silted=False),
        *_hook(388, silted=True),
        *legend(("tile", "underlay", "silt in the lap"), ("side hook", "its channel", "silt in the channel")),
        *out_note(84, "water runs on down the slope"),
    )


def _hook(y: float, silted: bool) -> tuple[str, ...]:
    """Draw a side hook across the slope, `y` being the upper face of the tiles."""
    lower = (
        *((14, y), (132, y), (132, y + 12), (166, y + 12), (166, y + 2), (174, y + 2), (174, y + 12)),
        *((208, y + 12), (208, y + 2), (216, y + 2), (216, y + 22), (120, y + 22), (112, y + 13), (14, y + 13)),
    )
    upper = (
        *((142, y + 8), (142, y - 12), (244, y - 12), (256, y), (346, y), (346, y + 13), (244, y + 13)),
        *((232, y - 2), (194, y - 2), (194, y + 8), (186, y + 8), (186, y - 2), (150, y - 2), (150, y + 8)),
    )
    return (
        line("sheet", (14, y + 54), (346, y + 54)),
        area("edge", *lower),
        area("edge", *upper),
        *(_silted(y) if silted else _clean(y)),
    )


def _clean(y: float) -> tuple[str, ...]:
    """Draw water that runs down in the clean channel."""
    return (
        water((96, y - 7), (130, y - 7), (140, y + 2)),
        away(152, y + 6),
        ball(4, (250, y - 32), (204, y - 8)),
        ball(5, (96, y + 38), (140, y + 11)),
        words(14, y - 20, "clean", strong=True),
    )


def _silted(y: float) -> tuple[str, ...]:
    """Draw silt in the channel, and the way of water over it."""
    over = ((96, y - 7), (130, y - 7), (137, y), (146, y + 5), (168, y), (190, y + 7), (212, y), (226, y + 8))
    return (
        area("seal", (133, y + 6), (165, y + 4), (165, y + 12), (133, y + 12)),
        area("seal", (175, y + 9), (207, y + 5), (207, y + 12), (175, y + 12)),
        water(*over, (226, y + 38)),
        away(226, y + 46),
        ball(6, (126, y + 36), (150, y + 10), (186, y + 10)),
        words(14, y - 20, "silted", strong=True),
    )
