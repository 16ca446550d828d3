"""Formulas to the views of their pages: the data tables they reckon with, and where the guide uses them."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_lowercase
from typing import Any

from pydantic import BaseModel

from build_tools.formulas import Formula
from build_tools.formulas.definition import Unit, unit_of
from build_tools.formulas.numbers import quantity
from build_tools.guide.views import GuideView, RemedyView
from build_tools.model import DATA_TABLES, DataRow, Material
from build_tools.model.data import Rows
from build_tools.proof.take_off import TAKE_OFF


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of a data table."""

    label: str
    cells: tuple[str, ...]
    source: str
    mark: str
    """The letter of its source below the table."""
    note: str | None


@dataclass(frozen=True, slots=True)
class TableView:
    """A data table; a column of numbers has its unit in its head, other numbers have theirs beside them."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[RowView, ...]
    sources: tuple[tuple[str, str], ...]
    """Letter and id of each source, once."""


@dataclass(frozen=True, slots=True)
class UseView:
    """A step of a tree that measures by the formula."""

    question: str
    tree: str
    """The title of its tree."""
    address: str


@dataclass(frozen=True, slots=True)
class FormulaView:
    """A formula with all that its page shows beside the form."""

    formula: Formula
    tables: tuple[TableView, ...]
    steps: tuple[UseView, ...]
    remedies: tuple[RemedyView, ...]


def formula_view(guide: GuideView, formula: Formula) -> FormulaView:
    """Gather what the page of a formula shows."""
    uses = (
        UseView(step.title, tree.tree.title, f"walk/{tree.id}.html#{step.id}")
        for tree in guide.trees
        for step in tree.steps
        if step.formula and step.formula.id == formula.id
    )
    named = (each for each in guide.remedies if any(_reckons(item, formula) for item in each.remedy.materials))
    return FormulaView(formula, tuple(table_view(*each) for each in formula.tables.items()), tuple(uses), tuple(named))


def _reckons(material: Material, formula: Formula) -> bool:
    return material.formula == formula.id or (material.take_off is not None and formula.id == TAKE_OFF)


def table_view(name: str, table: Rows) -> TableView:
    """Show a data table."""
    fields = {key: each for key, each in DATA_TABLES[name].model_fields.items() if key not in DataRow.model_fields}
    rows = table.values()
    marks = dict(zip(dict.fromkeys(row.source for row in rows), ascii_lowercase, strict=False))
    plain = {key for key in fields if all(isinstance(getattr(row, key), int | float | None) for row in rows)}
    units = {key: f", {_unit(key).symbol}" if key in plain and _unit(key).symbol else "" for key in fields}
    return TableView(
        title=name.replace("-", " ").capitalize(),
        heads=tuple(f"{each.title or key}{units[key]}" for key, each in fields.items()),
        rows=tuple(
            RowView(
                row.label,
                tuple(_cell("" if key in plain else key, getattr(row, key)) for key in fields),
                row.source,
                marks[row.source],
                row.note,
            )
            for row in rows
        ),
        sources=tuple((mark, source) for source, mark in marks.items()),
    )


def _cell(key: str, value: Any) -> str:
    """Write one value with the unit that its key ends in."""
    if value is None or value == ():
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return quantity(value, _unit(key).symbol)
    if isinstance(value, tuple):
        return "; ".join(_cell(key, each) for each in value)
    if isinstance(value, BaseModel):
        return " ".join(_cell(name, getattr(value, name)) for name in type(value).model_fields)
    return str(value)


def _unit(key: str) -> Unit:
    """Give the unit of a number; a plain factor has none."""
    try:
        return unit_of(key)
    except ValueError:
        return Unit("", "")
