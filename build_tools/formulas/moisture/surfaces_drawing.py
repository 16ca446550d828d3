"""A cut through a wall of the room with the temperature as a line, and the limits of the air beside it."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import label, line, mark, picture
from build_tools.formulas.moisture.dew_point import full_at_c, saturation_pressure_pa
from build_tools.formulas.numbers import quantity, round_nearest

OUTER_X = 82.0
INNER_X = 134.0
"""The two faces of the part between outside and room."""
TOP_Y = 40.0
HIGH = 150.0
"""Height in the picture's units of all temperatures shown."""


def draw_surface_humidity(
    temperature_c: float,
    relative_humidity_percent: float,
    outside_c: float,
    surface: str,
    u_w_m2k: float | None,
    surface_c: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw outside, surface and room as one line of temperature, with the dew point and the mould limit dashed."""
    reached_c = _or_nought(outputs["reached_c"])
    needed_c = _or_nought(outputs["needed_c"])
    dew_c = round_nearest(full_at_c(saturation_pressure_pa(temperature_c) * relative_humidity_percent / 100), 0.1)
    top_c = max(temperature_c, outside_c, reached_c, needed_c) + 1
    low_c = min(temperature_c, outside_c, reached_c, dew_c) - 1
    scale = HIGH / (top_c - low_c)
    out_y = TOP_Y + (top_c - outside_c) * scale
    in_y = TOP_Y + (top_c - temperature_c) * scale
    at_y = TOP_Y + (top_c - reached_c) * scale
    dew_y = TOP_Y + (top_c - dew_c) * scale
    mould_y = TOP_Y + (top_c - needed_c) * scale
    shapes = (
        _cut_part(TOP_Y + HIGH)
        + line(16, out_y, OUTER_X, out_y, "thin")
        + line(OUTER_X, out_y, INNER_X, at_y, "thin")
        + line(INNER_X, at_y, 150, in_y, "thin")
        + line(150, in_y, 308, in_y, "thin")
        + mark(INNER_X, at_y)
        + label(16, out_y - 5 if out_y > TOP_Y + 20 else out_y + 16, "start", 0, quantity(outside_c, "°C"))
        + label(16, 24, "start", 0, "outside")
        + label(308, 24, "end", 0, "room " + quantity(temperature_c, "°C"))
        + _limit_lines(mould_y, dew_y, needed_c, dew_c)
        + mark(22, 221)
        + label(34, 226, "start", 0, "surface " + quantity(reached_c, "°C"))
    )
    name = (
        f"Outside {quantity(outside_c, '°C')}, surface {quantity(reached_c, '°C')}, room "
        f"{quantity(temperature_c, '°C')}; mould under {quantity(needed_c, '°C')}, dew point {quantity(dew_c, '°C')}"
    )
    return picture(320, 240, name, shapes)


def _or_nought(value: float | None) -> float:
    return 0.0 if value is None else value


def _limit_lines(mould_y: float, dew_y: float, needed_c: float, dew_c: float) -> str:
    return (
        line(INNER_X, mould_y, 308, mould_y, "limit")
        + label(308, mould_y - 4, "end", 0, "mould under " + quantity(needed_c, "°C"))
        + line(INNER_X, dew_y, 308, dew_y, "limit")
        + label(308, dew_y + 15, "end", 0, "dew point " + quantity(dew_c, "°C"))
    )


def _cut_part(foot_y: float) -> str:
    """Draw the two faces, and hatch what is cut between them."""
    shapes = line(OUTER_X, foot_y - HIGH, OUTER_X, foot_y, "edge") + line(
        INNER_X, foot_y - HIGH, INNER_X, foot_y, "edge"
    )
    for count in range(5):
        y = foot_y - 30 * count
        shapes = shapes + line(OUTER_X, y, INNER_X, y - 27, "thin")
    return shapes
