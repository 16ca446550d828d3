"""Soakers between the courses of a double-lap covering, in section along the slope."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, picture, water
from build_tools.formulas.numbers import quantity

TURN_DOWN_MM = 25
"""The head of a soaker is turned down so far over the head of the slate or tile that it lies on."""
SOAKER_X = 24.0
SOAKER_Y = 196.0
"""The battens under the lowest tail, in the picture's units."""
SOAKER_SLOPE_DEG = 28
SOAKER_TAIL = 34.0
"""How high a tail is drawn over the battens, its own head on them."""


def draw_soakers(
    covering: str,
    height_mm: float,
    gauge_mm: float,
    headlap_mm: float,
    sides_count: int,
    measured_length_mm: float | None,
    under_mm: float | None,
    up_mm: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw three courses with two soakers between them, and what makes up the length of one."""
    length_mm = outputs["length_mm"]
    if length_mm is None:
        text = "single-lap tiles: no soakers" if covering == "single-lap" else "no soaker here"
        return picture(320, 60, text, label(160, 34, "middle", 0, text))
    scale = 300 / (4 * gauge_mm + headlap_mm)
    gauge = gauge_mm * scale
    lap = headlap_mm * scale
    size = quantity(length_mm, "mm")
    shapes = (
        _course(0, gauge, lap)
        + _course(1, gauge, lap)
        + _course(2, gauge, lap)
        + _soaker(0, gauge, lap, TURN_DOWN_MM * scale)
        + _soaker(1, gauge, lap, TURN_DOWN_MM * scale)
        + _soaker_water(gauge, lap)
        + _soaker_span(gauge, 2 * gauge, "gauge")
        + _soaker_span(2 * gauge, 2 * gauge + lap, "lap")
        + label(14, 22, "start", 0, "thick: soakers, " + size)
        + label(310, 206, "end", 0, "gauge " + quantity(gauge_mm, "mm"))
        + label(310, 224, "end", 0, "+ lap " + quantity(headlap_mm, "mm"))
        + label(310, 242, "end", 0, "+ " + quantity(TURN_DOWN_MM, "mm") + " turned down")
    )
    return picture(320, 252, f"A soaker of {size} between the courses", shapes)


def _soaker_at(along: float, above: float) -> tuple[float, float]:
    """Give the point so far up the slope and so far off the battens."""
    turn = math.radians(SOAKER_SLOPE_DEG)
    x = SOAKER_X + along * math.cos(turn) - above * math.sin(turn)
    return x, SOAKER_Y - along * math.sin(turn) - above * math.cos(turn)


def _soaker_line(along1: float, above1: float, along2: float, above2: float, kind: str) -> str:
    start = _soaker_at(along1, above1)
    end = _soaker_at(along2, above2)
    return line(start[0], start[1], end[0], end[1], kind)


def _lies(along: float, course: int, gauge: float, lap: float) -> float:
    """Give how far the upper side of a course is off the battens, at a distance up the slope."""
    return SOAKER_TAIL * (1 - (along - course * gauge) / (2 * gauge + lap))


def _course(course: int, gauge: float, lap: float) -> str:
    """Draw one slate or tile, with the strokes of its thickness at the tail."""
    tail = course * gauge
    return (
        _soaker_line(tail, SOAKER_TAIL, tail + 2 * gauge + lap, 0, "thin")
        + _soaker_line(tail, SOAKER_TAIL - 6, tail + 2 * gauge + lap, -6, "thin")
        + _soaker_line(tail, SOAKER_TAIL, tail, SOAKER_TAIL - 6, "thin")
    )


def _soaker(course: int, gauge: float, lap: float, down: float) -> str:
    """Draw the soaker that lies on a course, from the tail of the next one up to over the head of its own."""
    foot = (course + 1) * gauge
    head = course * gauge + 2 * gauge + lap + 2
    return _soaker_line(foot, _lies(foot, course, gauge, lap) + 3, head, 3, "edge") + _soaker_line(
        head, 3, head, 3 - min(max(down, 8), 20), "edge"
    )


def _soaker_water(gauge: float, lap: float) -> str:
    """Draw water on its way down: on the upper soaker, over the lower one, and off on to the course below."""
    high = 3 * gauge + lap - 8
    return water(
        (
            _soaker_at(high, _lies(high, 1, gauge, lap) + 8),
            _soaker_at(2 * gauge - 2, _lies(2 * gauge, 1, gauge, lap) + 8),
            _soaker_at(2 * gauge - 6, _lies(2 * gauge, 0, gauge, lap) + 8),
            _soaker_at(gauge - 2, _lies(gauge, 0, gauge, lap) + 8),
            _soaker_at(gauge - 6, _lies(gauge, 0, gauge, lap) + 4),
            _soaker_at(8, _lies(8, 0, gauge, lap) + 4),
        )
    )


def _soaker_span(start: float, end: float, text: str) -> str:
    """Draw a length along the slope, under the courses."""
    one = _soaker_at(start, -30)
    other = _soaker_at(end, -30)
    middle = _soaker_at((start + end) / 2, -46)
    return (
        _soaker_line(start, -4, start, -34, "thin")
        + _soaker_line(end, -22, end, -34, "thin")
        + dimension(one[0], one[1], other[0], other[1])
        + label(middle[0], middle[1], "middle", SOAKER_SLOPE_DEG, text)
    )
