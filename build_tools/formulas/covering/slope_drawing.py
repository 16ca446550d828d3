"""The triangle of rise, run and slope, to scale."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import arc, label, line, picture
from build_tools.formulas.numbers import quantity

FOOT_X = 24.0
FOOT_Y = 196.0


def draw_pitch(
    rise_mm: float, run_mm: float, least_pitch_deg: float | None, outputs: Mapping[str, float | None]
) -> str:
    """Draw the roof line over its run, with the least pitch as a dashed line from the same foot."""
    found_deg = outputs["pitch_deg"]
    pitch_deg = 0.0 if found_deg is None else found_deg
    scale = min(176 / run_mm, 152 / max(rise_mm, 1))
    end_x = FOOT_X + run_mm * scale
    top_y = FOOT_Y - rise_mm * scale
    name = f"Rise {quantity(rise_mm, 'mm')} over {quantity(run_mm, 'mm')}: pitch {quantity(pitch_deg, '°')}"
    shapes = (
        line(FOOT_X, FOOT_Y, end_x, FOOT_Y, "thin")
        + line(end_x, FOOT_Y, end_x, top_y, "thin")
        + line(FOOT_X, FOOT_Y, end_x, top_y, "edge")
        + arc(FOOT_X, FOOT_Y, 40, pitch_deg)
        + label(308, 24, "end", 0, "pitch " + quantity(pitch_deg, "°"))
        + label(FOOT_X, FOOT_Y + 20, "start", 0, "run " + quantity(run_mm, "mm"))
        + label(end_x + 6, (FOOT_Y + top_y) / 2 + 5, "start", 0, "rise " + quantity(rise_mm, "mm"))
    )
    if least_pitch_deg is None:
        return picture(320, 224, name, shapes)
    limit = name + f"; least pitch {quantity(least_pitch_deg, '°')}"
    return picture(320, 224, limit, shapes + _least(least_pitch_deg))


def _least(least_deg: float) -> str:
    """Draw the least pitch up to the edge of the picture."""
    along = math.cos(math.radians(least_deg))
    upright = math.sin(math.radians(least_deg))
    reach = min(190 / along, 168 / max(upright, 0.001))
    x = FOOT_X + reach * along
    y = FOOT_Y - reach * upright
    return line(FOOT_X, FOOT_Y, x, y, "limit") + label(x, y - 6, "end", 0, "least " + quantity(least_deg, "°"))
