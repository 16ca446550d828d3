"""A light on its slope, seen square on, with what a material is taken along drawn thick."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, picture
from build_tools.formulas.numbers import quantity
from build_tools.formulas.take_off.runs import Run, run_by_id

TAKEN_LEFT = 70.0
TAKEN_TOP = 34.0
TAKEN_MOST = 180.0
"""The longer edge, in the picture's units."""


def draw_take_off(
    run: str,
    joint: str,
    width_mm: float | None,
    height_mm: float | None,
    lights_count: int,
    gauge_mm: float | None,
    cover_mm: float | None,
    pitch_deg: float | None,
    slope_width_m: float | None,
    slope_length_m: float | None,
    reveal_mm: float | None,
    strip_mm: float,
    past_mm: float,
    longest_mm: float | None,
    waste_percent: float,
    sold_m: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the light, or the slope where it is taken along that, with its two sizes."""
    row = run_by_id(run)
    slope = "slope_width_m" in row.sizes
    across = slope_width_m if slope else width_mm
    up = slope_length_m if slope else height_mm
    unit = "m" if slope else "mm"
    wide = 3.0 if across is None else across
    high = (wide * 4 / 3 if across is not None else 4.0) if up is None else up
    wide = high * 3 / 4 if across is None else wide
    scale = TAKEN_MOST / max(wide, high)
    right = TAKEN_LEFT + max(wide * scale, 20)
    foot = TAKEN_TOP + max(high * scale, 20)
    middle = (TAKEN_LEFT + right) / 2
    texts = (
        label(middle, 22, "middle", 0, "ridge" if slope else "head")
        + label(middle, foot + 40, "middle", 0, "width" if across is None else quantity(across, unit))
        + label(right + 40, (TAKEN_TOP + foot) / 2, "middle", 90, "length" if up is None else quantity(up, unit))
        + label(middle, foot + 58, "middle", 0, "down to the eaves")
    )
    return picture(320, 280, row.label, _taken_outline(row, right, foot) + texts)


def _taken_outline(row: Run, right: float, foot: float) -> str:
    """Draw the four edges, thick where it is taken along them, and the dimension lines of two."""
    at_foot = row.id in ("foot", "eaves")
    head_kind = "edge" if row.ends > 0 and not at_foot else "thin"
    foot_kind = "edge" if row.ends > 1 or at_foot else "thin"
    side_kind = "edge" if row.sides > 0 else "thin"
    return (
        line(TAKEN_LEFT, TAKEN_TOP, right, TAKEN_TOP, head_kind)
        + line(TAKEN_LEFT, foot, right, foot, foot_kind)
        + line(TAKEN_LEFT, TAKEN_TOP, TAKEN_LEFT, foot, side_kind)
        + line(right, TAKEN_TOP, right, foot, side_kind)
        + dimension(TAKEN_LEFT, foot + 20, right, foot + 20)
        + dimension(right + 20, TAKEN_TOP, right + 20, foot)
    )
