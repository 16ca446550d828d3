"""Data tables: rows as formulas take them in, their place in a formula's fingerprint, and what a faulty one says."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import NamedTuple

import pytest
from guides import ROOT

from build_tools.formulas import FORMULAS
from build_tools.formulas.tables import choices_of, rows
from build_tools.model import DATA_TABLES, DataRow
from build_tools.sources import data_tables
from build_tools.sources.data_tables import FaultyTables, own_data, read_data, table_path


class Metal(NamedTuple):
    id: str
    label: str
    density_kg_m3: float


class Layer(NamedTuple):
    material: str
    thick_mm: float


class Build(NamedTuple):
    id: str
    layers: tuple[Layer, ...]
    top: Layer
    monthly_c: tuple[float, ...]


def test_rows_hold_the_fields_that_are_asked_for_in_the_order_of_the_file() -> None:
    metals = rows("metals", Metal)
    assert [each.id for each in metals] == list(own_data()["metals"])
    assert metals[0] == ("lead", "Lead", 11340)
    assert choices_of(metals)[0] == ("lead", "Lead")


def test_records_inside_a_row_become_named_tuples(monkeypatch: pytest.MonkeyPatch) -> None:
    layer, top = SimpleNamespace(material="board", thick_mm=12.5), SimpleNamespace(material="slate", thick_mm=6)
    row = SimpleNamespace(label="Cold roof", layers=(layer,), top=top, monthly_c=(1, 2))
    monkeypatch.setattr("build_tools.formulas.tables.own_data", lambda: {"builds": {"cold": row}})
    assert rows("builds", Build) == (Build("cold", (Layer("board", 12.5),), Layer("slate", 6), (1, 2)),)


def test_a_changed_row_changes_the_formula_that_reckons_with_it(monkeypatch: pytest.MonkeyPatch) -> None:
    with_metals = replace(FORMULAS["sheet-lap"], tables=("metals",))
    before, other = with_metals.fingerprint(), FORMULAS["sheet-lap"].fingerprint()
    metals = {**own_data()["metals"]}
    metals["lead"] = metals["lead"].model_copy(update={"note": "Another note."})
    monkeypatch.setattr("build_tools.formulas.definition.own_data", lambda: {"metals": metals})
    assert with_metals.fingerprint() != before
    assert FORMULAS["sheet-lap"].fingerprint() == other


def test_sources_of_its_tables_are_sources_of_a_formula() -> None:
    assert replace(FORMULAS["sheet-lap"], tables=("metals",)).all_sources == (
        "lead-lap-rule",
        "common-practice",
        "metal-properties",
    )


@pytest.mark.parametrize("name", DATA_TABLES)
def test_every_number_of_a_table_has_a_head_and_a_unit(name: str) -> None:
    for field, info in DATA_TABLES[name].model_fields.items():
        assert field in DataRow.model_fields or info.title, f"{name}: {field} has no title for its column"


def write(root: Path, name: str, text: str) -> None:
    path = root / table_path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def test_problems_of_all_tables_are_carried_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kinds = {name: data_tables.DATA["metals"] for name in ("metals", "other-metals", "no-metals")}
    monkeypatch.setattr(data_tables, "DATA", kinds)
    monkeypatch.setattr(data_tables, "DATA_TABLES", kinds)
    write(tmp_path, "metals", "lead:\n  label: Lead\n")
    write(tmp_path, "other-metals", "lead\n")
    with pytest.raises(FaultyTables) as faulty:
        read_data(tmp_path)
    told = [(each.code, each.place.path) for each in faulty.value.problems]
    assert told == [
        ("missing-key", "trees/tables/metals.yaml"),
        ("missing-file", "trees/tables/no-metals.yaml"),
        ("wrong-value", "trees/tables/other-metals.yaml"),
    ]
    assert set(faulty.value.sources) == {"trees/tables/metals.yaml", "trees/tables/other-metals.yaml"}


@pytest.fixture(scope="module")
def faulty_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the program and its sources in which a row of a data table lacks a number."""
    root = tmp_path_factory.mktemp("faulty")
    for folder in ("build_tools", "trees", "guide"):
        shutil.copytree(ROOT / folder, root / folder, ignore=shutil.ignore_patterns("__pycache__"))
    # Whatever formulas there are: one of them takes in a table when it is imported.
    with (root / "build_tools/formulas/__init__.py").open("a", encoding="utf-8") as package:
        package.write("from build_tools.sources.data_tables import own_data\n\nown_data()\n")
    lines = (root / table_path("metals")).read_text(encoding="utf-8").splitlines(keepends=True)
    write(root, "metals", "".join(line for line in lines if "11340" not in line))
    return root


def run(root: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *arguments], cwd=root, capture_output=True, text=True, check=False)


def test_check_reports_a_faulty_table_in_the_chosen_format(faulty_project: Path) -> None:
    text = run(faulty_project, "build_tools", "check")
    assert (text.returncode, text.stderr) == (1, "")
    assert text.stdout.startswith('trees/tables/metals.yaml:1:1: error: "density-kg-m3" is missing in "lead".')
    told = json.loads(run(faulty_project, "build_tools", "check", "--format", "json").stdout)
    assert "trees/tables/metals.yaml" in json.dumps(told)


@pytest.mark.parametrize(
    "arguments",
    [
        ("calc", "pitch"),
        ("build",),
        ("calc", "pitch", "rise_mm=1", "--format", "json"),
        ("walk", "start-here"),
        ("record",),
    ],
)
def test_other_commands_say_it_and_end(faulty_project: Path, arguments: tuple[str, ...]) -> None:
    said = run(faulty_project, "build_tools", *arguments)
    assert (said.returncode, said.stdout) == (1, "")
    assert said.stderr.startswith('trees/tables/metals.yaml:1:1: error: "density-kg-m3" is missing in "lead".')
