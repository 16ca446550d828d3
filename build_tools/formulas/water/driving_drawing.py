"""The rain driven towards eight facings, as a figure round a compass, with the facing of the light in it."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import label, line, mark, picture, water
from build_tools.formulas.finding.compass import driven_l_m2, driving_point
from build_tools.formulas.finding.rose import ROSE_NAMES, ROSE_X, ROSE_Y, rose_x, rose_y
from build_tools.formulas.numbers import quantity

RIM = 80.0
"""How far from the middle the most driven rain reaches, in the picture's units."""


def draw_driving_rain(
    hours: tuple[tuple[float, float, str], ...], facing: str, outputs: Mapping[str, float | None]
) -> str:
    """Draw eight facings with the rain driven towards each, the worst with its arrow, and the light's facing dashed."""
    faced = driving_point(facing)
    most = max(driven_l_m2(hours, faced.deg), 0.001)
    for count in range(8):
        most = max(most, driven_l_m2(hours, 45 * count))
    shapes = ""
    for count in range(8):
        deg = 45.0 * count
        here = RIM * driven_l_m2(hours, deg) / most
        beyond = RIM * driven_l_m2(hours, deg + 45) / most
        shapes = (
            shapes
            + line(ROSE_X, ROSE_Y, rose_x(deg, RIM), rose_y(deg, RIM), "thin")
            + line(rose_x(deg, here), rose_y(deg, here), rose_x(deg + 45, beyond), rose_y(deg + 45, beyond), "edge")
            + label(rose_x(deg, RIM + 20), rose_y(deg, RIM + 20) + 5, "middle", 0, ROSE_NAMES[count])
        )
    shapes = (
        shapes
        + line(ROSE_X, ROSE_Y, rose_x(faced.deg, RIM), rose_y(faced.deg, RIM), "limit")
        + mark(rose_x(faced.deg, RIM), rose_y(faced.deg, RIM))
        + mark(20, 243)
        + label(32, 248, "start", 0, "the way the light faces")
    )
    worst_deg = outputs["worst_facing_deg"]
    if worst_deg is None:
        return picture(320, 256, "No rain was driven towards any facing", shapes)
    name = f"Driven rain round the compass; most from {quantity(worst_deg, '°')}"
    arrow = (
        (rose_x(worst_deg, RIM + 8), rose_y(worst_deg, RIM + 8)),
        (rose_x(worst_deg, 22), rose_y(worst_deg, 22)),
    )
    return picture(320, 256, name, shapes + water(arrow))
