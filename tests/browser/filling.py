"""Forms filled in as a reader would: a number by its name, a list line by line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from playwright.sync_api import Locator

from build_tools.formulas import Formula, Input


def fill(form: Locator, formula: Formula, values: Mapping[str, Any]) -> None:
    """Type, pick and list values in a form, as a reader would; a number by its name, a list line by line."""
    for spec in formula.inputs:
        if spec.name in values and spec.columns:
            fill_lines(form.locator(f"[data-rows={spec.name}]"), spec, values[spec.name])
        elif spec.name in values:
            put(form.locator(f"[name={spec.name}]"), values[spec.name])


def fill_lines(listed: Locator, spec: Input, lines: Sequence[Sequence[Any]]) -> None:
    rows = listed.locator("[data-lines] > li")
    while rows.count() < len(lines):
        listed.get_by_role("button", name="Add a line").click()
    while rows.count() > len(lines):
        rows.last.get_by_role("button", name="Take out").click()
    for number, line in enumerate(lines):
        for column, cell in zip(spec.columns, line, strict=True):
            put(rows.nth(number).locator(f"[data-cell={column.name}]").locator("input, select"), cell)


def put(field: Locator, value: Any) -> None:
    text = "" if value is None else str(value)
    if field.evaluate("(field) => field.localName") == "select":
        field.select_option(text)
    else:
        field.fill(text)
