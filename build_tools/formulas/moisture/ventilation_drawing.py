"""A roof in section at its pitch, with its openings named; the gaps themselves are only a sign."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import arc, label, line, mark, picture
from build_tools.formulas.numbers import quantity

EAVES_Y = 150.0
LEFT_X = 60.0
MIDDLE_X = 160.0
FAR_X = 260.0
STEEPEST_DRAWN_DEG = 50.0
"""A steeper roof is drawn at this, so that it stays in the picture."""


def draw_roof_ventilation(
    kind: str,
    pitch_deg: float,
    shape: str,
    span_m: float,
    eaves_m: float,
    measured_eaves_mm: float | None,
    measured_ridge_mm: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw both slopes, or one against a wall, with a ring at each opening and its gap beside it."""
    pitch = "pitch " + quantity(pitch_deg, "°")
    eaves_mm = outputs["eaves_mm"]
    ridge_mm = outputs["ridge_mm"]
    rise = (MIDDLE_X - LEFT_X) * math.tan(math.radians(min(pitch_deg, STEEPEST_DRAWN_DEG)))
    top_y = EAVES_Y - rise
    shapes = (
        line(LEFT_X, EAVES_Y, MIDDLE_X, top_y, "edge")
        + line(LEFT_X, EAVES_Y, MIDDLE_X if shape == "lean-to" else FAR_X, EAVES_Y, "edge")
        + arc(LEFT_X, EAVES_Y, 34, min(pitch_deg, STEEPEST_DRAWN_DEG))
        + label(308, 180, "end", 0, pitch)
    )
    if shape == "lean-to":
        shapes = shapes + line(MIDDLE_X, max(top_y - 20, 22), MIDDLE_X, EAVES_Y + 14, "edge")
    else:
        shapes = shapes + line(MIDDLE_X, top_y, FAR_X, EAVES_Y, "edge")
    if eaves_mm is None or ridge_mm is None:
        return picture(320, 200, f"Roof in section, {pitch}: not in the table", shapes)
    gap = quantity(eaves_mm, "mm")
    shapes = shapes + mark(LEFT_X, EAVES_Y) + label(12, EAVES_Y + 24, "start", 0, "eaves " + gap)
    if shape == "two":
        shapes = shapes + mark(FAR_X, EAVES_Y) + label(308, EAVES_Y - 10, "end", 0, gap)
    name = f"Roof in section, {pitch}: eaves {gap}"
    if ridge_mm == 0:
        return picture(320, 200, name, shapes)
    high = "high up " + quantity(ridge_mm, "mm")
    shapes = shapes + mark(MIDDLE_X, top_y) + label(MIDDLE_X + 14, max(top_y - 4, 16), "start", 0, high)
    return picture(320, 200, f"{name}, {high}", shapes)
