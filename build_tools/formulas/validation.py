"""What a reader typed, taken in: values that a formula can work with, or one plain sentence for each that cannot.

`check_text`, `check_count` and what they call are in the subset that is printed as JavaScript, so the shell,
the checks and the page say the same sentence.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple, TypeAlias

from build_tools.formulas.definition import Cell, Formula, Input, Lines, Value, split_lines
from build_tools.formulas.numbers import quantity, read_number
from build_tools.model.problems import did_you_mean

Raw: TypeAlias = str | float | Lines
"""What the shell, a tree or an example gives for one input; a list as lines, or as text: `board,12.5; wool,200`."""


class Checked(NamedTuple):
    """One input taken in: what it is, or the sentence to show beside its field."""

    number: float | None
    """The number, whole where it is counted; None for a choice, an optional input left blank, or an error."""
    choice: str | None
    error: str
    """Empty where all is well."""


class Taken(NamedTuple):
    """One input taken in, whatever its kind: its value, or the sentence that says what is wrong."""

    value: Value
    error: str


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
    if not (value >= spec.low and value <= spec.high):
        reach = quantity(spec.low, "") + " to " + quantity(spec.high, spec.unit.symbol)
        said = f"{spec.label}: it has to be from {reach}. Look at the number again."
        return Checked(number=None, choice=None, error=said)
    if spec.whole and value != math.floor(value):
        said = f"{spec.label}: {quantity(value, '')} is not a whole number. Count whole ones."
        return Checked(number=None, choice=None, error=said)
    return Checked(number=math.floor(value) if spec.whole else value, choice=None, error="")


def check_count(spec: Input, count: int) -> str:
    """Say what is wrong with so many lines of a list; empty where it is right."""
    if count < spec.low:
        return f"{spec.label}: at least {_lines(spec.low)}. Add a line."
    if count > spec.high:
        return f"{spec.label}: at most {_lines(spec.high)}. Take one out."
    return ""


def _lines(count: float) -> str:
    """Write a number of lines."""
    return quantity(count, "") + (" line" if count == 1 else " lines")


def _no_number(spec: Input, text: str, problem: str) -> str:
    """Say why a text is not a number, and how to write one."""
    if problem == "blank" and spec.whole:
        return f"{spec.label}: write a whole number."
    if problem == "blank":
        unit = "" if spec.unit.words == "" else f" of {spec.unit.words}"
        return f"{spec.label}: write a number{unit}."
    if problem == "comma":
        return f"{spec.label}: “{text}” can be read in two ways. Leave the comma out, or use a point for decimals."
    like = "12" if spec.whole else "17.5 or 17,5"
    return f"{spec.label}: “{text}” is not a number. Write it like {like}, without the unit."


def _check_choice(spec: Input, text: str) -> Checked:
    """Find a pick among the choices."""
    names = ""
    for option in spec.choices:
        if option.value == text:
            return Checked(number=None, choice=text, error="")
        names = names + (", " if names != "" else "") + option.value
    return Checked(number=None, choice=None, error=f"{spec.label}: pick one of {names}.")


def take_in(spec: Input, raw: Raw | None) -> Taken:
    """Take in what a tree's `given`, the shell or an example gives for one input; None is a blank."""
    if spec.columns:
        lines = split_lines(raw) if isinstance(raw, str) else raw
        return _take_lines(spec, lines if isinstance(lines, tuple) else ())
    if raw is None or isinstance(raw, str | tuple) or spec.choices:
        checked = check_text(spec, "" if raw is None else str(raw))
    else:
        checked = check_number(spec, float(raw))
    return Taken(checked.number if checked.choice is None else checked.choice, checked.error)


def _take_lines(spec: Input, lines: Lines) -> Taken:
    """Take in a list; where several things are wrong, the first is told."""
    if wrong := check_count(spec, len(lines)):
        return Taken(None, wrong)
    taken: list[tuple[Cell, ...]] = []
    for number, line in enumerate(lines, start=1):
        cells, wrong = _take_line(spec.columns, line)
        if wrong:
            return Taken(None, f"{spec.label}, line {number}: {wrong}")
        taken.append(cells)
    return Taken(tuple(taken), "")


def _take_line(columns: Sequence[Input], line: Sequence[Cell]) -> tuple[tuple[Cell, ...], str]:
    if len(line) != len(columns):
        names = ", ".join(column.name for column in columns)
        return (), f"it has {len(line)} entries, not {len(columns)}. Write {names}, and decimals with a point."
    checked = [take_in(column, cell) for column, cell in zip(columns, line, strict=True)]
    cells = tuple(each.value for each in checked if not isinstance(each.value, tuple))
    return cells, next((each.error for each in checked if each.error), "")


def validate(formula: Formula, raw: Mapping[str, Raw]) -> Validated:
    """Take in all inputs; one left out takes its default, and an unknown name is an error of its own."""
    checked = {spec.name: take_in(spec, raw.get(spec.name, spec.default)) for spec in formula.inputs}
    errors = {name: entry.error for name, entry in checked.items() if entry.error}
    errors |= {name: _unknown(formula, name) for name in raw if name not in checked}
    values = {name: entry.value for name, entry in checked.items() if not entry.error}
    return Validated(values, errors)


def validate_given(formula: Formula, given: Mapping[str, Raw]) -> Mapping[str, str]:
    """Check only the inputs that are given, as a tree may settle some and leave the rest to the reader."""
    return {name: error for name, error in validate(formula, given).errors.items() if name in given}


def _unknown(formula: Formula, name: str) -> str:
    names = [spec.name for spec in formula.inputs]
    hint = did_you_mean(name, names, f"The inputs are {', '.join(names)}.")
    return f"“{name}” is no input of {formula.id}. {hint}"
