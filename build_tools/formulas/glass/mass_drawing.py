"""A pane beside the one who is to lift it, to scale, with the hands at the chosen height."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, mark, picture
from build_tools.formulas.numbers import quantity

LIFTER_MM = 1750
"""Height of a man of middle size; the levels of his joints follow from it (common practice, no source)."""
SHOULDER_MM = 1430
HIP_MM = 900
LIFTER_X = 66.0
GROUND_Y = 226.0
PANE_X = 134.0


def draw_glass_mass(
    width_mm: float,
    height_mm: float,
    glass_mm: float,
    panes_count: int,
    hands: str,
    reach: str,
    lifters: str,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the pane standing on the ground beside a figure of 1.75 m, and say how many it takes."""
    scale = min(170 / max(LIFTER_MM, height_mm), 96 / width_mm)
    mass_kg = outputs["mass_kg"]
    people_count = outputs["people_count"]
    weight = "" if mass_kg is None else quantity(mass_kg, "kg")
    needed = "lifting gear" if people_count is None else _lift_words(people_count)
    right = PANE_X + width_mm * scale
    top = GROUND_Y - height_mm * scale
    shapes = (
        label(14, 20, "start", 0, weight + " by " + needed)
        + line(14, GROUND_Y, 306, GROUND_Y, "thin")
        + _lifter(scale, hands, reach)
        + line(PANE_X, GROUND_Y, PANE_X, top, "edge")
        + line(PANE_X, top, right, top, "edge")
        + line(right, top, right, GROUND_Y, "edge")
        + line(right, GROUND_Y, PANE_X, GROUND_Y, "edge")
        + dimension(PANE_X, top - 8, right, top - 8)
        + label(PANE_X, top - 14, "start", 0, quantity(width_mm, "mm"))
        + dimension(right + 8, GROUND_Y, right + 8, top)
        + label(right + 16, min((GROUND_Y + top) / 2 + 5, GROUND_Y - 6), "start", 0, quantity(height_mm, "mm"))
    )
    return picture(320, 240, f"Glass of {weight} beside a figure of 1.75 m: {needed}", shapes)


def _lift_words(people_count: float) -> str:
    return "one person" if people_count == 1 else "two people" if people_count == 2 else "three people"


def _lifter(scale: float, hands: str, reach: str) -> str:
    """Draw a figure in lines, its hands marked at the height and reach that were chosen."""
    lower_mm = 0.0
    upper_mm = 250.0
    if hands == "to-knuckle":
        lower_mm = 250.0
        upper_mm = 750.0
    elif hands == "to-elbow":
        lower_mm = 750.0
        upper_mm = 1100.0
    elif hands == "to-shoulder":
        lower_mm = 1100.0
        upper_mm = 1430.0
    elif hands == "above-shoulder":
        lower_mm = 1430.0
        upper_mm = 1850.0
    low_y = GROUND_Y - lower_mm * scale
    high_y = GROUND_Y - upper_mm * scale
    hand_x = LIFTER_X + (220 if reach == "close" else 560) * scale
    hand_y = (low_y + high_y) / 2
    shoulder_y = GROUND_Y - SHOULDER_MM * scale
    hip_y = GROUND_Y - HIP_MM * scale
    # Hands below the knee bring the shoulder forward and down: a figure that stoops.
    stoop_x = LIFTER_X + (380 * scale if upper_mm < 760 else 0)
    stoop_y = hip_y - 330 * scale if upper_mm < 760 else shoulder_y
    neck_x = stoop_x + (80 * scale if upper_mm < 760 else 0)
    neck_y = stoop_y - 130 * scale
    return (
        line(14, low_y, 122, low_y, "limit")
        + line(14, high_y, 122, high_y, "limit")
        + line(LIFTER_X - 90 * scale, GROUND_Y, LIFTER_X, hip_y, "edge")
        + line(LIFTER_X + 90 * scale, GROUND_Y, LIFTER_X, hip_y, "edge")
        + line(LIFTER_X, hip_y, stoop_x, stoop_y, "edge")
        + _lifter_head(neck_x, neck_y, 130 * scale)
        + line(stoop_x, stoop_y, hand_x, hand_y, "edge")
        + mark(hand_x, hand_y)
    )


def _lifter_head(x: float, y: float, radius: float) -> str:
    """Draw a head, an eight-sided ring."""
    shapes = ""
    for count in range(8):
        start = math.radians(45 * count)
        end = math.radians(45 * count + 45)
        shapes = shapes + line(
            x + radius * math.cos(start),
            y - radius * math.sin(start),
            x + radius * math.cos(end),
            y - radius * math.sin(end),
            "edge",
        )
    return shapes
