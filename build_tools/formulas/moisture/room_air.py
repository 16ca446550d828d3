"""The air on both sides of a roof through the year: climates, and rooms by how much vapour their use adds."""

from __future__ import annotations

from build_tools.formulas.moisture.condensation import Month
from build_tools.formulas.moisture.dew_point import saturation_pressure_pa
from build_tools.model.data import Climate, RoomClass

MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MILD_C = 20
"""From this temperature outside the windows stand open, and a room has the vapour of the air outside."""


def climate_of(climates: tuple[Climate, ...], climate: str) -> Climate:
    """Look a climate up by its id."""
    found = climates[0]
    for row in climates:
        if row.id == climate:
            found = row
    return found


def room_class(room_classes: tuple[RoomClass, ...], room: str) -> RoomClass:
    """Look a kind of room up by its id."""
    found = room_classes[0]
    for row in room_classes:
        if row.id == room:
            found = row
    return found


def added_pa(supply_pa: float, outside_c: float) -> float:
    """Give the vapour that the use of a room adds: all of it at 0 °C outside or colder, none from 20 °C up."""
    return supply_pa * min(max((MILD_C - outside_c) / MILD_C, 0), 1)


def months_of(
    climates: tuple[Climate, ...],
    room_classes: tuple[RoomClass, ...],
    climate: str,
    room: str,
    temperature_c: float,
    relative_humidity_percent: float | None,
) -> tuple[Month, ...]:
    """Give the air on both sides, month by month, January first.

    The room has what its class adds to the air outside or, where its humidity was measured, that all the year;
    never less than the air outside, and never more than air can hold.
    """
    full_pa = saturation_pressure_pa(temperature_c)
    outside = climate_of(climates, climate).months
    supply_pa = room_class(room_classes, room).supply_pa
    found: tuple[Month, ...] = ()
    for i in range(len(outside)):
        vapour_pa = outside[i].vapour_pa
        if relative_humidity_percent is None:
            room_pa = vapour_pa + added_pa(supply_pa, outside[i].outside_c)
        else:
            room_pa = max(full_pa * relative_humidity_percent / 100, vapour_pa)
        month = Month(
            outside_c=outside[i].outside_c,
            outside_pa=vapour_pa,
            room_c=temperature_c,
            room_pa=min(room_pa, full_pa),
            days=MONTH_DAYS[i],
        )
        found = (*found, month)
    return found


def coldest_month(climates: tuple[Climate, ...], climate: str) -> int:
    """Give the coldest month, counted from 0."""
    months = climate_of(climates, climate).months
    best = 0
    for i in range(len(months)):
        if months[i].outside_c < months[best].outside_c:
            best = i
    return best
