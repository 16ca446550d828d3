"""A ladder against an eaves, to scale: as it should stand and as it was measured."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, picture
from build_tools.formulas.numbers import quantity

LADDER_UP = 4
"""Four up for one out."""
LADDER_GROUND = 206.0
LADDER_WALL = 84.0
"""The ground, and plumb under where the ladder leans, in the picture's units."""


def draw_ladder_foot(
    height_m: float,
    measured_foot_m: float | None,
    ladder_m: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the wall and its eaves, the ladder where it should stand, and the one that was measured."""
    foot_m = height_m / LADDER_UP
    lies_m = foot_m if measured_foot_m is None else min(measured_foot_m, height_m)
    scale = min(172 / (height_m + 1.1), 170 / max(lies_m, foot_m, 0.4 * height_m))
    eaves_y = LADDER_GROUND - height_m * scale
    foot = foot_m * scale
    size = "foot " + _ladder_size(outputs["foot_m"], "m") + " out"
    name = f"Ladder to {quantity(height_m, 'm')}: {size}"
    measured = measured_foot_m is not None
    shapes = (
        line(10, LADDER_GROUND, 310, LADDER_GROUND, "edge")
        + line(LADDER_WALL - 24, LADDER_GROUND, LADDER_WALL - 24, eaves_y, "edge")
        + line(LADDER_WALL, eaves_y, LADDER_WALL - 70, eaves_y - 40, "edge")
        + line(LADDER_WALL, eaves_y, LADDER_WALL - 24, eaves_y, "edge")
        + _ladder_line(eaves_y, foot, scale, "limit" if measured else "edge")
        + dimension(LADDER_WALL, LADDER_GROUND + 10, LADDER_WALL + foot, LADDER_GROUND + 10)
        + label(LADDER_WALL, LADDER_GROUND + 28, "start", 0, size)
        + dimension(30, LADDER_GROUND, 30, eaves_y)
        + label(48, (LADDER_GROUND + eaves_y) / 2, "middle", 90, quantity(height_m, "m"))
        + label(310, 20, "end", 0, "ladder " + _ladder_size(outputs["ladder_length_m"], "m") + " or longer")
    )
    if measured_foot_m is None:
        return picture(320, 240, name, shapes)
    found = lies_m * scale
    return picture(
        320,
        240,
        name + f", measured {quantity(measured_foot_m, 'm')}",
        shapes
        + _ladder_line(eaves_y, found, scale, "edge")
        + label(
            310, 40, "end", 0, f"measured {quantity(measured_foot_m, 'm')}: {_ladder_size(outputs['angle_deg'], '°')}"
        ),
    )


def _ladder_size(value: float | None, unit: str) -> str:
    return "" if value is None else quantity(value, unit)


def _ladder_line(eaves_y: float, foot: float, scale: float, kind: str) -> str:
    """Draw a ladder from its foot through the eaves to a metre above."""
    rise = LADDER_GROUND - eaves_y
    over = foot * scale / rise
    return line(LADDER_WALL + foot, LADDER_GROUND, LADDER_WALL - over, eaves_y - scale, kind)
