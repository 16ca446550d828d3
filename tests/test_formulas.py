"""All formulas alike: their docstrings as data, their examples, and what any allowed values give.

What belongs to one subject stands in tests/formulas/.
"""

from __future__ import annotations

import doctest
import importlib
import inspect
import json
import pkgutil
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from guides import ROOT, edit
from hypothesis import given
from hypothesis import strategies as st
from made_values import values_of
from own_tables import DATA, FORMULAS, ROWS

from build_tools import formulas
from build_tools.formulas import MODULES, Formula, by_subject, formulas_of, reckon, validate
from build_tools.formulas import drawing as shapes
from build_tools.formulas.definition import UNITS, Input, Output, unit_of
from build_tools.formulas.docstrings import docstring, section
from build_tools.formulas.sheet import sheets
from build_tools.javascript import program

MODULE_NAMES = [each.name for each in pkgutil.walk_packages(formulas.__path__, f"{formulas.__name__}.")]

EVERY = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())


@EVERY
def test_docstring_has_its_sections_in_order(formula: Formula) -> None:
    heads = re.findall(r"^(\w+):$", docstring(formula.function), re.MULTILINE)
    assert heads == ["Args", "Returns", "Source", "Limits", "Example"]
    assert formula.purpose.endswith(".") and formula.limits.endswith(".")


@EVERY
@pytest.mark.parametrize(("title", "entries"), [("Args", "inputs"), ("Returns", "outputs")])
def test_docstring_describes_every_name_in_its_unit(formula: Formula, title: str, entries: str) -> None:
    lines = section(formula.function, title)
    described = [re.findall(r"^(\w+): \[(\w+)\] .+\.$", line)[0] for line in lines]
    assert described == [(entry.name, bracket_of(entry)) for entry in getattr(formula, entries)]


def bracket_of(entry: Input | Output) -> str:
    """Give what stands in brackets before a description: the unit as the name has it, or the kind of input."""
    if isinstance(entry, Input) and entry.kind != "number":
        return entry.kind
    return max((suffix for suffix in UNITS if entry.name.endswith(f"_{suffix}")), key=len)


@EVERY
def test_columns_of_a_list_are_named_in_their_units(formula: Formula) -> None:
    columns = [column for spec in formula.inputs for column in spec.columns]
    assert all(column.kind == "choice" or unit_of(column.name) == column.unit for column in columns)
    assert all(column.kind != "rows" for column in columns), "a list holds no lists"


@EVERY
def test_arguments_are_the_inputs_in_order(formula: Formula) -> None:
    assert list(inspect.signature(formula.function).parameters) == [spec.name for spec in formula.inputs]


@EVERY
def test_sources_are_in_the_table(formula: Formula, request: pytest.FixtureRequest) -> None:
    table = yaml.safe_load((request.config.rootpath / "trees/tables/sources.yaml").read_text())
    assert set(formula.all_sources) <= set(table)


@pytest.mark.parametrize("name", MODULE_NAMES)
def test_examples_in_docstrings_hold(name: str) -> None:
    module = importlib.import_module(name)
    found = doctest.testmod(module, extraglobs=ROWS)
    assert found.failed == 0 and found.attempted >= callable(getattr(module, "formula", None))


def test_every_module_with_formulas_is_on_the_list() -> None:
    defining = {name for name in MODULE_NAMES if callable(getattr(importlib.import_module(name), "formula", None))}
    assert {module.__name__ for module in MODULES} == defining
    assert len(FORMULAS) == len(MODULES), "two formulas have the same id"


def test_formulas_stand_in_the_order_of_their_subjects() -> None:
    assert [each.id for group in by_subject(FORMULAS).values() for each in group] == list(FORMULAS)


def test_a_formula_of_no_subject_is_refused() -> None:
    with pytest.raises(ValueError, match="sheet-lap is about “cheese”; the subjects are covering, "):
        replace(FORMULAS["sheet-lap"], subject="cheese")


@EVERY
def test_data_tables_that_it_reckons_with_are_stated(formula: Formula) -> None:
    handed = {id(row) for each in (formula.function, formula.draw) for row in rows_handed_to(each)}
    used = {name for name, table in DATA.items() if any(id(row) in handed for row in table.values())}
    offered = {
        name
        for spec in (*formula.inputs, *(c for each in formula.inputs for c in each.columns))
        for name, table in DATA.items()
        if set(table) <= {choice.value for choice in spec.choices}
    }
    assert used <= set(formula.tables) <= set(DATA)
    assert offered <= set(formula.tables)


def rows_handed_to(function: object) -> list[object]:
    return [row for table in function.args for row in table] if isinstance(function, partial) else []


def test_number_of_another_table_is_the_number_that_is_calculated_with() -> None:
    lead = DATA["metals"]["lead"].model_copy(update={"density_kg_m3": 5000.0})
    other = formulas_of({**DATA, "metals": {**DATA["metals"], "lead": lead}})
    sizes = {"sheet": "code-4", "width_mm": 1000, "length_mm": 1000}
    found = [reckon(all_of["sheet-mass"], validate(all_of["sheet-mass"], sizes).values) for all_of in (FORMULAS, other)]
    assert [each.outputs["mass_kg_m2"] for each in found] == [20.42, 9.0]
    assert "density_kg_m3: 5000.0" in program(other) and "density_kg_m3: 5000.0" not in program(FORMULAS)


@EVERY
def test_by_hand_rows_fit_their_heads(formula: Formula) -> None:
    assert formula.by_hand.rule
    assert {len(row) for row in formula.by_hand.rows} == {len(formula.by_hand.heads)}


@EVERY
@given(data=st.data())
def test_any_allowed_values_give_stated_outputs_and_a_verdict_where_no_input_is_left_out(
    formula: Formula, data: st.DataObject
) -> None:
    values = data.draw(values_of(formula))
    result = reckon(formula, values)
    assert list(result.outputs) == [entry.name for entry in formula.outputs]
    assert result.verdict is None or result.verdict in formula.verdicts
    assert result.working and all(result.working)
    for entry in formula.outputs:
        value = result.outputs[entry.name]
        assert value is None or value == pytest.approx(round(value / entry.step) * entry.step, rel=1e-12, abs=1e-12)
    decided = None not in values.values() and bool(formula.verdicts)
    assert not decided or result.verdict is not None


@EVERY
def test_example_reaches_a_verdict(formula: Formula) -> None:
    taken = validate(formula, formula.example)
    assert not taken.errors
    assert reckon(formula, taken.values).verdict in (formula.verdicts or {None: "It gives numbers and no verdict."})


def test_fingerprint_changes_with_what_a_formula_says_and_does(monkeypatch: pytest.MonkeyPatch) -> None:
    formula = FORMULAS["sheet-lap"]
    before = formula.fingerprint()
    assert formula.fingerprint() == before
    monkeypatch.setattr(sheets, "LEAST_LAP_MM", 151)
    assert formula.fingerprint() != before


def test_text_in_a_drawing_is_shown_letter_by_letter_and_is_no_markup() -> None:
    said = 'board <b onclick="x">&amp;'
    for drawn in (shapes.label(0, 0, "start", 0, said), shapes.picture(1, 1, said, "")):
        svg = ElementTree.fromstring(drawn)
        assert (svg.text or svg.get("aria-label")) == said
        assert list(svg) == []


WRITTEN_OTHERWISE = (
    ("numbers.py", "    parts = 1\n    for _ in", "    # A remark.\n    parts = (\n        1\n    )\n\n    for _ in"),
    ("numbers.py", '"""Write a number to so many decimals,', '"""Write it to so many decimals,'),
    ("sheet/sheets.py", "LEAST_LAP_MM = 150\n", 'LEAST_LAP_MM  =  150  # the rule\n"""As it is."""\n'),
)
"""Comments, layout, a docstring that no reader gets: a formula reckons and says the same."""
CHANGED = (
    ("sheet/sheets.py", "LEAST_LAP_MM = 150\n", "LEAST_LAP_MM = 160\n"),
    ("sheet/sheets.py", "LEAST_LAP_MM = 150\n", "LEAST_LAP_MM = 150\nif LEAST_LAP_MM:\n    LEAST_LAP_MM = 50\n"),
    ("numbers.py", "abs(value) * parts * (1 + TOLERANCE / 1000) + 0.5", "abs(value) * parts + 0.5"),
    ("sheet/sheets.py", "The rule is for lead sheet.", "It is for lead sheet."),
    ("sheet/sheets.py", "        common-practice: other sheet", "        hearsay: other sheet"),
    ("sheet/sheets.py", "Lay a small level", "Hold a small level"),
)


def fingerprints_with(tmp_path: Path, *edits: tuple[str, str, str]) -> dict[str, str]:
    """Give the fingerprints of a copy of the program, run by itself, after so many edits of its formulas."""
    shutil.copytree(ROOT / "build_tools", tmp_path / "build_tools", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(ROOT / "trees" / "tables", tmp_path / "trees" / "tables")
    for name, old, new in edits:
        edit(tmp_path, f"build_tools/formulas/{name}", old, new)
    ask = "import json; from pathlib import Path; from build_tools.formulas import formulas_of; "
    ask += "from build_tools.sources.data_tables import read_data; all = formulas_of(read_data(Path())); "
    ask += "print(json.dumps({name: each.fingerprint() for name, each in all.items()}))"
    done = subprocess.run([sys.executable, "-B", "-c", ask], cwd=tmp_path, check=True, capture_output=True, text=True)
    return dict(json.loads(done.stdout))


def test_fingerprint_stays_when_code_is_only_written_otherwise(tmp_path: Path) -> None:
    now = {name: formula.fingerprint() for name, formula in FORMULAS.items()}
    assert fingerprints_with(tmp_path, *WRITTEN_OTHERWISE) == now


@pytest.mark.parametrize("change", CHANGED)
def test_fingerprint_changes_with_what_a_reader_gets(tmp_path: Path, change: tuple[str, str, str]) -> None:
    assert fingerprints_with(tmp_path, change)["sheet-lap"] != FORMULAS["sheet-lap"].fingerprint()
