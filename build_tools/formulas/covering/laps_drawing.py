"""Two tiles on a slope in section, with the height that their headlap gives; thickness is only a sign."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, mark, picture, water
from build_tools.formulas.numbers import quantity

LAP_DRAWN = 110.0
"""Length of the headlap in the picture's units where it stands upright, at every size; flatter it has more room."""
BEYOND_LAP = 40.0
"""How far each piece goes on beyond the lap."""
LAP_APART = 6.0


def draw_lap_rise(
    pitch_deg: float, headlap_mm: float, gust_m_s: float | None, outputs: Mapping[str, float | None]
) -> str:
    """Draw the lower piece up to its head, the upper one over it, and the height between tail and head."""
    along = math.cos(math.radians(pitch_deg))
    upright = math.sin(math.radians(pitch_deg))
    rise_mm = outputs["rise_mm"]
    climb = quantity(0 if rise_mm is None else rise_mm, "mm")
    tail_x = 24 + BEYOND_LAP * along + 30 * upright
    tail_y = 190 - BEYOND_LAP * upright
    lap = LAP_DRAWN + 50 * along
    head_x = tail_x + lap * along
    head_y = tail_y - lap * upright
    off_x = LAP_APART * upright
    off_y = LAP_APART * along
    side_x = head_x + 18
    shapes = (
        line(tail_x - BEYOND_LAP * along, tail_y + BEYOND_LAP * upright, head_x, head_y, "edge")
        + line(tail_x - off_x, tail_y - off_y, head_x + 20 * along - off_x, head_y - 20 * upright - off_y, "edge")
        + mark(head_x, head_y)
        + line(tail_x, tail_y, side_x + 6, tail_y, "thin")
        + line(head_x, head_y, side_x + 6, head_y, "limit")
        + dimension(side_x, tail_y, side_x, head_y)
        + label(side_x + 8, (tail_y + head_y) / 2 + 5, "start", 0, climb)
        + water(
            (
                (tail_x + 60 * along - 2.5 * off_x, tail_y - 60 * upright - 2.5 * off_y),
                (tail_x - 6 * along - 2.5 * off_x, tail_y + 6 * upright - 2.5 * off_y),
                (tail_x - 30 * along - 1.2 * off_x, tail_y + 30 * upright - 1.2 * off_y),
            )
        )
        + label(308, 20, "end", 0, "headlap " + quantity(headlap_mm, "mm") + " at " + quantity(pitch_deg, "°"))
        + mark(20, 225)
        + label(32, 230, "start", 0, "head of the lower piece")
    )
    return picture(320, 240, f"A headlap of {quantity(headlap_mm, 'mm')} gives {climb} of height", shapes)
