"""Data tables as the formulas use them: rows as named tuples, which print as constants, and as choices to pick from."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple, Protocol, TypeVar, get_args, get_type_hints

from build_tools.formulas.definition import Choice
from build_tools.sources.data_tables import own_data

R = TypeVar("R", bound=NamedTuple)


class Named(Protocol):
    """A row that can be picked."""

    @property
    def id(self) -> str:
        """Its id in the table."""

    @property
    def label(self) -> str:
        """What it is called in a list."""


def rows(name: str, kind: type[R]) -> tuple[R, ...]:
    """Give the rows of a data table, in the order of its file, with the fields that `kind` names.

    `kind` is a named tuple whose fields are named as in the table's model, `id` for the row's own name; rows
    inside rows become the named tuple that the field's type says. FaultyTables where a table cannot be used.
    """
    return tuple(_record(kind, row, id=key) for key, row in own_data()[name].items())


def _record(kind: type[R], row: object, **more: str) -> R:
    hints = get_type_hints(kind)
    given = {
        **more,
        **{field: _value(hints[field], getattr(row, field)) for field in kind._fields if field not in more},
    }
    return kind._make(given[field] for field in kind._fields)


def _value(kind: Any, value: Any) -> Any:
    """Turn records inside a row into named tuples, and leave what is plain."""
    if isinstance(value, tuple):
        inner = get_args(kind)[0]
        return tuple(_value(inner, each) for each in value)
    return _record(kind, value) if hasattr(kind, "_fields") else value


def choices_of(table: Iterable[Named]) -> tuple[Choice, ...]:
    """Give the rows of a table as what can be picked in an input."""
    return tuple(Choice(row.id, row.label) for row in table)
