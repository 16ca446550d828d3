"""Two sheets on a slope in section, to scale along the slope; their thickness is only a sign."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from build_tools.formulas.drawing import dimension, label, line, mark, picture, water
from build_tools.formulas.numbers import at_least, quantity

VERTICAL_MM = 75
"""Water is drawn up between flat sheets: the hidden edge of the lower one stands so far above the upper one's."""

FLATTEST_DEG = 11
"""The flattest pitch in the published table of laps."""

LOWER = 4.0
UPPER = 9.0
WATER = 15.0
"""Distances above the deck, in the picture's units."""


class Slope(NamedTuple):
    """A slope in the picture: the point on it where the upper sheet ends, and its direction."""

    x: float
    y: float
    along: float
    upright: float


def draw_sheet_lap(
    pitch_deg: float,
    measured_lap_mm: float | None,
    metal: str,
    declared_lap_mm: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the lap with the height that it has to gain; on a slope too flat for a lap, one piece."""
    along = math.cos(math.radians(pitch_deg))
    upright = math.sin(math.radians(pitch_deg))
    slope = Slope(x=14 + 40 * along + 66 * upright, y=200 - 40 * upright, along=along, upright=upright)
    needed_mm = outputs["lap_mm"]
    if needed_mm is None and at_least(pitch_deg, FLATTEST_DEG):
        unknown = "the lap is the one its maker declares"
        return picture(320, 60, unknown, label(160, 34, "middle", 0, unknown))
    if needed_mm is None:
        return _one_piece(slope, pitch_deg)
    lies_mm = needed_mm if measured_lap_mm is None else min(measured_lap_mm, 1.5 * needed_mm)
    longest_mm = max(needed_mm, lies_mm)
    scale = min(
        (292 - slope.x - 50 * along) / max(longest_mm * along, 0.001),
        (slope.y - 50 * upright - 66 * along - 12) / (longest_mm * upright),
    )
    length = longest_mm * scale
    name = f"A lap at {quantity(pitch_deg, '°')}: {quantity(needed_mm, 'mm')} needed"
    shapes = (
        _sheets(slope, length, lies_mm * scale)
        + ("" if metal == "other" else _height(slope, needed_mm * scale, VERTICAL_MM * scale))
        + _lap(slope, needed_mm * scale, 28, "needed " + quantity(needed_mm, "mm"))
    )
    if measured_lap_mm is None:
        return picture(320, 240, name, shapes)
    found = "measured " + quantity(measured_lap_mm, "mm")
    return picture(320, 240, f"{name}, {found}", shapes + _lap(slope, lies_mm * scale, 52, found))


def _sheets(slope: Slope, length: float, lies: float) -> str:
    """Draw the deck, the lower sheet up to its head, the upper sheet, and water on its way down and off."""
    return (
        _deck(slope, length + 50)
        + _run(slope, -40, lies, LOWER, "edge")
        + mark(_x(slope, lies, LOWER), _y(slope, lies, LOWER))
        + mark(20, 227)
        + label(32, 232, "start", 0, "hidden edge of the lower sheet")
        + _run(slope, 0, length + 50, UPPER, "edge")
        + water(
            (
                (_x(slope, length + 44, WATER), _y(slope, length + 44, WATER)),
                (_x(slope, -3, WATER), _y(slope, -3, WATER)),
                (_x(slope, -10, UPPER + 1), _y(slope, -10, UPPER + 1)),
                (_x(slope, -32, UPPER + 1), _y(slope, -32, UPPER + 1)),
            )
        )
    )


def _deck(slope: Slope, end: float) -> str:
    """Draw what carries the sheets, with the strokes of a cut solid below its edge."""
    shapes = _run(slope, -40, end, 0, "thin")
    for count in range(math.floor((end + 32) / 14)):
        along = 14 * count - 32
        shapes = shapes + line(
            _x(slope, along, 0), _y(slope, along, 0), _x(slope, along - 6, -7), _y(slope, along - 6, -7), "thin"
        )
    return shapes


def _height(slope: Slope, needed: float, rise: float) -> str:
    """Draw the level that the hidden edge has to reach, and its height over the lower edge."""
    x = slope.x + needed * slope.along + 16
    return (
        line(slope.x, slope.y, x + 5, slope.y, "thin")
        + line(slope.x + rise * slope.along / slope.upright, slope.y - rise, x + 5, slope.y - rise, "limit")
        + dimension(x, slope.y, x, slope.y - rise)
        + label(x + 8, slope.y - rise / 2 + 5, "start", 0, quantity(VERTICAL_MM, "mm"))
    )


def _lap(slope: Slope, length: float, above: float, text: str) -> str:
    """Draw a lap as a dimension along the slope."""
    turn_deg = math.degrees(math.atan2(slope.upright, slope.along))
    middle = length / 2
    return dimension(
        _x(slope, 0, above), _y(slope, 0, above), _x(slope, length, above), _y(slope, length, above)
    ) + label(_x(slope, middle, above + 5), _y(slope, middle, above + 5), "middle", turn_deg, text)


def _one_piece(slope: Slope, pitch_deg: float) -> str:
    """Draw one sheet without a lap."""
    name = f"At {quantity(pitch_deg, '°')} no lap holds: one piece, or a step down"
    shapes = (
        _deck(slope, 250)
        + _run(slope, -40, 250, LOWER, "edge")
        + water(
            (
                (_x(slope, 240, UPPER + 1), _y(slope, 240, UPPER + 1)),
                (_x(slope, -32, UPPER + 1), _y(slope, -32, UPPER + 1)),
            )
        )
        + label(160, 30, "middle", 0, "no lap: one piece, or a step down")
    )
    return picture(320, 240, name, shapes)


def _run(slope: Slope, start: float, end: float, above: float, kind: str) -> str:
    """Draw a line along the slope."""
    return line(_x(slope, start, above), _y(slope, start, above), _x(slope, end, above), _y(slope, end, above), kind)


def _x(slope: Slope, along: float, above: float) -> float:
    """Give x of a point so far up the slope and so far off it."""
    return slope.x + along * slope.along - above * slope.upright


def _y(slope: Slope, along: float, above: float) -> float:
    """Give y of a point so far up the slope and so far off it."""
    return slope.y - along * slope.upright - above * slope.along
