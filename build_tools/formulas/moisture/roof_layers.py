"""Layers of a roof: common build-ups, their resistance to heat and vapour, and the water that they may hold."""

from __future__ import annotations

from build_tools.formulas.moisture.condensation import LEAST_G_M2, Cut, Year, cut_build_up
from build_tools.formulas.numbers import at_least
from build_tools.model.data import RoofBuildUp, RoofLayer

OWN = "own"
"""The pick that stands for the reader's own layers."""
FACE_LIMIT_G_M2 = 500
"""Water that may stand at the face of a layer which does not soak it up (DIN 4108-3)."""


def laid_layers(
    roof_build_ups: tuple[RoofBuildUp, ...], build_up: str, layers: tuple[tuple[str, float], ...]
) -> tuple[tuple[str, float], ...]:
    """Give the layers of a common build-up, or the reader's own."""
    if build_up == OWN:
        return layers
    found: tuple[tuple[str, float], ...] = ()
    for row in roof_build_ups:
        if row.id == build_up:
            for layer in row.layers:
                found = (*found, (layer.material, layer.thickness_mm))
    return found


def roof_layer(roof_layers: tuple[RoofLayer, ...], material: str) -> RoofLayer:
    """Look a material up by its id."""
    found = roof_layers[0]
    for row in roof_layers:
        if row.id == material:
            found = row
    return found


def layer_m2k_w(row: RoofLayer, thickness_mm: float) -> float:
    """Give the resistance to heat; films have none."""
    if row.conductivity_w_mk is not None:
        return thickness_mm / 1000 / row.conductivity_w_mk
    return 0.0 if row.air_m2k_w is None else row.air_m2k_w


def layer_sd_m(row: RoofLayer, thickness_mm: float, tight: bool) -> float:
    """Give the resistance to vapour as metres of still air: the least of its range, or the most where `tight`."""
    if len(row.sd_m) > 0:
        return row.sd_m[len(row.sd_m) - 1 if tight else 0]
    return row.mu[len(row.mu) - 1 if tight else 0] * thickness_mm / 1000


def cut_layers(roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...]) -> Cut:
    """Cut a build-up: up to the layer that insulates best as open as its materials are, beyond it as tight."""
    best = 0
    best_m2k_w = 0.0
    for i in range(len(laid)):
        r_m2k_w = layer_m2k_w(roof_layer(roof_layers, laid[i][0]), laid[i][1])
        if r_m2k_w > best_m2k_w:
            best = i
            best_m2k_w = r_m2k_w
    parts: tuple[tuple[float, float], ...] = ()
    for i in range(len(laid)):
        row = roof_layer(roof_layers, laid[i][0])
        parts = (*parts, (layer_m2k_w(row, laid[i][1]), layer_sd_m(row, laid[i][1], i > best)))
    return cut_build_up(parts)


def layer_takes_g_m2(roof_layers: tuple[RoofLayer, ...], material: str, thickness_mm: float) -> float:
    """Give the water that may stand at a layer: 500 g/m², or what wood may take up if that is less."""
    row = roof_layer(roof_layers, material)
    least: float = FACE_LIMIT_G_M2
    for wood in row.wood:
        least = min(least, wood.density_kg_m3 * thickness_mm * wood.gain_percent / 100)
    return least


def wet_layers_take(
    roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...], cut: Cut, year: Year
) -> float:
    """Give the least that a layer at a wet plane may hold, in g/m², at the peak."""
    least: float = FACE_LIMIT_G_M2
    for i in range(len(cut.places)):
        if at_least(year.peak_held[i], LEAST_G_M2):
            for number in range(len(laid)):
                if number <= cut.places[i] and cut.places[i] <= number + 1:
                    least = min(least, layer_takes_g_m2(roof_layers, laid[number][0], laid[number][1]))
    return least
