"""The scale of a pin meter with both readings on it."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, mark, picture
from build_tools.formulas.numbers import quantity

SCALE_Y = 118.0
FROM_PERCENT = 5.0
TO_PERCENT = 35.0
"""Ends of the scale; a higher reading stands at its end."""


def draw_timber_moisture(
    reading_percent: float,
    reference_percent: float | None,
    season: str,
    depth: str,
    awl: str,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the scale with the limit dashed, the reading above it and the reference below."""
    found = outputs["limit_percent"]
    limit = 0.0 if found is None else found
    here_x = _timber_x(reading_percent)
    limit_x = _timber_x(limit)
    here = "here " + quantity(reading_percent, "%")
    shapes = (
        line(20, SCALE_Y, 300, SCALE_Y, "edge")
        + _strokes()
        + line(limit_x, 66, limit_x, SCALE_Y, "limit")
        + line(limit_x, SCALE_Y + 34, limit_x, SCALE_Y + 70, "limit")
        + label(limit_x + 6, SCALE_Y + 68, "start", 0, "damp from " + quantity(limit, "%"))
        + line(here_x, 68, here_x, SCALE_Y, "thin")
        + mark(here_x, SCALE_Y)
        + label(_inside(here_x), 36, "middle", 0, here)
    )
    if reference_percent is None:
        return picture(320, 200, f"{here}, no dry place read; damp from {quantity(limit, '%')}", shapes)
    dry_x = _timber_x(reference_percent)
    dry = "dry place " + quantity(reference_percent, "%")
    shapes = (
        shapes
        + line(dry_x, 68, dry_x, SCALE_Y, "thin")
        + mark(dry_x, SCALE_Y)
        + label(_inside(dry_x), 56, "middle", 0, dry)
        + (dimension(dry_x, 82, here_x, 82) if reading_percent > reference_percent else "")
    )
    return picture(320, 200, f"{here}, {dry}; damp from {quantity(limit, '%')}", shapes)


def _timber_x(percent: float) -> float:
    return 20 + 280 * (min(percent, TO_PERCENT) - FROM_PERCENT) / (TO_PERCENT - FROM_PERCENT)


def _inside(x: float) -> float:
    """Keep a label in the picture."""
    return min(max(x, 66), 254)


def _strokes() -> str:
    """Draw the strokes and figures of the scale."""
    shapes = ""
    for percent in (10.0, 15.0, 20.0, 25.0, 30.0):
        x = _timber_x(percent)
        shapes = shapes + line(x, SCALE_Y, x, SCALE_Y + 8, "thin")
        shapes = shapes + label(x, SCALE_Y + 26, "middle", 0, quantity(percent, "%"))
    return shapes
