"""The zones of a hose test on the slope, numbered in the order of wetting."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, picture, water
from build_tools.formulas.numbers import quantity

HOSE_MIDDLE_X = 160.0
HOSE_MIDDLE_Y = 160.0


def draw_hose_test(
    foot_mm: float,
    side_mm: float,
    head_mm: float,
    glass_mm: float,
    above_mm: float,
    delay_min: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the light square to the slope, each zone with its turn and its minutes, and the way water runs."""
    wide_mm = max(foot_mm, head_mm, 300)
    scale = min(120 / wide_mm, 110 / max(side_mm, 300))
    half = max(wide_mm * scale, 76) / 2
    high = max(max(side_mm, 300) * scale, 64) / 2
    left = HOSE_MIDDLE_X - half
    right = HOSE_MIDDLE_X + half
    top = HOSE_MIDDLE_Y - high
    foot = HOSE_MIDDLE_Y + high
    strip = min(above_mm * scale, 280) / 2
    wait = "after each: wait " + _hose_minutes(outputs["wait_min"])
    name = "Hose test, " + wait + ", in all " + _hose_minutes(outputs["total_min"])
    shapes = (
        _hose_frame(left, top, right, foot, "edge")
        + _hose_frame(left + 8, top + 8, right - 8, foot - 8, "thin")
        + label(HOSE_MIDDLE_X, foot + 20, "middle", 0, "1 foot " + _hose_minutes(outputs["foot_min"]))
        + label(left - 8, HOSE_MIDDLE_Y - 4, "end", 0, "2 side")
        + label(left - 8, HOSE_MIDDLE_Y + 14, "end", 0, _hose_minutes(outputs["side_min"]))
        + label(right + 8, HOSE_MIDDLE_Y - 4, "start", 0, "3 side")
        + label(right + 8, HOSE_MIDDLE_Y + 14, "start", 0, _hose_minutes(outputs["side_min"]))
        + label(HOSE_MIDDLE_X, top - 10, "middle", 0, "4 head " + _hose_minutes(outputs["head_min"]))
        + label(HOSE_MIDDLE_X, HOSE_MIDDLE_Y - 4, "middle", 0, "5 glass")
        + label(HOSE_MIDDLE_X, HOSE_MIDDLE_Y + 14, "middle", 0, _hose_minutes(outputs["glass_min"]))
        + label(HOSE_MIDDLE_X, 20, "middle", 0, "6 slope above " + _hose_minutes(outputs["above_min"]))
        + water(((304, 40), (304, 258)))
        + label(8, 276, "start", 0, wait)
    )
    if strip > 0:
        shapes = shapes + dimension(HOSE_MIDDLE_X - strip, 36, HOSE_MIDDLE_X + strip, 36)
    return picture(320, 288, name, shapes)


def _hose_frame(left: float, top: float, right: float, foot: float, kind: str) -> str:
    return (
        line(left, top, right, top, kind)
        + line(right, top, right, foot, kind)
        + line(right, foot, left, foot, kind)
        + line(left, foot, left, top, kind)
    )


def _hose_minutes(found_min: float | None) -> str:
    """Write minutes; a zone that is left out has none."""
    return "left out" if found_min is None or found_min == 0 else quantity(found_min, "min")
