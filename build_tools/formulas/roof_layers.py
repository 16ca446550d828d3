"""Layers of a roof: common build-ups, their resistance to heat and vapour, and the water that they may hold."""

from __future__ import annotations

from typing import NamedTuple

from build_tools.formulas.condensation import Cut, cut_build_up
from build_tools.formulas.tables import rows

STILL_AIR_M = 0.01
"""What a layer of air counts as, and whatever has no resistance of its own."""
OWN = "own"
"""The pick that stands for the reader's own layers."""
FACE_LIMIT_G_M2 = 500
"""Water that may stand at the face of a layer which does not soak it up (DIN 4108-3)."""


class RoofLayer(NamedTuple):
    """A material: conductivity or R, μ or metres of still air from least to most, and what wood may take up."""

    id: str
    label: str
    conductivity_w_mk: float | None
    air_m2k_w: float | None
    mu_low: float | None
    mu_high: float | None
    sd_low_m: float | None
    sd_high_m: float | None
    density_kg_m3: float | None
    gain_percent: float | None


class LaidLayer(NamedTuple):
    """A layer of a common build-up."""

    material: str
    thickness_mm: float


class RoofBuildUp(NamedTuple):
    """A common build-up, from the room outwards."""

    id: str
    label: str
    layers: tuple[LaidLayer, ...]


ROOF_LAYERS = rows("roof-layers", RoofLayer)
ROOF_BUILD_UPS = rows("roof-build-ups", RoofBuildUp)


def laid_layers(build_up: str, layers: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
    """Give the layers of a common build-up, or the reader's own."""
    if build_up == OWN:
        return layers
    found: tuple[tuple[str, float], ...] = ()
    for row in ROOF_BUILD_UPS:
        if row.id == build_up:
            for layer in row.layers:
                found = (*found, (layer.material, layer.thickness_mm))
    return found


def roof_layer(material: str) -> RoofLayer:
    """Look a material up by its id."""
    found = ROOF_LAYERS[0]
    for row in ROOF_LAYERS:
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
    sd_m = row.sd_high_m if tight else row.sd_low_m
    mu = row.mu_high if tight else row.mu_low
    if sd_m is not None:
        return sd_m
    return STILL_AIR_M if mu is None else mu * thickness_mm / 1000


def cut_layers(laid: tuple[tuple[str, float], ...]) -> Cut:
    """Cut a build-up: up to the layer that insulates best as open as its materials are, beyond it as tight."""
    best = 0
    best_m2k_w = 0.0
    for i in range(len(laid)):
        r_m2k_w = layer_m2k_w(roof_layer(laid[i][0]), laid[i][1])
        if r_m2k_w > best_m2k_w:
            best = i
            best_m2k_w = r_m2k_w
    parts: tuple[tuple[float, float], ...] = ()
    for i in range(len(laid)):
        row = roof_layer(laid[i][0])
        parts = (*parts, (layer_m2k_w(row, laid[i][1]), layer_sd_m(row, laid[i][1], i > best)))
    return cut_build_up(parts)


def layer_takes_g_m2(material: str, thickness_mm: float) -> float:
    """Give the water that may stand at a layer: 500 g/m², or what wood may take up if that is less."""
    row = roof_layer(material)
    if row.density_kg_m3 is None or row.gain_percent is None:
        return FACE_LIMIT_G_M2
    return min(FACE_LIMIT_G_M2, row.density_kg_m3 * thickness_mm * row.gain_percent / 100)


def named_layer(laid: tuple[tuple[str, float], ...], i: int) -> str:
    """Name a layer by its number, counted from the room, and its material."""
    return f"{i + 1} {roof_layer(laid[i][0]).label}"
