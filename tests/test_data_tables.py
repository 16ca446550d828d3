"""Data tables: rows as formulas take them, their place in a formula's fingerprint, and what a faulty one says."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from guides import ROOT, edit
from own_tables import DATA, FORMULAS

from build_tools import javascript
from build_tools.formulas import formulas_of
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.guide.formula_views import formula_view
from build_tools.guide.pages import guide_view
from build_tools.model import DATA_TABLES, DataRow
from build_tools.model.data import Metal
from build_tools.proof.checks import check
from build_tools.site.render import Renderer
from build_tools.sources import data_tables
from build_tools.sources.data_tables import NOT_THERE, FaultyTables, read_data, table_path


def test_rows_know_their_ids_and_stand_in_the_order_of_the_file() -> None:
    metals = rows(DATA, "metals", Metal)
    assert [each.id for each in metals] == list(DATA["metals"])
    assert metals[0].density_kg_m3 == 11340
    assert choices_of(metals)[0] == ("lead", "Lead")


def test_a_changed_row_changes_the_formula_that_reckons_with_it() -> None:
    lead = DATA["metals"]["lead"].model_copy(update={"note": "Another note."})
    noted = formulas_of({**DATA, "metals": {**DATA["metals"], "lead": lead}})
    changed = {name for name, each in noted.items() if each.fingerprint() != FORMULAS[name].fingerprint()}
    assert changed == {"sheet-mass", "thermal-movement"}


def test_sources_of_its_tables_are_sources_of_a_formula() -> None:
    assert replace(FORMULAS["sheet-lap"], tables=only(DATA, "metals")).all_sources == (
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


@pytest.fixture
def faulty(good: Path) -> Path:
    """A guide in which a row of a data table lacks a number."""
    edit(good, table_path("metals"), "  density-kg-m3: 11340\n", "")
    return good


def run(root: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    call = [sys.executable, "-m", "build_tools", "--root", str(root), *arguments]
    return subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=False)


MISSING = '"density-kg-m3" is missing in "lead"'


def test_check_tells_a_faulty_table_with_all_else_that_is_wrong(faulty: Path) -> None:
    edit(faulty, "trees/potting-shed.yaml", "starts-at: drip-in-rain", "starts-at: drip-in-rein")
    text = run(faulty, "check")
    assert (text.returncode, text.stderr) == (1, "")
    assert MISSING in text.stdout and "drip-in-rein" in text.stdout
    assert text.stdout.rstrip().endswith("2 errors, 0 warnings.")


@pytest.mark.parametrize(
    "arguments",
    [
        ("calc", "pitch"),
        ("build",),
        ("calc", "pitch", "rise_mm=1", "--format", "json"),
        ("walk", "potting-shed"),
        ("take-off", "catch-the-drip"),
    ],
)
def test_other_commands_say_it_and_end(faulty: Path, arguments: tuple[str, ...]) -> None:
    said = run(faulty, *arguments)
    assert (said.returncode, said.stdout) == (1, "")
    assert MISSING in said.stderr and "Traceback" not in said.stderr


def test_missing_table_is_told_once(good: Path) -> None:
    (good / table_path("metals")).unlink()
    told = [each for each in check(good).problems if each.code != "version-not-raised"]
    assert [(each.code, each.place.path, each.what) for each in told] == [
        ("missing-file", table_path("metals"), NOT_THERE[0])
    ]


def test_row_that_formulas_begin_with_is_missed(good: Path) -> None:
    edit(good, table_path("metals"), "lead:\n", "led:\n")
    edit(good, table_path("climates"), "england:\n", "wales:\n")
    told = [each for each in check(good).problems if each.code != "version-not-raised"]
    assert [(each.code, each.place.path) for each in told] == [
        ("missing-key", table_path("climates")),
        ("missing-key", table_path("metals")),
    ]
    assert told[1].what.startswith('the formula "thermal-movement" begins with "lead"')


def test_numbers_of_another_root_are_calculated_with_and_shown(good: Path) -> None:
    edit(good, table_path("metals"), "density-kg-m3: 11340", "density-kg-m3: 5000")
    sizes = ("sheet=code-4", "width_mm=1000", "length_mm=1000")
    assert "A square metre: 9 kg/m²" in run(good, "calc", "sheet-mass", *sizes).stdout
    checked = check(good)
    assert {each.code for each in checked.problems} <= {"version-not-raised"}
    assert checked.guide
    guide = guide_view(checked.guide)
    page = Renderer(ROOT / "site_overrides", {}, dict(guide.sources)).page
    view = formula_view(guide, guide.formulas["sheet-mass"])
    html = page("reckon_page.html", "../", guide=guide, view=view)
    assert "<td>5000</td>" in html and "11340" not in html
    assert "density_kg_m3: 5000.0" in javascript.program(guide.formulas)
