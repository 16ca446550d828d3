"""Numbers that a drawing shows: each says in the drawing's metadata where it comes from, and is held to it.

A line of the metadata names one number as it is shown, and what gives it:

    290 mm: sheet-lap.lap_mm pitch_deg=15     an input or output of a formula, with what it is calculated from
    65 mm: coverings.headlap_mm plain-tiles   a field of a row in a data table
    75 mm: source lead-lap-rule               what a source says, where no formula gives it
    sources: common-practice                  what the drawing rests on besides
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from build_tools.formulas import Formula, reckon, validate
from build_tools.formulas.definition import UNITS, unit_of
from build_tools.formulas.numbers import quantity
from build_tools.model.problems import Problem, did_you_mean
from build_tools.sources.library import Draft
from build_tools.sources.source import SourceFile

_SHOWN = re.compile(r"<(?:desc|text|tspan)\b[^>]*>([^<]*)")
_NUMBER = re.compile(r"\d+(?:\.\d+)? ?(?:mm|m|min|°C|°)(?![a-z])|1 in \d+")
_METADATA = re.compile(r"<metadata>([^<]*)</metadata>")
_LINE = re.compile(r"[^\n]*\S[^\n]*")
_MEASURED = re.compile(rf"_({'|'.join(UNITS)})$")
_CODE = "drawing-number"
_HOW = "Write FORMULA.OUTPUT input=value …, TABLE.FIELD ROW, or source SOURCE."


class _Wrong(Exception):
    """A line of metadata cannot be followed; it carries what is wrong and how to mend it."""

    def __init__(self, what: str, mend: str = _HOW) -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend


@dataclass(frozen=True, slots=True)
class _Claim:
    """A line of metadata: a number as it is shown, or "sources", what gives it, and where the line stands."""

    shown: str
    given_by: str
    index: int


def drawing_numbers(drawing: SourceFile, draft: Draft) -> Iterator[Problem]:
    """Find numbers that do not say where they come from, and those that are not what is given there."""
    claims = tuple(_claims(drawing))
    shown = {number: index for number, index in reversed(tuple(_numbers(drawing)))}
    # A line that lost its colon still names its number: one mistake, one message.
    claimed = {number for each in claims for number in (each.shown, *_NUMBER.findall(each.shown))}
    for number, index in shown.items():
        if number not in claimed:
            what = f'"{number}" does not say where it comes from'
            mend = f'Add a line to the metadata of the drawing, "{number}: …". {_HOW}'
            yield Problem(drawing.place(index), _CODE, what, mend)
    for claim in claims:
        try:
            _follow(claim, shown, draft)
        except _Wrong as wrong:
            yield Problem(drawing.place(claim.index), _CODE, wrong.what, wrong.mend)


def sources_of(drawing: SourceFile) -> tuple[str, ...]:
    """Give the ids of the sources that a drawing's metadata names."""
    told = (
        each.given_by for each in _claims(drawing) if each.shown == "sources" or each.given_by.startswith("source ")
    )
    return tuple(dict.fromkeys(name for each in told for name in each.removeprefix("source ").split()))


def _numbers(drawing: SourceFile) -> Iterator[tuple[str, int]]:
    """Give each number with a unit that a reader sees or hears, and its index in the text."""
    for words in _SHOWN.finditer(drawing.text):
        for number in _NUMBER.finditer(words[1]):
            yield number[0], words.start(1) + number.start()


def _claims(drawing: SourceFile) -> Iterator[_Claim]:
    for metadata in _METADATA.finditer(drawing.text):
        for line in _LINE.finditer(metadata[1]):
            shown, _, given_by = line[0].strip().partition(": ")
            indent = len(line[0]) - len(line[0].lstrip())
            yield _Claim(shown, given_by.strip(), metadata.start(1) + line.start() + indent)


def _follow(claim: _Claim, shown: Mapping[str, int], draft: Draft) -> None:
    """Do nothing where a line holds. Raises _Wrong."""
    if not claim.given_by:
        raise _Wrong('no ": " stands between what is shown and what gives it')
    first, _, rest = claim.given_by.partition(" ")
    if claim.shown == "sources" or first == "source":
        for name in claim.given_by.removeprefix("source ").split():
            _known(name, draft.sources, "source", "sources" not in draft.unread)
    if claim.shown == "sources":
        return
    if claim.shown not in shown:
        raise _Wrong(
            f'no words of the drawing show "{claim.shown}"', "Take the line out, or write the number as shown."
        )
    if first == "source":
        return
    name, _, field = first.partition(".")
    if name in draft.unread:
        return
    if name in draft.data:
        given = _of_table(name, field, rest, draft)
    elif draft.formulas:
        given = _of_formula(name, field, rest, draft.formulas)
    else:
        return
    if given != claim.shown:
        raise _Wrong(f'the drawing shows "{claim.shown}", and {claim.given_by} gives "{given}"', f'Show "{given}".')


def _known(name: str, known: Iterable[str], kind: str, read: bool = True) -> None:
    if read and name not in known:
        raise _Wrong(f'"{name}" is no {kind}', did_you_mean(name, known, _HOW))


def _of_table(name: str, field: str, row: str, draft: Draft) -> str:
    _known(row, draft.data[name], f"row of {name}")
    key = field.replace("-", "_")
    return _written(key, getattr(draft.data[name][row], key, None), f"the table {name}")


def _of_formula(name: str, field: str, assignments: str, formulas: Mapping[str, Formula]) -> str:
    _known(name, formulas, "formula or data table")
    formula = formulas[name]
    given = {key: value for key, _, value in (each.partition("=") for each in assignments.split())}
    taken = validate(formula, given)
    if taken.errors:
        raise _Wrong(f"{name}: {' '.join(taken.errors.values())}".rstrip("."))
    values = {**taken.values, **reckon(formula, taken.values).outputs}
    _known(field, values, f"input or output of {name}")
    return _written(field, values[field], name)


def _written(field: str, value: object, giver: str) -> str:
    """Write a number with the unit that its name ends in, as the pages do."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not _MEASURED.search(field):
        raise _Wrong(f'"{field}" is no number with a unit in {giver}')
    return quantity(value, unit_of(field).symbol)
