"""Water that vapour leaves inside a roof over a year, and whether it dries out again."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, output
from build_tools.formulas.moisture.condensation import LEAST_G_M2, year_of_condensate
from build_tools.formulas.moisture.interstitial_drawing import draw_interstitial
from build_tools.formulas.moisture.interstitial_inputs import (
    ROOM_HUMIDITY,
    ROOM_TEMPERATURE,
    climate_input,
    own_layers_input,
    roof_build_up_input,
    room_input,
)
from build_tools.formulas.moisture.interstitial_words import end_said, layers_said, place_said, worst_said, year_said
from build_tools.formulas.moisture.roof_layers import cut_layers, laid_layers, wet_layers_take
from build_tools.formulas.moisture.room_air import months_of
from build_tools.formulas.numbers import at_least, figure, rounded
from build_tools.formulas.tables import only, rows
from build_tools.model.data import Climate, Data, RoofBuildUp, RoofLayer, RoomClass

SLOW_SHARE = 0.1
SLOW_G_M2 = 50
"""A roof keeps too much from this share of what its layers may hold, or from this much a year (project choice)."""
BLOWN_THROUGH = ("loft", "flat-vented")
"""Roofs in which air carries the moisture, so that reckoning by layers does not hold."""

PEAK = output("peak_g_m2", "Most water at one time", step=1, rounds="up")
ALLOWED = output("allowed_g_m2", "The wet layers may hold", step=1, rounds="down")
LEFT_OVER = output("left_g_m2", "Left after twelve months", step=1, rounds="up")
WET_MONTHS = output("wet_months_count", "Months that end wet", step=1, rounds="nearest")
PEAK_MONTH = output("peak_month", "Wettest at the end of month (1 is January)", step=1, rounds="nearest")
WORST_MONTH = output("worst_month", "Most forms in month", step=1, rounds="nearest")
ROOF_RESISTANCE = output(
    "resistance_m2k_w", "Resistance to heat, with the air at both faces", step=0.001, rounds="nearest"
)
STILL_AIR = output("still_air_m", "Resistance to vapour, as still air", step=0.001, rounds="nearest")


def interstitial(
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
) -> Reckoned:
    """Find how much water vapour leaves inside a roof in the cold months, where, and whether it dries out again.

    g = 2e-10 kg/(m s Pa) x fall of vapour pressure / metres of still air, along a string drawn tight under the
    pressures at which the air is full; month by month

    Args:
        build_up: [choice] a common build-up, or own layers.
        layers: [rows] own layers from the room outwards, each with material and thickness.
        climate: [choice] the air outside, month by month.
        room: [choice] the kind of room, by how much vapour its use adds.
        temperature_c: [c] temperature of the room, all the year.
        relative_humidity_percent: [percent] measured humidity of the room; None to go by the kind of room.

    Returns:
        peak_g_m2: [g_m2] most water held at the end of a month, rounded up; None, as all others, where air blows
            through the roof.
        allowed_g_m2: [g_m2] what may stand where it is wet then, rounded down; None where no water forms.
        left_g_m2: [g_m2] water left after twelve months, rounded up.
        wet_months_count: [count] months at whose end there is water.
        peak_month: [month] the month of the peak; None where no water forms.
        worst_month: [month] the month in which most water forms; None where none does.
        resistance_m2k_w: [m2k_w] R of all layers with both films of air.
        still_air_m: [m] metres of still air that hold vapour back as much as all layers.

    Source:
        interstitial-method: the tight string, the months, the parts of a layer.
        iso-13788: saturation pressure over water and over ice.
        room-vapour: what the use of a room adds, by class.
        surface-films: 0.25 inside where moisture is judged, 0.04 outside.
        extreme-resistances: the open end of each range on the warm side, the tight end on the cold side.
        condensate-limits: 500 g/m2 at a face that soaks nothing up, 3 or 5 per cent of the mass of wood.
        cold-loft-airflow: in a cold pitched roof air flow rules, and reckoning by vapour through layers does not hold.
        roof-airflow: the standard procedure leaves out what flows through a roof as air.
        project-choice: what stays each year is too much from a tenth of what may stand, or from 50 g/m2;
            a measured humidity holds all the year, but a room is never drier than the air outside;
            under 0.01 g/m2 is no water; of several wet spells the one after the longest dry one comes first;
            at most 24 parts to a layer; the limits, made for another climate, hold for these months.

    Limits:
        It reckons vapour that passes through the layers, and nothing else. Air that blows through a gap, as round the
        lining of a light, carries far more water.
        It knows no rain, no leak, and no water that was built in. It never clears a roof.
        Heat and vapour go straight through: rafters, fixings and corners are left out, and so is a clear night sky.
        Materials stay as they are when wet, soak nothing along, and store nothing. Wood and brick store much.
        A layer with outside air blowing over it ends the build-up.
        An older edition of the standard adds a tenth to what a room adds; here it is not added.
        Climate, room and resistances are worth some grams either way, and sound roofs between two tight sheets keep
        as much by this reckoning. So under 50 g/m2 a year, and under a tenth of what may stand, which fills it in
        about ten years at the soonest, the verdict is slow. Both figures are this guide's own choice.
        It points, and by itself opens no roof. The timber is measured first.

    Example:
        >>> interstitial(*ROOF, "felt-open", (("wool", 100),), "england", "class-3", 20, None).verdict
        'never-dries'
        >>> interstitial(*ROOF, "felt-sealed", (("wool", 100),), "england", "class-3", 20, None).outputs["peak_g_m2"]
        5
    """
    for name in BLOWN_THROUGH:
        if build_up == name:
            return _not_by_layers()
    laid = laid_layers(roof_build_ups, build_up, layers)
    cut = cut_layers(roof_layers, laid)
    months = months_of(climates, room_classes, climate, room, temperature_c, relative_humidity_percent)
    year = year_of_condensate(cut, months)
    peak = rounded(max_of(year.totals), PEAK)
    last = year.totals[len(year.totals) - 1]
    left = rounded(last if at_least(last, LEAST_G_M2) else 0, LEFT_OVER)
    allowed = rounded(wet_layers_take(roof_layers, laid, cut, year), ALLOWED)
    outputs = {
        "peak_g_m2": peak,
        "allowed_g_m2": allowed if year.wet else None,
        "left_g_m2": left,
        "wet_months_count": rounded(wet_months(year.totals), WET_MONTHS),
        "peak_month": rounded(year.peak_month + 1, PEAK_MONTH) if year.wet else None,
        "worst_month": rounded(year.worst_month + 1, WORST_MONTH) if year.wet else None,
        "resistance_m2k_w": rounded(cut.resistance, ROOF_RESISTANCE),
        "still_air_m": rounded(cut.depths[len(cut.depths) - 1], STILL_AIR),
    }
    working = (*layers_said(roof_layers, laid, cut), worst_said(months[year.worst_month], year))
    if not year.wet:
        return Reckoned(outputs=outputs, verdict="dries", working=working)
    working = (*working, year_said(year), place_said(roof_layers, laid, cut, year, peak), end_said(peak, allowed, left))
    return Reckoned(outputs=outputs, verdict=year_told(peak, allowed, left), working=working)


def _not_by_layers() -> Reckoned:
    """Say that this way of reckoning does not hold, and give no number."""
    outputs = {
        "peak_g_m2": None,
        "allowed_g_m2": None,
        "left_g_m2": None,
        "wet_months_count": None,
        "peak_month": None,
        "worst_month": None,
        "resistance_m2k_w": None,
        "still_air_m": None,
    }
    said = "Air moves through this roof, and carries far more than passes through its layers. No number is reckoned."
    return Reckoned(outputs=outputs, verdict="not-this", working=(said,))


def max_of(amounts: tuple[float, ...]) -> float:
    """Give the greatest, nought at least."""
    most = 0.0
    for amount in amounts:
        most = max(most, amount)
    return most


def wet_months(totals: tuple[float, ...]) -> int:
    """Count the months at whose end there is water."""
    count = 0
    for total in totals:
        count = count + (1 if at_least(total, LEAST_G_M2) else 0)
    return count


def year_told(peak: float, allowed: float, left: float) -> str:
    """Compare the numbers as shown: water is rounded up, what may stand is rounded down."""
    if at_least(left, SLOW_G_M2) or at_least(left, SLOW_SHARE * allowed):
        return "never-dries"
    if not at_least(allowed, peak):
        return "too-much"
    return "slow" if at_least(left, 1) else "dries"


def _build_up_rows(
    roof_layers: tuple[RoofLayer, ...],
    roof_build_ups: tuple[RoofBuildUp, ...],
    climates: tuple[Climate, ...],
    room_classes: tuple[RoomClass, ...],
) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the most water in each common build-up, with a mark where much of it stays."""
    found = []
    for row in roof_build_ups:
        cells = []
        for climate, room in (
            ("england", "class-3"),
            ("england", "class-4"),
            ("upland", "class-3"),
            ("upland", "class-4"),
        ):
            reckoned = interstitial(
                roof_layers, roof_build_ups, climates, room_classes, row.id, (("wool", 100.0),), climate, room, 20, None
            )
            stays = "+" if reckoned.verdict == "never-dries" else ""
            cells.append(figure(reckoned.outputs["peak_g_m2"] or 0, 0) + stays)
        found.append((row.label, *cells))
    return tuple(found)


def formula(data: Data) -> Formula:
    """Make the formula."""
    roof_layers = rows(data, "roof-layers", RoofLayer)
    roof_build_ups = rows(data, "roof-build-ups", RoofBuildUp)
    climates = rows(data, "climates", Climate)
    room_classes = rows(data, "room-classes", RoomClass)
    return Formula(
        id="interstitial",
        title="Water inside the roof from vapour, through the year",
        subject="moisture",
        inputs=(
            roof_build_up_input(roof_build_ups),
            own_layers_input(roof_layers),
            climate_input(climates),
            room_input(room_classes),
            ROOM_TEMPERATURE,
            ROOM_HUMIDITY,
        ),
        outputs=(PEAK, ALLOWED, LEFT_OVER, WET_MONTHS, PEAK_MONTH, WORST_MONTH, ROOF_RESISTANCE, STILL_AIR),
        verdicts=MappingProxyType(
            {
                "dries": "By this reckoning the layers take in no water, or what they take in dries out within the "
                "year. That clears no roof: air through one gap carries far more than passes through the layers.",
                "slow": "A little stays each year; the working says how many years it would take by itself. Clear no "
                "roof by it, blame no roof by it.",
                "too-much": "At its peak there is more than the layers may hold. That blames no roof by itself: in "
                "late winter read the timber there, and look for drips and stains.",
                "never-dries": "Much of it is left at the end of the year, and each year adds more. That blames no "
                "roof by itself: in late winter read the timber there, with pins and an awl.",
                "not-this": "Not for this roof: no number by layers holds where air blows over the wool. Look at its "
                "openings, and at its underside in frost.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the build-up most like it, and the room: 3 is a home with few people, aired; 4 a crowded one.",
                "The number is the most water at one time, in g/m². With a + much of it stays at the end of the year.",
                "A cold loft, or a flat roof with air over its wool, cannot be reckoned so.",
                "Up to 500 g/m² may stand in most roofs, and less at thin boards of wood.",
                "The room has 20 °C.",
            ),
            heads=("Build-up", "England, 3", "England, 4", "Upland, 3", "Upland, 4"),
            rows=_build_up_rows(roof_layers, roof_build_ups, climates, room_classes),
        ),
        function=partial(interstitial, roof_layers, roof_build_ups, climates, room_classes),
        example=MappingProxyType(
            {
                "build_up": "felt-open",
                "layers": (("plasterboard", 12.5), ("wool", 100.0), ("felt", 1.0)),
                "climate": "england",
                "room": "class-3",
                "temperature_c": 20,
            }
        ),
        draw=partial(draw_interstitial, roof_layers, roof_build_ups, climates, room_classes),
        tables=only(data, "roof-layers", "roof-build-ups", "climates", "room-classes"),
    )
