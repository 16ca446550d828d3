"""The slope seen square on: eaves, verge, the place of the mark and the strip uphill of it."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, mark, picture, water
from build_tools.formulas.numbers import quantity

OUTSIDE_LEFT = 40.0
OUTSIDE_FOOT = 232.0
OUTSIDE_TOP = 20.0
STRIP_MM = 500
"""The strip reaches this far to each side; a mark this near the eaves wall is at the eaves (project choice)."""


def draw_outside(
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
    outputs: Mapping[str, float | None],
) -> str:
    """Draw where the mark lies, its two distances, and the strip to search as two dashed lines."""
    found_up = outputs["up_mm"]
    found_across = outputs["across_mm"]
    up_mm = 0.0 if found_up is None else found_up
    across_mm = 0.0 if found_across is None else found_across
    scale = min(250 / (across_mm + 700), 140 / max(up_mm, 1000))
    x = OUTSIDE_LEFT + across_mm * scale
    y = OUTSIDE_FOOT - up_mm * scale
    strip = STRIP_MM * scale
    left = max(x - strip, OUTSIDE_LEFT)
    name = f"The mark is {quantity(up_mm, 'mm')} up from the eaves and {quantity(across_mm, 'mm')} from the verge"
    frame = _outside_frame()
    if found_up is None:
        return picture(
            320, 280, "The mark falls outside the eaves", frame + label(160, 120, "middle", 0, "off the roof")
        )
    shapes = (
        line(left, y, left, OUTSIDE_TOP, "limit")
        + line(x + strip, y, x + strip, OUTSIDE_TOP, "limit")
        + water(((x, OUTSIDE_TOP), (x, y - 16)))
        + mark(x, y)
        + dimension(OUTSIDE_LEFT, OUTSIDE_FOOT + 14, x, OUTSIDE_FOOT + 14)
        + dimension(OUTSIDE_LEFT - 14, OUTSIDE_FOOT, OUTSIDE_LEFT - 14, y)
        + label(OUTSIDE_LEFT, OUTSIDE_FOOT + 36, "start", 0, quantity(across_mm, "mm") + " across")
        + label(304, OUTSIDE_FOOT + 36, "end", 0, quantity(up_mm, "mm") + " up")
    )
    return picture(320, 280, name, frame + shapes)


def _outside_frame() -> str:
    """Draw the eaves and the verge with their names."""
    return (
        line(OUTSIDE_LEFT, OUTSIDE_FOOT, 312, OUTSIDE_FOOT, "edge")
        + line(OUTSIDE_LEFT, OUTSIDE_FOOT, OUTSIDE_LEFT, OUTSIDE_TOP, "edge")
        + label(304, OUTSIDE_FOOT - 8, "end", 0, "eaves")
        + label(OUTSIDE_LEFT - 10, 60, "middle", 90, "verge")
    )
