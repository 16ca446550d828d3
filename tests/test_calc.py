"""The shell's calc: what it prints, as text and as JSON, and what it says of wrong use."""

from __future__ import annotations

import json
import shlex
from dataclasses import replace

import pytest
from own_tables import FORMULAS

from build_tools.formulas import Formula
from build_tools.formulas.definition import Choice, choice
from build_tools.shell.calc import CannotReckon, explain_text, list_text, run_json, run_text


def test_list_names_every_formula_with_its_purpose() -> None:
    lines = list_text(FORMULAS).splitlines()
    for name, formula in FORMULAS.items():
        assert any(line.split()[0] == name and line.endswith(formula.purpose) for line in lines if line)


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())
def test_explanation_holds_all_that_a_reader_needs(formula: Formula) -> None:
    text = explain_text(formula)
    named = [*formula.inputs, *formula.outputs]
    assert all(f"  {entry.name}: {entry.label}" in text for entry in named)
    assert all(f"  {code}: {sentence}" in text for code, sentence in formula.verdicts.items())
    assert formula.limits in text and all(source in text for source in formula.sources)


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())
def test_example_of_the_explanation_runs(formula: Formula) -> None:
    name, *assignments = explain_text(formula).rpartition("For example: calc ")[2].splitlines()[0].split(" ", 1)
    assignments = shlex.split(assignments[0])
    assert name == formula.id
    assert json.loads(run_json(formula, assignments))["verdict"] in (formula.verdicts or (None,))


def test_explanation_says_range_default_and_option() -> None:
    text = explain_text(FORMULAS["pitch"])
    assert "rise_mm: Rise, 0 to 20000 mm\n" in text
    assert "run_mm: Run, 100 to 20000 mm; 1000 if left out\n" in text
    assert "least_pitch_deg: Declared least pitch, 0 to 60°; may be left out\n" in text


def test_json_of_a_run() -> None:
    assert json.loads(run_json(FORMULAS["sheet-lap"], ["pitch_deg=15", "measured_lap_mm=260"])) == {
        "name": "sheet-lap",
        "inputs": {"pitch_deg": 15.0, "measured_lap_mm": 260.0, "metal": "lead", "declared_lap_mm": None},
        "outputs": {"lap_mm": 290},
        "verdict": "short",
        "working": [
            "75 mm ÷ sin 15° = 289.8 mm.",
            "Never under 150 mm, and up to the next 5 mm: 290 mm.",
            "Measured 260 mm: 30 mm short.",
        ],
        "sources": ["lead-lap-rule", "common-practice"],
    }


def test_text_of_a_run() -> None:
    text = run_text(FORMULAS["dew-point"], ["temperature_c=20", "relative_humidity_percent=60", "surface_c=8,5"])
    assert "Dew point: 12.01 °C\nHumidity at the surface: 100%\n\nwets: Water forms on this surface" in text


def test_text_without_an_answer_or_a_verdict() -> None:
    assert "Lap needed: none\n\ntoo-flat: " in run_text(FORMULAS["sheet-lap"], ["pitch_deg=5"])
    without = run_text(FORMULAS["sheet-lap"], ["pitch_deg=22"])
    assert "Lap needed: 205 mm\n\nWorking:\n" in without


@pytest.mark.parametrize(
    ("assignments", "sentences"),
    [
        ([], "pitch_deg: Pitch at which the sheet lies: write a number of degrees."),
        (
            ["22"],
            "“22” is not input=value. Write calc sheet-lap pitch_deg=… measured_lap_mm=… metal=… declared_lap_mm=…",
        ),
        (["pitch_deg=22", "pitch_deg=23"], "pitch_deg is given twice. Give it once."),
        (
            ["pitch_deg=220", "measured_lap_mm=x"],
            "pitch_deg: Pitch at which the sheet lies: it has to be from 0 to 90°. Look at the number again.\n"
            "measured_lap_mm: Lap you measured: “x” is not a number. Write it like 17.5 or 17,5, without the unit.",
        ),
    ],
)
def test_wrong_use_gives_plain_sentences(assignments: list[str], sentences: str) -> None:
    with pytest.raises(CannotReckon) as wrong:
        run_json(FORMULAS["sheet-lap"], assignments)
    assert str(wrong.value) == sentences


def test_choices_are_explained() -> None:
    spec = choice("nailing", "Nailing", choices=(Choice("centre", "at the centre"),), hint="Look.")
    formula = replace(FORMULAS["sheet-lap"], inputs=(spec,))
    assert "  nailing: Nailing, one of centre (at the centre)\n" in explain_text(formula)
