"""Drawings to begin with: the kinds of light on one house, and the metals that water may run over."""

from __future__ import annotations

import math
from typing import NamedTuple

from build_tools.drawings.pen import Drawing, Point, Slope, area, ball, box, legend, line, water, words
from build_tools.formulas.tables import rows


class Metal(NamedTuple):
    """A metal of the published order, in which water may run from each to those after it."""

    label: str
    in_series: bool


RUN_OFF = tuple(each.label.lower() for each in rows("run-off", Metal) if each.in_series)


def kinds_of_light() -> Drawing:
    """Draw six kinds of light in one section through a house."""
    left = Slope(22, 218, 38)
    ridge = left.at(118, 0)
    right = Slope(*ridge, -38)
    return Drawing(
        name="kinds-of-light",
        title="Six kinds of light on one house",
        desc="Section through a house with a pitched roof and a flat roof beside it. 1, a sealed unit on an upstand "
        "that stands up from the slope. 2, a roof window, whose frame lies in the slope. 3, a fixed unit or dome on a "
        "flat roof. 4, a lantern, a small glazed roof of its own. 5, a light tube, from the slope down to a ceiling. "
        "6, glass to walk on, level with the flat roof. Water runs down the slopes, past the lights, into the gutter "
        "on the left and on to the flat roof on the right, round the lights there and over its edge. "
        "Where they stand is common practice, no source.",
        height=400,
        sources=("common-practice",),
        shapes=(*_kinds_of_light_parts(ridge, left, right), *_kinds_of_light_names(right, left)),
    )


def _kinds_of_light_parts(ridge: Point, left: Slope, right: Slope) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        line("thin", (0, 392), (360, 392)),
        *(box("cut", x, top, 10, 392 - top) for x, top in ((34, 212), (186, 212), (340, 284))),
        area(
            "edge", left.at(0, 0), ridge, right.at(118, 0), right.at(118, -9), (ridge[0], ridge[1] + 11), left.at(0, -9)
        ),
        box("cut", 196, 276, 156, 9),
        box("edge", 44, 262, 142, 6),
        *_slope_lights(left, right),
        *_flat_lights(276),
        line("sheet", (6, 219), (8, 229), (20, 229), (22, 219)),
        water(left.at(115, 16), left.at(3, 16), (14, 222)),
        water(right.at(4, 30), right.at(98, 30), right.at(104, 10), right.at(118, 8), (215, 268)),
        water((312, 270), (357, 270), (357, 304)),
    )


def _kinds_of_light_names(right: Slope, left: Slope) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (206, 150), right.at(70, 24)),
        ball(2, (66, 126), left.at(86, 8)),
        ball(3, (242, 226), (242, 252)),
        ball(4, (290, 208), (290, 238)),
        ball(5, (96, 242), (60, 232)),
        ball(6, (328, 324), (328, 282)),
        *legend(("glass on an upstand", "roof window", "unit or dome"), ("lantern", "light tube", "glass to walk on")),
    )


def _slope_lights(left: Slope, right: Slope) -> tuple[str, ...]:
    return (
        area("cut", *right.box(44, -12, 6, 32)),
        area("cut", *right.box(82, -12, 6, 32)),
        area("edge", *right.box(38, 20, 56, 6)),
        area("gap", *right.box(50, -11, 32, 13)),
        area("gap", *left.box(66, -11, 40, 13)),
        area("cut", *left.box(60, -10, 6, 16)),
        area("cut", *left.box(106, -10, 6, 16)),
        area("edge", *left.box(62, 5, 48, 5)),
        area("edge", left.at(32, 0), (left.at(32, 0)[0], 268), (left.at(52, 0)[0], 268), left.at(52, 0)),
        area("edge", *_dome(left, 28, 56)),
    )


def _flat_lights(y: float) -> tuple[str, ...]:
    """Draw a dome, a lantern and a pane to walk on, `y` being the top of the flat roof."""
    flat = Slope(0, y - 16, 0)
    return (
        box("cut", 226, y - 16, 6, 16),
        box("cut", 252, y - 16, 6, 16),
        box("gap", 232, y - 1, 20, 11),
        area("edge", *_dome(flat, 222, 262)),
        box("cut", 272, y - 18, 6, 18),
        box("cut", 302, y - 18, 6, 18),
        box("gap", 278, y - 1, 24, 11),
        area("edge", (266, y - 18), (290, y - 40), (314, y - 18), (308, y - 18), (290, y - 34), (272, y - 18)),
        box("gap", 322, y - 1, 18, 11),
        box("edge", 319, y, 22, 7),
    )


def _dome(slope: Slope, start: float, end: float) -> tuple[Point, ...]:
    """Give the points of a low dome over a stretch of a slope."""
    turns = (math.radians(15 * step) for step in range(13))
    middle, half = (start + end) / 2, (end - start) / 2
    return tuple(slope.at(middle - half * math.cos(turn), half * 0.55 * math.sin(turn)) for turn in turns)


def metals_in_order() -> Drawing:
    """Draw sheets one under the other in the order in which water may run over them, and the wrong way once."""
    first, step = 122.0, 36.0
    tops = tuple(first + step * at for at in range(len(RUN_OFF)))
    sheets, way = _zigzag(tops)
    end = tops[-1] + 44
    shapes = (
        *sheets,
        water(*way, (way[-1][0], end)),
        *(words(192, top + 10, name, strong=name == "copper") for name, top in zip(RUN_OFF, tops, strict=True)),
        words(12, 22, "Water may run down this list,", strong=True),
        words(12, 42, "from each sheet to those under it.", strong=True),
        words(12, 68, "It never runs from copper on to zinc,"),
        words(12, 86, "galvanised steel or aluminium."),
        line("thin", (12, end + 20), (348, end + 20)),
        *_never(end + 78),
    )
    return Drawing(
        name="metals-in-order",
        title="Which metal may stand above which",
        desc=f"Sheets one under the other, and water that runs down over them: {', '.join(RUN_OFF)}. Water that runs "
        "from a metal on to one later in the list commonly does no harm; the other way round it can eat the sheet. "
        "Below: copper above zinc; the water of the copper eats holes into the zinc, and leaks through. Never copper "
        "above zinc, galvanised steel or aluminium. Lead has rules of its own. Where two metals touch, part them as "
        "well, whatever their order. "
        "Water from stainless steel, aluminium or painted sheet can also eat bare zinc and galvanised steel. "
        "After the galvanic series in a code of practice for metal roofs in New Zealand.",
        height=int(end + 168),
        sources=("metal-run-off",),
        shapes=shapes,
    )


def _zigzag(tops: tuple[float, ...]) -> tuple[tuple[str, ...], tuple[Point, ...]]:
    """Give sheets that fall to the right and to the left in turn, and the way of water over all of them."""
    ends = tuple((24.0, 150.0) if at % 2 == 0 else (166.0, 40.0) for at in range(len(tops)))
    sheets = tuple(line("lead", (high, top), (low, top + 12)) for top, (high, low) in zip(tops, ends, strict=True))
    way: tuple[Point, ...] = ((40, tops[0] - 16),)
    for top, (high, low) in zip(tops, ends, strict=True):
        off = 9 if low > high else -9
        way = (*way, (high + (low - high) * 0.2, top - 4), (low + off, top + 9))
    return sheets, way


def _never(y: float) -> tuple[str, ...]:
    """Draw copper above zinc, crossed out, with the holes that it makes."""
    return (
        line("lead", (24, y), (120, y + 10)),
        line("lead", (100, y + 40), (134, y + 43)),
        line("lead", (148, y + 44), (230, y + 51)),
        water((36, y - 6), (130, y + 4), (141, y + 26), (141, y + 80)),
        words(12, y - 26, "Never: copper above zinc", strong=True),
        words(150, y + 8, "copper", strong=True),
        words(238, y + 56, "zinc", strong=True),
        words(152, y + 78, "eaten through"),
    )
