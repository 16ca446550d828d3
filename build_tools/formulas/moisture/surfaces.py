"""How cold an inside surface gets beside the air of its room, and whether that air wets it."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.moisture.dew_point import (
    HUMIDITY,
    MOULD_PERCENT,
    TEMPERATURE,
    full_at_c,
    saturation_pressure_pa,
)
from build_tools.formulas.moisture.surfaces_drawing import draw_surface_humidity
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import ColdSurface, Data

OUTSIDE_FILM = 0.04
"""Resistance in m²·K/W of the film of air outside: with the inside film it bounds every U value."""
APART_K = 10
"""Room and outside less far apart than this test nothing (project choice)."""
LEAST_FACTOR = 0.75
"""What British guidance asks of every surface in a dwelling (IP 1/06)."""


OUTSIDE = number(
    "outside_c",
    "Temperature outside",
    low=-30,
    high=45,
    hint="In the shade, at the same hour. To see what a frost would do, put in the night you fear.",
)


def which_surface_input(cold_surfaces: tuple[ColdSurface, ...]) -> Input:
    """Let the surface be picked."""
    return choice(
        "surface",
        "Surface",
        choices=choices_of(cold_surfaces),
        hint="The one most like it. It gives the U value, and how much the air at it shields it. In doubt pick the "
        "colder.",
        default="reveal-bare",
    )


OWN_U = number(
    "u_w_m2k",
    "U value, if you know it",
    low=0.05,
    high=7,
    hint="From the papers; it goes before the one of the surface. Glass on a slope has more than upright.",
    optional=True,
)
MEASURED_SURFACE = number(
    "surface_c",
    "Temperature of the surface, if measured",
    low=-30,
    high=60,
    hint="It goes before any U value. Measure at dawn, in the coldest corner, on matt tape where it shines.",
    optional=True,
)
REACHED = output("reached_c", "The surface has", step=0.1, rounds="down")
NEEDED_SURFACE = output("needed_c", "Needed against mould", step=0.1, rounds="up")
REACHED_HUMIDITY = output("surface_humidity_percent", "Humidity at the surface", step=0.1, rounds="up")
REACHED_FACTOR = output("reached_factor", "Temperature factor fRsi", step=0.001, rounds="down")
NEEDED_FACTOR = output("needed_factor", "Factor needed against mould", step=0.001, rounds="up")


def surface_humidity(
    cold_surfaces: tuple[ColdSurface, ...],
    temperature_c: float,
    relative_humidity_percent: float,
    outside_c: float,
    surface: str,
    u_w_m2k: float | None,
    surface_c: float | None,
) -> Reckoned:
    """Find how cold an inside surface gets, whether the air of the room wets it, and the factor fRsi.

    fRsi = (surface - outside) / (room - outside) = 1 - U x Rsi; against mould: vapour held / 0.8 at the surface

    Args:
        temperature_c: [c] temperature of the air in the room.
        relative_humidity_percent: [percent] relative humidity of that air.
        outside_c: [c] temperature outside.
        surface: [choice] the surface, which gives U value and film of air.
        u_w_m2k: [w_m2k] U value, which goes before that of the surface; None if not known.
        surface_c: [c] temperature of the surface, which goes before any U value; None if not measured.

    Returns:
        reached_c: [c] temperature of the surface, rounded down.
        needed_c: [c] temperature from which the humidity at the surface stays under 80 per cent, rounded up.
        surface_humidity_percent: [percent] humidity at the surface, rounded up, 100 at most.
        reached_factor: [factor] rounded down; None where the temperatures do not give one.
        needed_factor: [factor] rounded up, nought at least; None where it is too mild outside.

    Source:
        iso-13788: saturation pressure, and the factor from three temperatures.
        bs-5250-surface: 80 per cent at the surface.
        surface-films: 0.25 inside where mould is judged, 0.04 outside.
        least-surface-factor: 0.75 at least in dwellings.
        project-choice: room and outside at least 10 K apart for a test.

    Limits:
        Heat goes straight through here. A real corner or frame is colder, so a dry answer is the best case.
        It speaks of one hour that lasts. Mould needs several days; thick parts lag behind the weather by hours.
        It knows nothing of air that leaks in behind a lining.
        Under a clear sky the outside of glass can be colder than the air.
        It points. Opening up proves.

    Example:
        >>> surface_humidity(COLD_SURFACES, 20, 60, 0, "reveal-bare", None, None).outputs["reached_c"]
        10.7
        >>> surface_humidity(COLD_SURFACES, 20, 60, 0, "reveal-bare", None, None).verdict
        'wets'
    """
    held_pa = saturation_pressure_pa(temperature_c) * relative_humidity_percent / 100
    apart_k = temperature_c - outside_c
    share = surface_share(cold_surfaces, surface, u_w_m2k)
    at_c = outside_c + share * apart_k if surface_c is None else surface_c
    least_c = full_at_c(100 * held_pa / MOULD_PERCENT)
    reached_c = rounded(at_c, REACHED)
    needed_c = rounded(least_c, NEEDED_SURFACE)
    humidity = min(rounded(100 * held_pa / saturation_pressure_pa(at_c), REACHED_HUMIDITY), 100.0)
    reached: float | None = None
    needed: float | None = None
    apart = at_least(apart_k, APART_K)
    if apart:
        needed = rounded(max((least_c - outside_c) / apart_k, 0), NEEDED_FACTOR)
        if at_c >= outside_c and at_c <= temperature_c:
            reached = rounded((at_c - outside_c) / apart_k, REACHED_FACTOR)
    working = (
        _surface_found(cold_surfaces, surface, u_w_m2k, surface_c, share, reached_c),
        f"The air of the room holds {figure(held_pa, 0)} Pa of vapour. At the surface that is a humidity of "
        f"{quantity(humidity, '%')}.",
        f"It stays under {quantity(MOULD_PERCENT, '%')} on a surface of {quantity(needed_c, '°C')} or more.",
        _factors_said(reached, needed, apart, at_c < min(outside_c, temperature_c)),
    )
    outputs = {
        "reached_c": reached_c,
        "needed_c": needed_c,
        "surface_humidity_percent": humidity,
        "reached_factor": reached,
        "needed_factor": needed,
    }
    tested = apart and at_c <= temperature_c
    verdict = _surface_told(humidity, relative_humidity_percent, tested)
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def surface_share(cold_surfaces: tuple[ColdSurface, ...], surface: str, u_w_m2k: float | None) -> float:
    """Give 1 − U × Rsi; no U value is over what the two films of air alone let through."""
    row = cold_surface(cold_surfaces, surface)
    return 1 - min(row.u_w_m2k if u_w_m2k is None else u_w_m2k, _most_u(row)) * row.rsi_m2k_w


def cold_surface(cold_surfaces: tuple[ColdSurface, ...], surface: str) -> ColdSurface:
    """Look a surface up by its id."""
    found = cold_surfaces[0]
    for row in cold_surfaces:
        if row.id == surface:
            found = row
    return found


def _most_u(row: ColdSurface) -> float:
    return 1 / (row.rsi_m2k_w + OUTSIDE_FILM)


def _surface_found(
    cold_surfaces: tuple[ColdSurface, ...],
    surface: str,
    u_w_m2k: float | None,
    surface_c: float | None,
    share: float,
    reached_c: float,
) -> str:
    if surface_c is not None:
        return f"The surface was measured: {quantity(surface_c, '°C')}."
    row = cold_surface(cold_surfaces, surface)
    taken = row.u_w_m2k if u_w_m2k is None else u_w_m2k
    capped = "" if taken <= _most_u(row) else " (no U value is over what the air at it lets through)"
    return (
        f"1 − {figure(min(taken, _most_u(row)), 3)} × {figure(row.rsi_m2k_w, 2)}{capped}: "
        f"{figure(rounded(share, REACHED_FACTOR), 3)} of the way from outside to room, {quantity(reached_c, '°C')}."
    )


def _factors_said(reached: float | None, needed: float | None, apart: bool, coldest: bool) -> str:
    if coldest:
        return "It is colder than room and outside, so measure it again: shine and a clear sky mislead a meter."
    if not apart or needed is None:
        return f"Room and outside are less than {quantity(APART_K, 'K')} apart, so there is no factor to go by."
    if reached is None:
        return f"It is warmer than the room, so sun or a heater is on it. Needed here: a factor of {figure(needed, 3)}."
    low = "under" if not at_least(reached, LEAST_FACTOR) else "not under"
    return (
        f"Factor {figure(reached, 3)}; this air needs {figure(needed, 3)}. It is {low} the "
        f"{figure(LEAST_FACTOR, 2)} that guidance asks in dwellings."
    )


def _surface_told(humidity: float, room_percent: float, tested: bool) -> str:
    """Compare the humidity as shown, which is rounded to the wet side."""
    if at_least(humidity, 100):
        return "wets"
    if at_least(room_percent, MOULD_PERCENT):
        return "damp-room"
    if at_least(humidity, MOULD_PERCENT):
        return "mould-risk"
    return "dry" if tested else "no-test"


def _surface_rows(cold_surfaces: tuple[ColdSurface, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: each surface with its factor, and its temperature in a room of 20 °C."""
    return tuple(
        (
            row.label,
            figure(rounded(surface_share(cold_surfaces, row.id, None), REACHED_FACTOR), 3),
            *(
                quantity(rounded(cold + surface_share(cold_surfaces, row.id, None) * (20 - cold), REACHED), "°C")
                for cold in (5.0, 0.0, -5.0)
            ),
        )
        for row in cold_surfaces
    )


def _needed_by_hand() -> str:
    """Say what a room of 20 °C needs against mould."""
    said = (
        f"{figure(rounded(full_at_c(saturation_pressure_pa(20) * share / MOULD_PERCENT), NEEDED_SURFACE), 1)} °C "
        f"at {figure(share, 0)}%"
        for share in (40.0, 50.0, 60.0, 70.0)
    )
    return "With 20 °C in the room the surface needs, against mould, " + ", ".join(said) + "."


def formula(data: Data) -> Formula:
    """Make the formula."""
    cold_surfaces = rows(data, "cold-surfaces", ColdSurface)
    return Formula(
        id="surface-humidity",
        title="A cold surface inside, and mould",
        subject="moisture",
        inputs=(TEMPERATURE, HUMIDITY, OUTSIDE, which_surface_input(cold_surfaces), OWN_U, MEASURED_SURFACE),
        outputs=(REACHED, NEEDED_SURFACE, REACHED_HUMIDITY, REACHED_FACTOR, NEEDED_FACTOR),
        verdicts=MappingProxyType(
            {
                "wets": "Water forms on this surface in this air. It can be condensation; a leak beside it is not "
                "ruled out.",
                "damp-room": "The air of the room itself has 80 % or more, and no insulation keeps surfaces dry in "
                "that. Find what wets the air, and let it out.",
                "mould-risk": "No water forms, but it is damp enough for mould if it stays so for several days. Warm "
                "the surface, or dry the air.",
                "no-test": "It is dry now, but this is no test: too mild outside, or the surface warmer than the room. "
                "Come back on a cold morning.",
                "dry": "This surface stays dry in this air. That does not clear a colder corner, nor air that leaks in "
                "behind the lining.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the surface, and its temperature below the cold outside. The room has 20 °C.",
                _needed_by_hand(),
                "For other temperatures: outside, plus the factor times the difference from outside to room.",
            ),
            heads=("Surface", "Factor", "5 °C outside", "0 °C", "−5 °C"),
            rows=_surface_rows(cold_surfaces),
        ),
        function=partial(surface_humidity, cold_surfaces),
        example=MappingProxyType(
            {"temperature_c": 20, "relative_humidity_percent": 50, "outside_c": 0, "surface": "reveal-bare"}
        ),
        draw=draw_surface_humidity,
        tables=only(data, "cold-surfaces"),
    )
