"""Fisher's exact test, one side: how often chance alone would put so many of the drips in one group of spells.

All counts stay whole and far below what a float holds exactly, so Python and JavaScript give the same digits.
"""

from __future__ import annotations

from typing import NamedTuple


class Tally(NamedTuple):
    """A group of spells in which somebody looked, and how many of them dripped."""

    spells: int
    drips: int


def ways(many: int, some: int) -> float:
    """Count the ways to pick `some` of `many`; a whole number."""
    found = 1.0
    for count in range(some):
        found = found * (many - count) / (count + 1)
    return found


def ways_to_all(there: Tally, rest: Tally) -> float:
    """Count the ways in which all drips can fall on the spells of both groups."""
    return ways(there.spells + rest.spells, there.drips + rest.drips)


def ways_to_more(there: Tally, rest: Tally) -> float:
    """Count those of them that put as many drips as were seen, or more, on the first group."""
    drips = there.drips + rest.drips
    here = ways(there.spells, there.drips) * ways(rest.spells, rest.drips)
    found = here
    for count in range(there.drips, min(there.spells, drips)):
        here = here * (there.spells - count) * (drips - count)
        here = here / ((count + 1) * (rest.spells - drips + count + 1))
        found = found + here
    return found


def chance_percent(there: Tally, rest: Tally) -> float:
    """Give how often chance alone would put so many drips on the first group, or more, in per cent."""
    return 100 * ways_to_more(there, rest) / ways_to_all(there, rest)


def least_chance_percent(there: Tally, rest: Tally) -> float:
    """Give what the clearest outcome could have come to, with as many drips on as many spells."""
    drips = there.drips + rest.drips
    most = min(there.spells, drips)
    return chance_percent(Tally(spells=there.spells, drips=most), Tally(spells=rest.spells, drips=drips - most))
