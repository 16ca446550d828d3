"""A roof cut through in its worst month: how much vapour there is in each layer, and how much the air could hold."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import curve, label, line, mark, picture
from build_tools.formulas.moisture.condensation import (
    FLOW_G_DAY,
    LEAST_G_M2,
    Cut,
    Month,
    full_pressures,
    string_bends,
    string_pressures,
    tied_pressures,
)
from build_tools.formulas.moisture.roof_layers import cut_layers, laid_layers, roof_layer
from build_tools.formulas.moisture.room_air import MONTH_NAMES, coldest_month, months_of
from build_tools.formulas.numbers import at_least, figure, quantity
from build_tools.model.data import Climate, RoofBuildUp, RoofLayer, RoomClass

ROOM_FACE_X = 34.0
OUTER_FACE_X = 286.0
CURVE_TOP_Y = 52.0
CURVE_FOOT_Y = 212.0
"""The frame of the layers; the room is on the left, the air outside on the right."""
LEAST_LAYER_WIDE = 22.0
"""A film has no thickness to speak of, and has to be seen all the same."""
LAYER_ROW_HIGH = 20


def draw_interstitial(
    roof_layers: tuple[RoofLayer, ...],
    roof_build_ups: tuple[RoofBuildUp, ...],
    climates: tuple[Climate, ...],
    room_classes: tuple[RoomClass, ...],
    build_up: str,
    layers: tuple[tuple[str, float], ...],
    climate: str,
    room: str,
    temperature_c: float,
    relative_humidity_percent: float | None,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw the vapour as a line and what is full as a dashed one, with a ring wherever water forms."""
    if outputs["still_air_m"] is None:
        text = "air blows through: no number by layers"
        return picture(320, 60, text, label(160, 34, "middle", 0, text))
    laid = laid_layers(roof_build_ups, build_up, layers)
    cut = cut_layers(roof_layers, laid)
    worst = drawn_month(climates, outputs["worst_month"], climate)
    month = months_of(climates, room_classes, climate, room, temperature_c, relative_humidity_percent)[worst]
    full = full_pressures(cut, month)
    tied = tied_pressures(full, month)
    dry: tuple[float, ...] = ()
    for _share in cut.shares:
        dry = (*dry, 0.0)
    bends = string_bends(cut.depths, tied, dry)
    vapour = plane_points(cut, layer_edges(laid), string_pressures(cut.depths, tied, bends), _most_pa(full, month))
    rings: tuple[float, ...] = ()
    shapes = (
        layer_faces(layer_edges(laid))
        + curve(plane_points(cut, layer_edges(laid), full, _most_pa(full, month)), "limit")
        + curve(vapour, "edge")
    )
    for i in range(1, len(bends) - 1):
        if at_least(bends[i] * FLOW_G_DAY * month.days, LEAST_G_M2):
            rings = (*rings, cut.places[i])
            shapes = shapes + mark(vapour[i][0], vapour[i][1])
    shapes = shapes + drawn_heads(worst, month) + drawn_legend(len(rings) > 0) + layer_list(roof_layers, laid, rings)
    met = "water forms at the rings" if len(rings) > 0 else "they do not meet"
    name = f"{MONTH_NAMES[worst]}: vapour in each layer, and what its air can hold; {met}"
    return picture(320, 322 + LAYER_ROW_HIGH * len(laid), name, shapes)


def drawn_heads(worst: int, month: Month) -> str:
    """Say which month it is, and what the air on both sides is like."""
    return (
        label(8, 18, "start", 0, f"{MONTH_NAMES[worst]}: room {quantity(month.room_c, '°C')}")
        + label(312, 18, "end", 0, f"outside {quantity(month.outside_c, '°C')}")
        + label(8, 230, "start", 0, f"room {figure(month.room_pa, 0)} Pa")
        + label(312, 230, "end", 0, f"outside {figure(month.outside_pa, 0)} Pa")
    )


def _most_pa(full: tuple[float, ...], month: Month) -> float:
    """Give the greatest pressure in the picture."""
    return max(full[0], full[len(full) - 1], month.room_pa, month.outside_pa)


def drawn_month(climates: tuple[Climate, ...], worst_month: float | None, climate: str) -> int:
    """Give the month that is drawn, counted from 0: the worst, or the coldest where no water forms."""
    found = coldest_month(climates, climate)
    for i in range(len(MONTH_NAMES)):
        if worst_month is not None and worst_month == i + 1:
            found = i
    return found


def layer_edges(laid: tuple[tuple[str, float], ...]) -> tuple[float, ...]:
    """Give where each layer begins in the picture, and where the last one ends."""
    thick_mm = 0.0
    for _material, each_mm in laid:
        thick_mm = thick_mm + each_mm
    free = OUTER_FACE_X - ROOM_FACE_X - LEAST_LAYER_WIDE * len(laid)
    edges: tuple[float, ...] = (ROOM_FACE_X,)
    at_x = ROOM_FACE_X
    for _material, each_mm in laid:
        at_x = at_x + LEAST_LAYER_WIDE + free * each_mm / thick_mm
        edges = (*edges, at_x)
    return edges


def layer_faces(edges: tuple[float, ...]) -> str:
    """Draw the face of every layer, and number the layers from the room outwards."""
    shapes = ""
    for i in range(len(edges)):
        outer = i == 0 or i == len(edges) - 1
        shapes = shapes + line(edges[i], CURVE_TOP_Y - 20, edges[i], CURVE_FOOT_Y, "edge" if outer else "thin")
    for i in range(len(edges) - 1):
        shapes = shapes + label((edges[i] + edges[i + 1]) / 2, CURVE_TOP_Y - 8, "middle", 0, str(i + 1))
    return shapes + line(ROOM_FACE_X - 26, CURVE_FOOT_Y, OUTER_FACE_X + 26, CURVE_FOOT_Y, "thin")


def place_x(edges: tuple[float, ...], place: float) -> float:
    """Give where a plane stands in the picture."""
    at_x = edges[0]
    for i in range(len(edges) - 1):
        if place > i:
            at_x = edges[i] + (edges[i + 1] - edges[i]) * min(place - i, 1)
    return at_x


def plane_points(
    cut: Cut, edges: tuple[float, ...], pressures: tuple[float, ...], most_pa: float
) -> tuple[tuple[float, float], ...]:
    """Give the points of a curve of pressures, plane by plane."""
    scale = (CURVE_FOOT_Y - CURVE_TOP_Y - 12) / most_pa
    points: tuple[tuple[float, float], ...] = ()
    for i in range(len(pressures)):
        points = (*points, (place_x(edges, cut.places[i]), CURVE_FOOT_Y - pressures[i] * scale))
    return points


def drawn_legend(wet: bool) -> str:
    """Say what the lines mean."""
    shapes = (
        line(8, 251, 40, 251, "edge")
        + label(48, 256, "start", 0, "vapour there is")
        + line(176, 251, 208, 251, "limit")
        + label(216, 256, "start", 0, "at most")
    )
    return shapes + (mark(24, 273) + label(48, 278, "start", 0, "water forms here") if wet else "")


def layer_list(
    roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...], rings: tuple[float, ...]
) -> str:
    """Name the layers below the picture, with a ring between those, or at the one, where water forms."""
    shapes = ""
    for i in range(len(laid)):
        said = f"{i + 1} {roof_layer(roof_layers, laid[i][0]).label}"
        shapes = shapes + label(48, 306 + LAYER_ROW_HIGH * i, "start", 0, said)
    for place in rings:
        shapes = shapes + mark(24, 291 + LAYER_ROW_HIGH * place)
    return shapes
