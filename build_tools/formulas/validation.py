"""What a reader typed, taken in: values that a formula can work with, or one plain sentence for each that cannot.

`check_text` and what it calls are in the subset that is printed as JavaScript, so the shell, the checks and
the page say the same sentence.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from build_tools.formulas.definition import Formula, Input
from build_tools.formulas.numbers import quantity, read_number
from build_tools.problems import did_you_mean

Raw = str | float | int
Value = float | str | None


class Checked(NamedTuple):
    """One input taken in: what it is, or the sentence to show beside its field."""

    number: float | None
    """The number; None for a choice, for an optional input left blank, or where there is an error."""
    choice: str | None
    error: str
    """Empty where all is well."""


class Validated(NamedTuple):
    """All inputs of a formula taken in; the values can be used only where there are no errors."""

    values: Mapping[str, Value]
    errors: Mapping[str, str]


def check_text(spec: Input, text: str) -> Checked:
    """Take in what was typed or picked for one input."""
    if len(spec.choices) > 0:
        return _check_choice(spec, text)
    reading = read_number(text)
    if reading.problem == "blank" and spec.optional:
        return Checked(number=None, choice=None, error="")
    if reading.value is None:
        return Checked(number=None, choice=None, error=_no_number(spec, text, reading.problem))
    return check_number(spec, reading.value)


def check_number(spec: Input, value: float) -> Checked:
    """Take in a number for one input."""
    if value >= spec.low and value <= spec.high:
        return Checked(number=value, choice=None, error="")
    reach = quantity(spec.low, "") + " to " + quantity(spec.high, spec.unit.symbol)
    return Checked(
        number=None, choice=None, error=f"{spec.label}: it has to be from {reach}. Look at the number again."
    )


def _no_number(spec: Input, text: str, problem: str) -> str:
    """Say why a text is not a number, and how to write one."""
    if problem == "blank":
        return f"{spec.label}: write a number of {spec.unit.words}."
    if problem == "comma":
        return f"{spec.label}: “{text}” can be read in two ways. Leave the comma out, or use a point for decimals."
    return f"{spec.label}: “{text}” is not a number. Write it like 17.5 or 17,5, without the unit."


def _check_choice(spec: Input, text: str) -> Checked:
    """Find a pick among the choices."""
    names = ""
    for option in spec.choices:
        if option.value == text:
            return Checked(number=None, choice=text, error="")
        names = names + (", " if names != "" else "") + option.value
    return Checked(number=None, choice=None, error=f"{spec.label}: pick one of {names}.")


def check_raw(spec: Input, raw: Raw) -> Checked:
    """Take in a number or a text for one input, as from a tree's `given` or the shell."""
    if isinstance(raw, str) or spec.choices:
        return check_text(spec, str(raw))
    return check_number(spec, float(raw))


def validate(formula: Formula, raw: Mapping[str, Raw]) -> Validated:
    """Take in all inputs; one left out takes its default, and an unknown name is an error of its own."""
    checked = {spec.name: _check_or_default(spec, raw) for spec in formula.inputs}
    errors = {name: entry.error for name, entry in checked.items() if entry.error}
    errors |= {name: _unknown(formula, name) for name in raw if name not in checked}
    values = {
        name: entry.choice if entry.choice is not None else entry.number
        for name, entry in checked.items()
        if not entry.error
    }
    return Validated(values, errors)


def validate_given(formula: Formula, given: Mapping[str, Raw]) -> Mapping[str, str]:
    """Check only the inputs that are given, as a tree may settle some and leave the rest to the reader."""
    return {name: error for name, error in validate(formula, given).errors.items() if name in given}


def _check_or_default(spec: Input, raw: Mapping[str, Raw]) -> Checked:
    fallback = "" if spec.default is None else spec.default
    return check_raw(spec, raw.get(spec.name, fallback))


def _unknown(formula: Formula, name: str) -> str:
    names = [spec.name for spec in formula.inputs]
    hint = did_you_mean(name, names, f"The inputs are {', '.join(names)}.")
    return f"“{name}” is no input of {formula.id}. {hint}"
