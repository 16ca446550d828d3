"""Data tables as formulas take them: those that one needs, the rows of a table, and rows as choices to pick from."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from build_tools.formulas.definition import Choice
from build_tools.model.data import Data, DataRow

R = TypeVar("R", bound=DataRow)


def only(data: Data, *names: str) -> Data:
    """Give these tables alone."""
    return {name: data[name] for name in names}


def rows(data: Data, name: str, kind: type[R]) -> tuple[R, ...]:
    """Give the rows of a table in the order of its file; `kind` is the record that they are."""
    return tuple(row for row in data[name].values() if isinstance(row, kind))


def choices_of(table: Iterable[DataRow]) -> tuple[Choice, ...]:
    """Give the rows of a table as what can be picked in an input."""
    return tuple(Choice(row.id, row.label) for row in table)
