"""What a material can be taken along: edges of a light, its courses, its areas, or the whole slope."""

from __future__ import annotations

from typing import Literal, NamedTuple


class Run(NamedTuple):
    """One way to take a material off, with the sizes that it is reckoned from."""

    id: str
    label: str
    gives: Literal["edges", "pieces", "area", "slope"]
    sides: int
    """How many times the length up the slope is taken, or a course beside the light."""
    ends: int
    """How many times the width is taken, or a course across it."""
    sizes: tuple[str, ...]
    """The names of their inputs."""
    every: int = 1
    """Of pieces beside a light: one to so many courses."""


RUNS = (
    Run("sides", "Both sides of the light", "edges", 2, 0, ("height_mm", "lights_count")),
    Run("head", "The head of the light", "edges", 0, 1, ("width_mm", "lights_count")),
    Run("foot", "The foot of the light", "edges", 0, 1, ("width_mm", "lights_count")),
    Run("sides-and-foot", "Both sides and the foot", "edges", 2, 1, ("width_mm", "height_mm", "lights_count")),
    Run("sides-and-head", "Both sides and the head", "edges", 2, 1, ("width_mm", "height_mm", "lights_count")),
    Run("round", "All round the light", "edges", 2, 2, ("width_mm", "height_mm", "lights_count")),
    Run("lights", "One to each light", "pieces", 0, 0, ("lights_count",)),
    Run("beside", "One to each course, on both sides", "pieces", 2, 0, ("height_mm", "gauge_mm", "lights_count")),
    Run(
        "every-second",
        "One to every second course, on both sides",
        "pieces",
        2,
        0,
        ("height_mm", "gauge_mm", "lights_count"),
        2,
    ),
    Run("across", "A course across the light", "pieces", 0, 1, ("width_mm", "cover_mm", "lights_count")),
    Run(
        "around",
        "Both sides, and a course at the head and at the foot",
        "pieces",
        2,
        2,
        ("width_mm", "height_mm", "gauge_mm", "cover_mm", "lights_count"),
    ),
    Run("opening", "The area of the light", "area", 0, 0, ("width_mm", "height_mm", "lights_count")),
    Run("reveal", "The faces of the reveal", "area", 2, 2, ("width_mm", "height_mm", "reveal_mm", "lights_count")),
    Run("slope", "The area of the slope", "area", 0, 0, ("slope_width_m", "slope_length_m")),
    Run("eaves", "The eaves of the slope", "slope", 0, 1, ("slope_width_m",)),
    Run(
        "battens",
        "A batten to each course of the slope",
        "slope",
        0,
        0,
        ("slope_width_m", "slope_length_m", "gauge_mm"),
    ),
    Run(
        "strips",
        "Strips of underlay up the slope",
        "slope",
        0,
        0,
        ("slope_width_m", "slope_length_m", "pitch_deg", "strip_mm"),
    ),
)
"""All of them; sheet and underlay along edges ask for the pitch besides."""
LAPPED = ("sheet", "underlay")
"""The joints that take a lap for the pitch."""
IN_PIECES = (*LAPPED, "roll")
"""The joints that take a longest piece."""


def sizes_for(row: Run, joint: str) -> tuple[str, ...]:
    """Give the names of the sizes that a run with its joint is reckoned from."""
    return (*row.sizes, "pitch_deg") if row.gives == "edges" and joint in LAPPED else row.sizes


def run_by_id(run: str) -> Run:
    """Look a run up by its id."""
    found = RUNS[0]
    for row in RUNS:
        if row.id == run:
            found = row
    return found
