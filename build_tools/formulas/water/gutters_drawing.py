"""The light from above with the way of its water, and its gutter in section with the water in it."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, picture, water
from build_tools.formulas.numbers import figure, quantity


def draw_side_gutter(
    pitch_deg: float,
    above_m: float,
    width_mm: float,
    height_mm: float,
    strip_mm: float,
    drains: str,
    gutter_width_mm: float,
    gutter_depth_mm: float,
    lining: str,
    rain_l_s_m2: float,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw water down one side gutter, or both, and the gutter in section."""
    scale = min(100 / width_mm, 96 / height_mm)
    return _with_section(
        "A side gutter",
        _light(width_mm * scale, height_mm * scale, drains, True),
        gutter_width_mm,
        gutter_depth_mm,
        outputs,
    )


def draw_back_gutter(
    pitch_deg: float,
    above_m: float,
    width_mm: float,
    drains: str,
    fall_mm: float,
    gutter_width_mm: float,
    gutter_depth_mm: float,
    lining: str,
    rain_l_s_m2: float,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw water along the gutter over the head to one end, or both, and the gutter in section."""
    light = _light(100, 80, drains, False)
    return _with_section("A back gutter", light, gutter_width_mm, gutter_depth_mm, outputs)


def _light(width: float, height: float, drains: str, down: bool) -> str:
    """Draw the light from above, and water from its head to the sides; further `down` them, where it leaves."""
    left = 78 - width / 2
    right = 78 + width / 2
    foot = 66 + height
    end = foot + 22 if down else 84.0
    shapes = (
        line(left, 66, right, 66, "edge")
        + line(right, 66, right, foot, "edge")
        + line(right, foot, left, foot, "edge")
        + line(left, foot, left, 66, "edge")
        + label(78, 66 + height / 2 + 5, "middle", 0, "light")
        + label(78, 16, "middle", 0, "from the roof above")
        + water(((78, 24), (78, 54), (right + 10, 54), (right + 10, end)))
    )
    if drains == "one":
        return shapes
    return shapes + water(((78, 24), (78, 54), (left - 10, 54), (left - 10, end)))


def _with_section(name: str, light: str, width_mm: float, depth_mm: float, outputs: Mapping[str, float | None]) -> str:
    """Set the section of a gutter beside the light, with the water that comes and the silt it is tried with."""
    scale = min(116 / width_mm, 84 / depth_mm)
    left = 244 - width_mm * scale / 2
    right = 244 + width_mm * scale / 2
    floor = 142.0
    upright = max(scale, 36 / depth_mm)
    brim = floor - depth_mm * upright
    found_mm = outputs["depth_mm"]
    shapes = (
        light
        + label(244, 16, "middle", 0, "gutter in section")
        + line(left, brim, left, floor, "edge")
        + line(left, floor, right, floor, "edge")
        + line(right, floor, right, brim, "edge")
        + line(left, floor - depth_mm * upright / 2, right, floor - depth_mm * upright / 2, "limit")
        + label(244, 178, "middle", 0, "dashes: silt")
        + dimension(left, floor + 12, right, floor + 12)
        + label(
            244,
            floor + 60,
            "middle",
            0,
            figure(width_mm, 1) + " × " + quantity(depth_mm, "mm") + (", stretched" if upright > scale else ""),
        )
    )
    if found_mm is None:
        if outputs["capacity_l_s"] is None:
            return picture(320, 226, name + ": level", shapes + label(244, 220, "middle", 0, "level"))
        over = water(((right - 4, brim - 5), (right + 9, brim - 5), (right + 9, brim + 14)))
        text = "runs over"
        return picture(320, 226, name + ": " + text, shapes + over + label(244, 220, "middle", 0, text))
    level = floor - min(found_mm, depth_mm) * upright
    text = "water " + quantity(found_mm, "mm") + " deep"
    surface = line(left, level, right, level, "thin") + label(244, 220, "middle", 0, text)
    return picture(320, 226, name + ": " + text, shapes + surface)
