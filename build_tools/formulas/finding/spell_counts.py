"""Spells counted by their weather, and the quarters of the wind that can be set against the rest."""

from __future__ import annotations

from typing import NamedTuple

from build_tools.formulas.finding.compass import COMPASS
from build_tools.formulas.finding.fisher import Tally, chance_percent, least_chance_percent
from build_tools.formulas.numbers import at_least

LEAST_DRIPS = 3
"""One or two drips make no pattern, whatever the reckoning says (project choice)."""
CHANCE_PERCENT = 5
"""What chance brings about once in twenty logs counts as chance no more: Fisher's own line."""

POINTS_OF_EIGHT = tuple(COMPASS[2 * step] for step in range(8))


class Quarter(NamedTuple):
    """One point of the compass, or two neighbours, against all other rain whose wind is known."""

    name: str
    deg: float
    there: Tally
    rest: Tally


def spells_with(spells: tuple[tuple[str, str], ...], weather: str) -> Tally:
    """Count the spells of one weather in which somebody looked."""
    looked = 0
    drips = 0
    for met, drip in spells:
        if met == weather and drip != "unseen":
            looked = looked + 1
            drips = drips + (1 if drip == "yes" else 0)
    return Tally(spells=looked, drips=drips)


def rain_of(spells: tuple[tuple[str, str], ...]) -> Tally:
    """Count the spells of rain in which somebody looked, whatever the wind."""
    looked = 0
    drips = 0
    for met, drip in spells:
        if met != "dry" and drip != "unseen":
            looked = looked + 1
            drips = drips + (1 if drip == "yes" else 0)
    return Tally(spells=looked, drips=drips)


def both(one: Tally, other: Tally) -> Tally:
    """Add two groups of spells."""
    return Tally(spells=one.spells + other.spells, drips=one.drips + other.drips)


def without(all_of: Tally, some: Tally) -> Tally:
    """Take one group out of a greater one."""
    return Tally(spells=all_of.spells - some.spells, drips=all_of.drips - some.drips)


def quarters_of(spells: tuple[tuple[str, str], ...]) -> tuple[Quarter, ...]:
    """Give each point with a look in its rain, and each two neighbours, where other rain is left to set it against.

    What is tried does not hang on where it dripped, so that the number of tries is fair.
    """
    wind = spells_with(spells, "calm")
    tallies: tuple[Tally, ...] = ()
    for point in POINTS_OF_EIGHT:
        tallies = (*tallies, spells_with(spells, point.id))
    for tally in tallies:
        wind = both(wind, tally)
    found: tuple[Quarter, ...] = ()
    for step in range(8):
        after = 0 if step == 7 else step + 1
        here = POINTS_OF_EIGHT[step]
        name = here.label
        alone = tallies[step]
        pair = both(alone, tallies[after])
        if alone.spells > 0 and alone.spells < wind.spells:
            found = (*found, Quarter(name=name, deg=here.deg, there=alone, rest=without(wind, alone)))
        if alone.spells > 0 and tallies[after].spells > 0 and pair.spells < wind.spells:
            name = f"{name} and {POINTS_OF_EIGHT[after].label}"
            found = (*found, Quarter(name=name, deg=here.deg + 22.5, there=pair, rest=without(wind, pair)))
    return found


def clearest_of(quarters: tuple[Quarter, ...]) -> Quarter | None:
    """Pick the quarter whose drips chance explains least, the first of equals; None where none has drips enough."""
    found: Quarter | None = None
    least = 101.0
    for quarter in quarters:
        percent = chance_percent(quarter.there, quarter.rest)
        if quarter.there.drips >= LEAST_DRIPS and percent < least:
            least = percent
            found = quarter
    return found


def could_stand_out(quarters: tuple[Quarter, ...]) -> bool:
    """Tell whether any quarter could have stood out, had the drips fallen as clearly as they might."""
    found = False
    for quarter in quarters:
        enough = min(quarter.there.spells, quarter.there.drips + quarter.rest.drips) >= LEAST_DRIPS
        least = len(quarters) * least_chance_percent(quarter.there, quarter.rest)
        found = found or (enough and at_least(CHANCE_PERCENT, least))
    return found
