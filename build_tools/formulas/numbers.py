"""Numbers as they are rounded, compared, written and read: one definition for Python and JavaScript.

Every function here is in the subset that is printed as JavaScript (see build_tools/javascript/__init__.py). Sines and
exponentials may differ in their last digit between the two, so whatever has an edge (a rounding step, a
threshold, a printed digit) forgives a difference far below anything that can be measured.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from build_tools.formulas.definition import Output

TOLERANCE = 1e-9
"""A share of the value (or of one step, if more) that counts as nothing: 75 / sin 30° is 150.00000000000003."""

DIGITS = "0123456789"
MARKS = ".,"
MINUS = "-−"
SPACES = " \t\r\n\u00a0\u2009\u202f"
FINEST = 6
"""Decimals shown at most, and never a trailing zero."""
MOST_EXACT = 1e15
"""Further decimals are dropped beyond this many digits, where a float stops being exact."""


class Reading(NamedTuple):
    """A number read from what somebody typed, or why it could not be."""

    value: float | None
    problem: str
    """Empty, `blank`, `no-number`, or `comma` where a comma may part thousands or decimals."""


def round_up(value: float, step: float) -> float:
    """Round up to a multiple of `step`."""
    count = value / step
    return _multiple(math.ceil(count - TOLERANCE * max(1.0, abs(count))), step)


def round_down(value: float, step: float) -> float:
    """Round down to a multiple of `step`."""
    count = value / step
    return _multiple(math.floor(count + TOLERANCE * max(1.0, abs(count))), step)


def _multiple(count: int, step: float) -> float:
    """Multiply out; a step under 1 divides by its whole number of parts, since 174 * 0.1 is not 17.4."""
    if step < 1:
        return count / math.floor(1 / step + 0.5)
    return count * step


def round_nearest(value: float, step: float) -> float:
    """Round to the nearest multiple of `step`, halves up."""
    return round_down(value + step / 2, step)


def rounded(value: float, output: Output) -> float:
    """Round as the output says."""
    if output.rounds == "up":
        return round_up(value, output.step)
    if output.rounds == "down":
        return round_down(value, output.step)
    return round_nearest(value, output.step)


def at_least(value: float, limit: float) -> bool:
    """Tell whether `value` reaches `limit`."""
    return value >= limit - TOLERANCE * max(1.0, abs(limit))


def figure(value: float, decimals: int) -> str:
    """Write a number to so many decimals, halves away from zero, without trailing zeros."""
    parts = 1
    for _ in range(decimals):
        parts = parts * 10
    count = math.floor(abs(value) * parts * (1 + TOLERANCE / 1000) + 0.5)
    whole = math.floor(count / parts)
    rest = count - whole * parts
    for _ in range(decimals):
        if rest == 10 * math.floor(rest / 10):
            rest = math.floor(rest / 10)
            parts = math.floor(parts / 10)
    sign = "−" if value < 0 and count > 0 else ""
    fraction = "" if parts == 1 else "." + str(parts + rest)[1:]
    return sign + str(whole) + fraction


def quantity(value: float, unit: str) -> str:
    """Write a number with its unit: 200 mm, 17.5°, 65%."""
    space = "" if unit in ("°", "%", "") else " "
    return figure(value, FINEST) + space + unit


def read_number(text: str) -> Reading:
    """Read a number with a point or a comma before its decimals; blanks at both ends are nothing."""
    sign = 1
    value = 0.0
    parts = 1.0
    digits = 0
    mark = ""
    begun = False
    ended = False
    for letter in text:
        digit = DIGITS.find(letter)
        if letter in SPACES:
            ended = begun
        elif ended:
            return Reading(value=None, problem="no-number")
        elif digit >= 0:
            digits = digits + 1
            if mark == "" or value < MOST_EXACT:
                value = value * 10 + digit
                parts = parts if mark == "" else parts * 10
        elif letter in MARKS and mark == "":
            mark = letter
        elif letter in MINUS and not begun:
            sign = -1
        else:
            return Reading(value=None, problem="no-number")
        begun = begun or letter not in SPACES
    return _read(sign * value / parts, digits, mark == "," and parts == 1000 and value >= 1000, begun)


def _read(value: float, digits: int, doubtful: bool, begun: bool) -> Reading:
    """Sum up a reading: a comma before three digits may part thousands, so 2,500 is asked about."""
    if digits == 0:
        return Reading(value=None, problem="no-number" if begun else "blank")
    if doubtful:
        return Reading(value=None, problem="comma")
    return Reading(value=value, problem="")
