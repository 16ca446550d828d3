"""Water in the air of a room, and what it does on a cold surface."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.model.data import Data

FULL_AT_0_PA = 610.5
"""Saturation pressure at 0 °C in the formula of ISO 13788; the two branches meet there."""
MOULD_PERCENT = 80
"""Humidity of the air at a surface from which mould can grow in several days (BS 5250, Annex D.2)."""

TEMPERATURE = number(
    "temperature_c",
    "Temperature of the room",
    low=-20,
    high=50,
    hint="In the middle of the room, in the shade, away from heaters, after the meter has lain there an hour.",
)
HUMIDITY = number(
    "relative_humidity_percent",
    "Relative humidity of the room",
    low=5,
    high=100,
    hint="At the same place and the same time as the temperature.",
)
SURFACE = number(
    "surface_c",
    "Temperature of the coldest surface",
    low=-20,
    high=60,
    hint="Glass and bright metal mislead a meter that measures from afar: stick a piece of matt tape on them "
    "and measure the tape.",
)
DEW_POINT = output("dew_point_c", "Dew point", step=0.01, rounds="up")
SURFACE_HUMIDITY = output("surface_humidity_percent", "Humidity at the surface", step=0.1, rounds="up")


def dew_point(temperature_c: float, relative_humidity_percent: float, surface_c: float) -> Reckoned:
    """Find the temperature at which the air of a room wets a surface, and what it does on this one.

    With θ in °C and p in Pa: p_full = 610.5 exp(17.269 θ / (237.3 + θ)) from 0 °C up,
    610.5 exp(21.875 θ / (265.5 + θ)) below; the dew point is the θ at which p_full = p.

    Args:
        temperature_c: [c] temperature of the air.
        relative_humidity_percent: [percent] relative humidity of the air.
        surface_c: [c] temperature of the surface.

    Returns:
        dew_point_c: [c] rounded up; below 0 °C it is the frost point.
        surface_humidity_percent: [percent] humidity that this air reaches at the surface, rounded up, 100 at most.

    Source:
        iso-13788: saturation pressure over water and over ice.
        bs-5250-surface: 80 per cent at the surface.

    Limits:
        It speaks of this hour only. Mould needs several days; a surface may be wet at night and dry by day.
        A room meter errs by about half a degree and three per cent: a degree from the edge decides nothing.
        It points. Opening up proves.

    Example:
        >>> dew_point(20, 50, 10).outputs["dew_point_c"]
        9.27
        >>> dew_point(20, 50, 10).verdict
        'mould-risk'
    """
    full_pa = saturation_pressure_pa(temperature_c)
    held_pa = full_pa * relative_humidity_percent / 100
    surface_pa = saturation_pressure_pa(surface_c)
    dew_c = rounded(full_at_c(held_pa), DEW_POINT)
    humidity = min(rounded(100 * held_pa / surface_pa, SURFACE_HUMIDITY), 100.0)
    working = (
        f"Air at {quantity(temperature_c, '°C')} is full of vapour at {figure(full_pa, 0)} Pa.",
        f"At {quantity(relative_humidity_percent, '%')} it holds {figure(held_pa, 0)} Pa.",
        f"Air that holds {figure(held_pa, 0)} Pa is full at {quantity(dew_c, '°C')}: the dew point.",
        f"At the surface, {quantity(surface_c, '°C')}, air is full at {figure(surface_pa, 0)} Pa: "
        f"the humidity there is {quantity(humidity, '%')}.",
    )
    outputs = {"dew_point_c": dew_c, "surface_humidity_percent": humidity}
    verdict = _surface_verdict(surface_c, dew_c, humidity)
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def saturation_pressure_pa(temperature_c: float) -> float:
    """Give the vapour pressure in Pa at which air is full, over water from 0 °C up and over ice below."""
    if temperature_c >= 0:
        return FULL_AT_0_PA * math.exp(17.269 * temperature_c / (237.3 + temperature_c))
    return FULL_AT_0_PA * math.exp(21.875 * temperature_c / (265.5 + temperature_c))


def full_at_c(pressure_pa: float) -> float:
    """Give the temperature in °C at which air with this vapour pressure is full."""
    share = math.log(pressure_pa / FULL_AT_0_PA)
    if share >= 0:
        return 237.3 * share / (17.269 - share)
    return 265.5 * share / (21.875 - share)


def _surface_verdict(surface_c: float, dew_c: float, humidity_percent: float) -> str:
    """Compare the numbers as shown, which are rounded to the wet side."""
    if at_least(dew_c, surface_c):
        return "wets"
    if at_least(humidity_percent, MOULD_PERCENT):
        return "mould-risk"
    return "dry"


def _dew_points() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: dew points of a lived-in room."""
    humidities = (40.0, 50.0, 60.0, 70.0, 80.0)
    return tuple(
        (
            quantity(air, "°C"),
            *(figure(full_at_c(saturation_pressure_pa(air) * share / 100), 1) for share in humidities),
        )
        for air in (14.0, 16.0, 18.0, 20.0, 22.0, 24.0)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="dew-point",
        title="Dew point of the room, and the coldest surface",
        subject="moisture",
        inputs=(TEMPERATURE, HUMIDITY, SURFACE),
        outputs=(DEW_POINT, SURFACE_HUMIDITY),
        verdicts=MappingProxyType(
            {
                "dry": "The surface stays dry in this air. Condensation does not explain water here at this hour.",
                "mould-risk": "No water forms yet, but the air at the surface is damp enough for mould if it stays "
                "so for several days.",
                "wets": "Water forms on this surface in this air. It can be condensation, with no leak at all.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the temperature and the humidity of the room. Where they meet stands the dew point in °C.",
                "A surface at the dew point or colder gets wet.",
                "A surface up to about three and a half degrees warmer than the dew point is damp enough for mould.",
            ),
            heads=("Room", "40%", "50%", "60%", "70%", "80%"),
            rows=_dew_points(),
        ),
        function=dew_point,
        example=MappingProxyType({"temperature_c": 20, "relative_humidity_percent": 50, "surface_c": 10}),
    )
