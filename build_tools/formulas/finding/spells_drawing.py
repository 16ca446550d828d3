"""Spells of rain round a compass, by the wind they came with, and the quarter that stands out."""

from __future__ import annotations

import math
from collections.abc import Mapping

from build_tools.formulas.drawing import label, line, picture, water
from build_tools.formulas.finding.fisher import Tally
from build_tools.formulas.finding.rose import ROSE_NAMES, ROSE_X, ROSE_Y, rose_x, rose_y
from build_tools.formulas.finding.spell_counts import CHANCE_PERCENT, POINTS_OF_EIGHT, spells_with
from build_tools.formulas.numbers import at_least

SPOKE = 74.0
"""How long the spoke of the wind with the most spells is, in the picture's units."""

BESIDE_DEG = 12.0
"""How far the arrow stands off the spoke of one wind, so that both are seen; of two it stands between."""


def draw_rain_log(spells: tuple[tuple[str, str], ...], outputs: Mapping[str, float | None]) -> str:
    """Draw a spoke for each wind, thick as far as it dripped, with how many of how many, and an arrow if one is clear.

    A quarter that chance explains gets no arrow.
    """
    most = 1
    for point in POINTS_OF_EIGHT:
        most = max(most, spells_with(spells, point.id).spells)
    shapes = ""
    for step in range(8):
        shapes = shapes + _spoke(45.0 * step, ROSE_NAMES[step], spells_with(spells, POINTS_OF_EIGHT[step].id), most)
    shapes = (
        shapes
        + label(8, 272, "start", 0, "Rain, hardly any wind: " + _of(spells_with(spells, "calm")))
        + label(8, 292, "start", 0, "Rain, wind not known: " + _of(spells_with(spells, "unknown")))
        + label(8, 312, "start", 0, "Dry spells: " + _of(spells_with(spells, "dry")))
        + line(222, 307, 246, 307, "edge")
        + label(252, 312, "start", 0, "dripped")
    )
    deg = outputs["quarter_deg"]
    percent = outputs["wind_percent"]
    if deg is None or percent is None or not at_least(CHANCE_PERCENT, percent):
        return picture(320, 320, "Spells with a drip, of all with a look, round the compass", shapes)
    beside = deg if deg > 45 * math.floor(deg / 45) else deg + BESIDE_DEG
    arrow = water(((rose_x(beside, SPOKE), rose_y(beside, SPOKE)), (rose_x(beside, 36), rose_y(beside, 36))))
    return picture(320, 320, "Spells with a drip round the compass; one quarter stands out", shapes + arrow)


def _spoke(deg: float, name: str, tally: Tally, most: int) -> str:
    """Draw one wind: thin for all its spells, thick for those that dripped."""
    out = SPOKE * tally.spells / most
    wet = SPOKE * tally.drips / most
    x = rose_x(deg, SPOKE + 22)
    y = rose_y(deg, SPOKE + 22)
    anchor = "middle" if deg == 0 or deg == 180 else "start" if deg < 180 else "end"
    said = name if tally.spells == 0 else name + " " + _of(tally)
    near = x if anchor == "middle" else x - 10 if anchor == "start" else x + 10
    shapes = line(ROSE_X, ROSE_Y, rose_x(deg, out), rose_y(deg, out), "thin") + label(near, y + 5, anchor, 0, said)
    return shapes + (line(ROSE_X, ROSE_Y, rose_x(deg, wet), rose_y(deg, wet), "edge") if tally.drips > 0 else "")


def _of(tally: Tally) -> str:
    return "none seen" if tally.spells == 0 else f"{tally.drips} of {tally.spells}"
