"""Vapour through the layers of a build-up, month by month: where it condenses, and what dries out again."""

from __future__ import annotations

import math
from typing import NamedTuple

from build_tools.formulas.moisture.dew_point import saturation_pressure_pa
from build_tools.formulas.numbers import TOLERANCE, at_least

INSIDE_FILM = 0.25
OUTSIDE_FILM = 0.04
"""Resistances in m²·K/W of the films of air at both faces (Rsi where moisture is judged, Rse)."""
FLOW_G_DAY = 0.01728
"""Grams that pass a square metre in a day for each Pa per metre of still air: 2e-10 kg/(m·s·Pa) × 86 400 s."""
PART_M2K_W = 0.25
"""Layers are cut into parts of this resistance at most, since vapour can condense inside a layer too."""
MOST_PARTS = 24
"""A layer is cut into no more (project choice); a thicker one has coarser parts."""
LEAST_G_M2 = 0.01
"""Less than this in a month counts as no water (project choice)."""
DRY_G_M2 = 1e-9
"""Less than this is what floating point leaves behind."""


class Month(NamedTuple):
    """The air on both sides for one month, in °C and Pa, and its days."""

    outside_c: float
    outside_pa: float
    room_c: float
    room_pa: float
    days: int


class Cut(NamedTuple):
    """A build-up cut by planes, its two faces the first and the last of them."""

    shares: tuple[float, ...]
    """How much of the fall of temperature from room to outside lies before each plane, of 1."""
    depths: tuple[float, ...]
    """How many metres of still air lie between the inside face and each plane."""
    places: tuple[float, ...]
    """How many layers lie before each plane; 1.5 is the middle of the second."""
    resistance: float
    """From air to air, in m²·K/W."""


class Year(NamedTuple):
    """Twelve months from the first in which water forms; months count from 0, January."""

    start: int
    totals: tuple[float, ...]
    """All water held at the end of each month in g/m², from `start` on."""
    peak_month: int
    peak_held: tuple[float, ...]
    """What each plane holds at the end of that month, in g/m²."""
    worst_month: int
    """In which most forms in a build-up that was dry before."""
    wet: bool
    """Whether water forms in any month."""


def cut_build_up(layers: tuple[tuple[float, float], ...]) -> Cut:
    """Cut layers, each with its R in m²·K/W and its metres of still air, from the room outwards.

    Every layer needs some resistance to vapour, or two planes would lie in one place.
    """
    resistance = INSIDE_FILM + OUTSIDE_FILM
    for r_m2k_w, _sd_m in layers:
        resistance = resistance + r_m2k_w
    shares: tuple[float, ...] = (INSIDE_FILM / resistance,)
    depths: tuple[float, ...] = (0.0,)
    places: tuple[float, ...] = (0.0,)
    before_r = INSIDE_FILM
    before_m = 0.0
    for number in range(len(layers)):
        r_m2k_w = layers[number][0]
        sd_m = layers[number][1]
        parts = min(max(math.ceil(r_m2k_w / PART_M2K_W - TOLERANCE), 1), MOST_PARTS)
        for part in range(1, parts + 1):
            shares = (*shares, (before_r + r_m2k_w * part / parts) / resistance)
            depths = (*depths, before_m + sd_m * part / parts)
            places = (*places, number + part / parts)
        before_r = before_r + r_m2k_w
        before_m = before_m + sd_m
    return Cut(shares=shares, depths=depths, places=places, resistance=resistance)


def full_pressures(cut: Cut, month: Month) -> tuple[float, ...]:
    """Give the vapour pressure in Pa at which air is full, at each plane."""
    found: tuple[float, ...] = ()
    for share in cut.shares:
        found = (*found, saturation_pressure_pa(month.room_c + share * (month.outside_c - month.room_c)))
    return found


def tied_pressures(full: tuple[float, ...], month: Month) -> tuple[float, ...]:
    """Put the vapour of room and outside in place of the limits at the two faces; a face holds no more than is full."""
    found: tuple[float, ...] = (min(month.room_pa, full[0]),)
    for i in range(1, len(full) - 1):
        found = (*found, full[i])
    return (*found, min(month.outside_pa, full[len(full) - 1]))


def string_bends(depths: tuple[float, ...], tied: tuple[float, ...], held: tuple[float, ...]) -> tuple[float, ...]:
    """Draw a string tight under the limits, and through every plane that holds water; give its bend at each plane.

    A bend in Pa/m is vapour that comes and does not go on: water forms where it is over 0, and dries where it is under.
    """
    last = len(depths) - 1
    bends: tuple[float, ...] = (0.0,)
    at = 0
    before = 0.0
    for _ in range(last):
        reach = at + 1
        slope = (tied[at + 1] - tied[at]) / (depths[at + 1] - depths[at])
        for i in range(at + 1, last + 1):
            found = (tied[i] - tied[at]) / (depths[i] - depths[at])
            if found <= slope:
                slope = found
                reach = i
            if held[i] > 0:
                break
        bends = (*bends, slope - before) if at > 0 else bends
        for _between in range(at + 1, reach):
            bends = (*bends, 0.0)
        before = slope
        at = reach
        if at == last:
            break
    return (*bends, 0.0)


def string_pressures(depths: tuple[float, ...], tied: tuple[float, ...], bends: tuple[float, ...]) -> tuple[float, ...]:
    """Give the vapour pressure in Pa along the string, at each plane."""
    last = len(depths) - 1
    slope = (tied[last] - tied[0]) / depths[last]
    for i in range(1, last):
        slope = slope - bends[i] * (1 - depths[i] / depths[last])
    found: tuple[float, ...] = (tied[0],)
    at_pa = tied[0]
    for i in range(1, last + 1):
        at_pa = at_pa + slope * (depths[i] - depths[i - 1])
        slope = slope + bends[i]
        found = (*found, at_pa)
    return found


def held_after(
    depths: tuple[float, ...], tied: tuple[float, ...], held: tuple[float, ...], days: float
) -> tuple[float, ...]:
    """Give what each plane holds in g/m² after so many days, from what it held before.

    A plane that dries up on the way stops giving off vapour then: the days are parted there, so that no water is
    dried that was never held.
    """
    now = held
    left = days
    for _ in range(len(depths)):
        bends = string_bends(depths, tied, now)
        span = left
        for i in range(len(now)):
            if now[i] > 0 and bends[i] < 0:
                span = min(span, now[i] / (-FLOW_G_DAY * bends[i]))
        grown: tuple[float, ...] = ()
        for i in range(len(now)):
            amount = now[i] + FLOW_G_DAY * bends[i] * span
            grown = (*grown, amount if amount > DRY_G_M2 else 0.0)
        now = grown
        left = left - span
        if left <= 0:
            break
    return now


def year_of_condensate(cut: Cut, months: tuple[Month, ...]) -> Year:
    """Reckon twelve months, January first, from the first in which water forms after a dry one."""
    dry: tuple[float, ...] = ()
    for _share in cut.shares:
        dry = (*dry, 0.0)
    limits: tuple[tuple[float, ...], ...] = ()
    gains: tuple[float, ...] = ()
    for month in months:
        tied = tied_pressures(full_pressures(cut, month), month)
        limits = (*limits, tied)
        gains = (*gains, month.days * FLOW_G_DAY * sum_of(string_bends(cut.depths, tied, dry)))
    start = first_wet_month(gains)
    wet = at_least(gains[start], LEAST_G_M2)
    held = dry
    peak_month = start
    peak_held = dry
    totals: tuple[float, ...] = ()
    for step in range(len(months)):
        i = month_after(start, step)
        if wet and (sum_of(held) > 0 or gains[i] > 0):
            held = held_after(cut.depths, limits[i], held, months[i].days)
        if not at_least(sum_of(peak_held), sum_of(held)):
            peak_month = i
            peak_held = held
        totals = (*totals, sum_of(held))
    return Year(
        start=start,
        totals=totals,
        peak_month=peak_month,
        peak_held=peak_held,
        worst_month=greatest_of(gains),
        wet=wet,
    )


def first_wet_month(gains: tuple[float, ...]) -> int:
    """Give the month with water after the longest run of dry ones, the first of the year where none has or all have."""
    start = 0
    longest = -1
    for i in range(len(gains)):
        dry = 0
        for back in range(1, len(gains)):
            if at_least(gains[month_after(i, len(gains) - back)], LEAST_G_M2):
                break
            dry = dry + 1
        if at_least(gains[i], LEAST_G_M2) and dry > longest:
            longest = dry
            start = i
    return start


def month_after(month: int, step: int) -> int:
    """Count months on, January after December."""
    return month + step if month + step < 12 else month + step - 12


def sum_of(amounts: tuple[float, ...]) -> float:
    """Add up."""
    total = 0.0
    for amount in amounts:
        total = total + amount
    return total


def greatest_of(amounts: tuple[float, ...]) -> int:
    """Give the place of the greatest, the first of those that are as great."""
    best = 0
    for i in range(len(amounts)):
        if not at_least(amounts[best], amounts[i]):
            best = i
    return best
