"""What a formula is: its inputs, outputs, verdicts and the pure function, each fact stated once.

A formula's purpose, limits and sources are read from the docstring of its function, its units from the
names of its inputs and outputs, so neither is written a second time. Pages, the shell command and the
JavaScript all take what they show from here.
"""

from __future__ import annotations

import hashlib
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from build_tools.formulas.fingerprint import texts_behind


class Unit(NamedTuple):
    """A unit, as it is written after a number and as it is said."""

    symbol: str
    words: str


UNITS: Mapping[str, Unit] = {
    "mm": Unit("mm", "millimetres"),
    "m": Unit("m", "metres"),
    "m2": Unit("m²", "square metres"),
    "deg": Unit("°", "degrees"),
    "percent": Unit("%", "per cent"),
    "c": Unit("°C", "degrees Celsius"),
    "k": Unit("K", "kelvin"),
    "l_s": Unit("l/s", "litres per second"),
    "kg": Unit("kg", "kilograms"),
}
"""How a name ends, and the unit that it promises; SI and degrees, one system throughout."""

Rounds = Literal["up", "down"]


class Choice(NamedTuple):
    """One value of an input that is picked and not measured."""

    value: str
    label: str


class Input(NamedTuple):
    """One thing the reader measures or picks; made by `number` or `choice`."""

    name: str
    """Ends in its unit: `pitch_deg`."""
    label: str
    unit: Unit
    """Empty for a choice."""
    low: float
    high: float
    hint: str
    """How to measure it on a roof."""
    default: float | str | None
    """What the box starts with; None where the reader must measure."""
    optional: bool
    choices: tuple[Choice, ...]

    @property
    def kind(self) -> Literal["number", "choice"]:
        """Tell whether it is measured or picked."""
        return "choice" if self.choices else "number"


class Output(NamedTuple):
    """One number that is reckoned; made by `output`."""

    name: str
    label: str
    unit: Unit
    step: float
    """It is given as a multiple of this: 1 or more, or one part of a whole number (0.1, 0.05)."""
    rounds: Rounds
    """The safe direction: what is needed goes up, what can be counted on goes down."""


class Reckoned(NamedTuple):
    """What a formula gives for one set of values."""

    outputs: Mapping[str, float | None]
    """By output name, rounded; None where there is no answer, as a lap on a roof too flat for one."""
    verdict: str | None
    """A code from the formula's verdicts; None where an optional input that decides was left out."""
    working: tuple[str, ...]
    """The way to the result, line by line, with the reader's own numbers."""


class ByHand(NamedTuple):
    """The same rule for who has no script: words, and a table reckoned by the formula itself."""

    rule: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula with all that a page, the shell and the JavaScript need."""

    id: str
    title: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    verdicts: Mapping[str, str]
    """Code to a plain sentence, in the order from best to worst or the other way round."""
    by_hand: ByHand
    function: Callable[..., Reckoned]
    """Takes one argument for each input, in their order; written in the subset that is printed as JavaScript."""
    example: Mapping[str, float | str]
    """Values that show it at work, for the still drawing."""
    draw: Callable[..., str] | None = None
    """Takes what `function` takes and then the outputs it gave; gives an inline SVG."""

    @property
    def purpose(self) -> str:
        """Give the one sentence that says what it is for."""
        return _doc(self.function).split("\n\n")[0].replace("\n", " ")

    @property
    def limits(self) -> str:
        """Say where it does not hold."""
        return " ".join(section(self.function, "Limits"))

    @property
    def sources(self) -> tuple[str, ...]:
        """Give the ids, as in trees/tables/sources.yaml, of what it rests on."""
        return tuple(line.partition(":")[0] for line in section(self.function, "Source"))

    def fingerprint(self) -> str:
        """Hash all that a reader gets from it, to tell whether it has changed."""
        facts = (self.id, self.title, self.inputs, self.outputs, dict(self.verdicts), self.by_hand)
        texts = (repr(facts), *texts_behind(self.function), *(texts_behind(self.draw) if self.draw else ()))
        return hashlib.sha256("\n".join(texts).encode()).hexdigest()[:16]

    def example_drawing(self) -> str:
        """Draw the example, for a page whose script has not run; empty where there is no drawing."""
        values = tuple(self.example.get(entry.name) for entry in self.inputs)
        return self.draw(*values, self.function(*values).outputs) if self.draw else ""


def unit_of(name: str) -> Unit:
    """Read the unit from the end of a name; ValueError where it promises none."""
    fitting = [suffix for suffix in UNITS if name.endswith("_" + suffix)]
    if not fitting:
        raise ValueError(f"{name} does not end in a known unit: {', '.join(UNITS)}")
    return UNITS[max(fitting, key=len)]


def number(
    name: str,
    label: str,
    *,
    low: float,
    high: float,
    hint: str,
    default: float | None = None,
    optional: bool = False,
) -> Input:
    """Describe an input that is measured, in the unit its name ends in, from `low` to `high` inclusive."""
    return Input(name, label, unit_of(name), low, high, hint, default, optional, ())


def choice(name: str, label: str, *, choices: tuple[Choice, ...], hint: str, default: str | None = None) -> Input:
    """Describe an input that is picked from a few."""
    return Input(name, label, Unit("", ""), 0, 0, hint, default, False, choices)


def output(name: str, label: str, *, step: float, rounds: Rounds) -> Output:
    """Describe an output, in the unit its name ends in."""
    return Output(name, label, unit_of(name), step, rounds)


def section(function: Callable[..., object], title: str) -> tuple[str, ...]:
    """Give the lines of one section of a docstring, a line that is indented further joined to the one above."""
    lines = _doc(function).splitlines()
    body: list[str] = []
    for line in lines[lines.index(title + ":") + 1 :]:
        if not line.startswith("    "):
            break
        if line.startswith("        ") and body:
            body[-1] += " " + line.strip()
        else:
            body.append(line.strip())
    return tuple(body)


def _doc(function: Callable[..., object]) -> str:
    return inspect.getdoc(function) or ""
