"""What a formula is: its inputs, outputs, verdicts and the pure function, each fact stated once.

A formula's purpose, limits and sources are read from the docstring of its function, its units from the
names of its inputs and outputs, so neither is written a second time. Pages, the shell command and the
JavaScript all take what they show from here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import FunctionType
from typing import Literal, NamedTuple, TypeAlias

from build_tools.formulas.docstrings import docstring, section, written
from build_tools.formulas.fingerprint import texts_behind
from build_tools.model.data import Data


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
    "month": Unit("", "number of the month, January is 1"),
    "g_m2": Unit("g/m²", "grams to a square metre"),
    "w_mk": Unit("W/(m·K)", "watts per metre and kelvin"),
    "l_s": Unit("l/s", "litres per second"),
    "l_s_m2": Unit("l/(s·m²)", "litres per second and square metre"),
    "l_m2": Unit("l/m²", "litres per square metre"),
    "mm_h": Unit("mm/h", "millimetres per hour"),
    "kg": Unit("kg", "kilograms"),
    "kg_m2": Unit("kg/m²", "kilograms to a square metre"),
    "kg_m3": Unit("kg/m³", "kilograms per cubic metre"),
    "um_m_k": Unit("µm/(m·K)", "micrometres per metre and kelvin"),
    "pa": Unit("Pa", "pascals"),
    "m_s": Unit("m/s", "metres per second"),
    "per_m2": Unit("/m²", "to a square metre"),
    "min": Unit("min", "minutes"),
    "weeks": Unit("wk", "weeks"),
    "mm2": Unit("mm²", "square millimetres"),
    "w_m2k": Unit("W/(m²·K)", "watts per square metre and kelvin"),
    "m2k_w": Unit("m²·K/W", "square metre kelvins per watt"),
    "factor": Unit("", "as a factor"),
    "count": Unit("", "pieces"),
}
"""How a name ends, and the unit that it promises; SI and degrees, one system throughout."""

SUBJECTS: Mapping[str, str] = {
    "covering": "Covering",
    "sheet": "Sheet metal and soakers",
    "water": "Water off the roof",
    "glass": "Glass",
    "moisture": "Moisture and condensation",
    "finding": "Finding and proving",
    "ladder": "Ladders",
    "take-off": "Take-off",
}
"""What the formulas are about, in the order in which they are listed."""

Rounds = Literal["up", "down", "nearest"]
Cell: TypeAlias = float | str | None
"""One entry of a line: a number, what was picked, or None where it may be left out."""
Lines: TypeAlias = tuple[tuple[Cell, ...], ...]
"""What a list input holds: lines, each with its entries in the order of the columns."""
Value: TypeAlias = float | str | Lines | None

VERDICT_LINES = ("first", "second", "third", "fourth", "fifth")
"""The lines that tell the verdicts of a formula apart, in their order; it has no more verdicts than these.

Of ISO 128-2, no public source seen: continuous, dashed, long-dashed dotted, long-dashed double-dotted, long-dashed
short-dashed (01, 02, 04, 05, 08). Dots (07) stay with what cannot be told.
"""


class Choice(NamedTuple):
    """One value of an input that is picked and not measured."""

    value: str
    label: str


class Input(NamedTuple):
    """One thing the reader measures, picks or lists; made by `number`, `choice` or `rows_input`."""

    name: str
    """Ends in its unit: `pitch_deg`."""
    label: str
    unit: Unit
    """Empty for a choice and a list."""
    low: float
    high: float
    """The least and the most; of a list, how many lines it has."""
    hint: str
    """How to measure it on a roof."""
    default: Value
    """What the box starts with; None where the reader must measure."""
    optional: bool
    choices: tuple[Choice, ...]
    whole: bool = False
    """Counted and not measured, so that a fraction is a slip."""
    columns: tuple[Input, ...] = ()
    """Of a list: what each line holds."""

    @property
    def kind(self) -> Literal["number", "choice", "rows"]:
        """Tell whether it is measured, picked or listed."""
        return "rows" if self.columns else "choice" if self.choices else "number"

    def cells(self, value: Value) -> tuple[tuple[str, ...], ...]:
        """Give the lines of a list as they are typed, entry by entry; of a blank, as many empty ones as it needs."""
        lines = split_lines(value) if isinstance(value, str) else value
        if not isinstance(lines, tuple):
            lines = ((None,) * len(self.columns),) * max(int(self.low), 1)
        return tuple(tuple(self.typed(cell) for cell in line) for line in lines)

    @staticmethod
    def typed(value: Cell) -> str:
        """Give a value as it is typed: a whole number without a point, nothing for None."""
        if isinstance(value, float) and value.is_integer():
            return str(int(value))
        return "" if value is None else str(value)


class Output(NamedTuple):
    """One number that is reckoned; made by `output`."""

    name: str
    label: str
    unit: Unit
    step: float
    """It is given as a multiple of this: 1 or more, or one part of a whole number (0.1, 0.05)."""
    rounds: Rounds
    """The safe direction: what is needed goes up, what can be counted on goes down; nearest where neither is safer."""


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
    subject: str
    """One of SUBJECTS."""
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    verdicts: Mapping[str, str]
    """Code to a plain sentence, in the order from best to worst or the other way round; one for each line at most."""
    by_hand: ByHand
    function: Callable[..., Reckoned]
    """Takes one argument for each input, in their order: a function in the subset that is printed as JavaScript, or a
    `partial` of one that has been handed the rows of data tables which it takes first."""
    example: Mapping[str, float | str | Lines]
    """Values that show it at work, for the still drawing."""
    draw: Callable[..., str] | None = None
    """Takes what `function` takes and then the outputs it gave; gives an inline SVG."""
    tables: Data = field(default_factory=dict)
    """The data tables that it calculates with; its page shows them."""

    def __post_init__(self) -> None:
        """Refuse more verdicts than there are lines to tell them apart, and an unknown subject, with ValueError."""
        if len(self.verdicts) > len(VERDICT_LINES):
            raise ValueError(f"{self.id} has {len(self.verdicts)} verdicts, and {len(VERDICT_LINES)} can be told apart")
        if self.subject not in SUBJECTS:
            raise ValueError(f"{self.id} is about “{self.subject}”; the subjects are {', '.join(SUBJECTS)}")

    @property
    def printed(self) -> tuple[FunctionType, ...]:
        """Give its function and, where it has one, its drawing, as they are written: before any row was handed in."""
        return tuple(written(each) for each in (self.function, self.draw) if each)

    @property
    def purpose(self) -> str:
        """Give the one sentence that says what it is for."""
        return docstring(self.function).split("\n\n")[0].replace("\n", " ")

    @property
    def limits(self) -> str:
        """Say where it does not hold."""
        return " ".join(section(self.function, "Limits"))

    @property
    def sources(self) -> tuple[str, ...]:
        """Give the ids, as in trees/tables/sources.yaml, of what it rests on."""
        return tuple(line.partition(":")[0] for line in section(self.function, "Source"))

    @property
    def all_sources(self) -> tuple[str, ...]:
        """Give the ids of what it rests on, with those of the rows of its data tables."""
        of_rows = (row.source for rows in self.tables.values() for row in rows.values())
        return tuple(dict.fromkeys((*self.sources, *of_rows)))

    def fingerprint(self) -> str:
        """Hash all that a reader gets from it, the rows of its data tables too, to tell whether it has changed."""
        data = [(name, *rows.items()) for name, rows in self.tables.items()]
        facts = (self.id, self.title, self.purpose, self.limits, self.sources, self.inputs, self.outputs, self.by_hand)
        texts = (repr((*facts, dict(self.verdicts), data)), *texts_behind(*self.printed))
        return hashlib.sha256("\n".join(texts).encode()).hexdigest()[:16]

    def example_drawing(self) -> str:
        """Draw the example, for a page whose script has not run; empty where there is no drawing."""
        values = tuple(self.example.get(entry.name) for entry in self.inputs)
        return self.draw(*values, self.function(*values).outputs) if self.draw else ""


def split_lines(text: str) -> Lines:
    """Read lines from one text, as the shell and trees give them: a semicolon ends a line, a comma an entry."""
    return tuple(tuple(cell.strip() for cell in line.split(",")) for line in text.split(";") if line.strip())


def joined_lines(lines: Lines) -> str:
    """Write lines as one text, the way `split_lines` reads them."""
    return "; ".join(",".join(Input.typed(cell) for cell in line) for line in lines)


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
    whole: bool = False,
) -> Input:
    """Describe an input that is measured or, `whole`, counted, in the unit its name ends in, `low` to `high`."""
    return Input(name, label, unit_of(name), low, high, hint, default, optional, (), whole)


def choice(name: str, label: str, *, choices: tuple[Choice, ...], hint: str, default: str | None = None) -> Input:
    """Describe an input that is picked from a few."""
    return Input(name, label, Unit("", ""), 0, 0, hint, default, False, choices)


def rows_input(
    name: str,
    label: str,
    *,
    columns: tuple[Input, ...],
    hint: str,
    low: int = 1,
    high: int = 12,
    default: Lines | None = None,
) -> Input:
    """Describe a list of `low` to `high` lines, each with the same columns; the function gets a tuple of tuples."""
    return Input(name, label, Unit("", ""), low, high, hint, default, False, (), False, columns)


def output(name: str, label: str, *, step: float, rounds: Rounds) -> Output:
    """Describe an output, in the unit its name ends in."""
    return Output(name, label, unit_of(name), step, rounds)
