"""What a year of condensate in a roof comes to, as sentences with the reader's own numbers."""

from __future__ import annotations

import math

from build_tools.formulas.moisture.condensation import Cut, Month, Year, greatest_of
from build_tools.formulas.moisture.roof_layers import roof_layer
from build_tools.formulas.moisture.room_air import MONTH_NAMES
from build_tools.formulas.numbers import at_least, figure, quantity
from build_tools.model.data import RoofLayer


def layers_said(roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...], cut: Cut) -> tuple[str, ...]:
    """Say of each layer how it holds heat and vapour back."""
    said: tuple[str, ...] = ()
    for i in range(len(laid)):
        r_share = 0.0
        sd_m = 0.0
        for k in range(1, len(cut.places)):
            if cut.places[k] > i and cut.places[k] <= i + 1:
                r_share = r_share + cut.shares[k] - cut.shares[k - 1]
                sd_m = sd_m + cut.depths[k] - cut.depths[k - 1]
        said = (
            *said,
            f"Layer {i + 1}, {roof_layer(roof_layers, laid[i][0]).label}, {quantity(laid[i][1], 'mm')}: "
            f"R {figure(r_share * cut.resistance, 3)} m²·K/W, and for vapour {figure(sd_m, 3)} m of still air.",
        )
    return said


def layer_said(roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...], i: int) -> str:
    """Name a layer by its number, counted from the room, and its material."""
    return f"layer {i + 1}, {roof_layer(roof_layers, laid[i][0]).label}"


def worst_said(month: Month, year: Year) -> str:
    """Say in which month most forms, and what the air on both sides is like then."""
    name = MONTH_NAMES[year.worst_month]
    air = (
        f"outside {quantity(month.outside_c, '°C')} and {figure(month.outside_pa, 0)} Pa of vapour, in the room "
        f"{quantity(month.room_c, '°C')} and {figure(month.room_pa, 0)} Pa"
    )
    if not year.wet:
        return f"Worst in {name}, {air}: all layers stay short of full."
    return f"Most forms in {name}: {air}."


def year_said(year: Year) -> str:
    """Say what is held at the end of each month."""
    said = ""
    for step in range(len(year.totals)):
        said = said + ("" if step == 0 else ", ") + figure(year.totals[step], 1)
    return f"Water at the end of each month from {MONTH_NAMES[year.start]} on, in g/m²: {said}."


def place_said(
    roof_layers: tuple[RoofLayer, ...], laid: tuple[tuple[str, float], ...], cut: Cut, year: Year, peak: float
) -> str:
    """Say when it is wettest, and where."""
    place = cut.places[greatest_of(year.peak_held)]
    before = math.floor(place)
    where = (
        f"between {layer_said(roof_layers, laid, before - 1)}, and {layer_said(roof_layers, laid, before)}"
        if before == place
        else f"inside {layer_said(roof_layers, laid, before)}"
    )
    return f"It is wettest at the end of {MONTH_NAMES[year.peak_month]}, {quantity(peak, 'g/m²')}, most of it {where}."


def end_said(peak: float, allowed: float, left: float) -> str:
    """Say what is left after a year against what may stand there, all in g/m²."""
    most = f"What stands at the wet layers may be {quantity(allowed, 'g/m²')} at most"
    if not at_least(left, 1):
        return f"After twelve months all of it has dried. {most}."
    if not at_least(allowed, peak):
        return f"After twelve months {quantity(left, 'g/m²')} are left. {most}: there is more already."
    years = math.floor((allowed - peak) / left)
    soon = "the next year goes over it" if years == 0 else f"by itself it would take about {years + 1} years"
    return f"After twelve months {quantity(left, 'g/m²')} are left. {most}: {soon}."
