"""The formulas: their docstrings as data, their invariants, reference libraries, and what a reader may type."""

from __future__ import annotations

import doctest
import inspect
import math
import re
from decimal import Decimal
from types import ModuleType

import psychrolib
import pytest
import yaml
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas import FORMULAS, Formula, moisture, reckon, sheets, slope, validate, validate_given
from build_tools.formulas.definition import UNITS, Choice, choice, number, section, unit_of
from build_tools.formulas.moisture import dew_point, full_at_c, saturation_pressure_pa
from build_tools.formulas.numbers import figure, quantity, read_number, round_down, round_up
from build_tools.formulas.sheets import sheet_lap
from build_tools.formulas.slope import pitch
from build_tools.formulas.validation import check_raw

EVERY = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())


def values_of(formula: Formula) -> st.SearchStrategy[dict[str, float | None]]:
    """Make every set of values that the limits of a formula's inputs allow."""
    return st.fixed_dictionaries(
        {
            spec.name: st.floats(spec.low, spec.high) | (st.none() if spec.optional else st.nothing())
            for spec in formula.inputs
        }
    )


@EVERY
def test_docstring_has_its_sections_in_order(formula: Formula) -> None:
    heads = re.findall(r"^(\w+):$", inspect.getdoc(formula.function) or "", re.MULTILINE)
    assert heads == ["Args", "Returns", "Source", "Limits", "Example"]
    assert formula.purpose.endswith(".") and formula.limits.endswith(".")


@EVERY
@pytest.mark.parametrize(("title", "entries"), [("Args", "inputs"), ("Returns", "outputs")])
def test_docstring_describes_every_name_in_its_unit(formula: Formula, title: str, entries: str) -> None:
    lines = section(formula.function, title)
    described = [re.findall(r"^(\w+): \[(\w+)\] .+\.$", line)[0] for line in lines]
    assert [name for name, _ in described] == [entry.name for entry in getattr(formula, entries)]
    assert all(unit_of(name) == UNITS[suffix] for name, suffix in described)


@EVERY
def test_arguments_are_the_inputs_in_order(formula: Formula) -> None:
    assert list(inspect.signature(formula.function).parameters) == [spec.name for spec in formula.inputs]


@EVERY
def test_sources_are_in_the_table(formula: Formula, request: pytest.FixtureRequest) -> None:
    table = yaml.safe_load((request.config.rootpath / "trees/tables/sources.yaml").read_text())
    assert set(formula.sources) <= set(table)


@pytest.mark.parametrize("module", [moisture, sheets, slope], ids=lambda module: module.__name__)
def test_examples_in_docstrings_hold(module: ModuleType) -> None:
    found = doctest.testmod(module)
    assert found.attempted > 0 and found.failed == 0


@EVERY
def test_by_hand_rows_fit_their_heads(formula: Formula) -> None:
    assert formula.by_hand.rule
    assert {len(row) for row in formula.by_hand.rows} == {len(formula.by_hand.heads)}


@EVERY
@given(data=st.data())
def test_any_allowed_values_give_stated_outputs_and_verdicts(formula: Formula, data: st.DataObject) -> None:
    result = reckon(formula, data.draw(values_of(formula)))
    assert list(result.outputs) == [entry.name for entry in formula.outputs]
    assert result.verdict is None or result.verdict in formula.verdicts
    assert result.working and all(result.working)
    for entry in formula.outputs:
        value = result.outputs[entry.name]
        assert value is None or value == pytest.approx(round(value / entry.step) * entry.step, rel=1e-12, abs=1e-12)


@EVERY
@given(data=st.data())
def test_verdict_is_none_only_where_an_optional_input_was_left_out(formula: Formula, data: st.DataObject) -> None:
    values = data.draw(values_of(formula))
    if None not in values.values():
        assert reckon(formula, values).verdict is not None


@EVERY
def test_example_reaches_a_verdict(formula: Formula) -> None:
    taken = validate(formula, formula.example)
    assert not taken.errors
    assert reckon(formula, taken.values).verdict in formula.verdicts


def test_fingerprint_changes_with_what_a_formula_says_and_does(monkeypatch: pytest.MonkeyPatch) -> None:
    formula = FORMULAS["sheet-lap"]
    before = formula.fingerprint()
    assert formula.fingerprint() == before
    monkeypatch.setattr(sheets, "LEAST_LAP_MM", 151)
    assert formula.fingerprint() != before


# --- sheet-lap


@given(st.floats(11, 90), st.floats(11, 90))
def test_flatter_roof_never_needs_a_shorter_lap(one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert sheet_lap(flat, None).outputs["lap_mm"] >= sheet_lap(steep, None).outputs["lap_mm"] >= 150


@given(st.floats(11, 90))
def test_lap_gains_its_height_and_no_more_than_a_step_over(pitch_deg: float) -> None:
    lap_mm = sheet_lap(pitch_deg, None).outputs["lap_mm"]
    exact_mm = max(150, 75 / math.sin(math.radians(pitch_deg)))
    assert exact_mm * (1 - 1e-8) <= lap_mm < exact_mm + 5


@given(st.floats(0, 90), st.floats(0, 2000), st.floats(0, 2000))
def test_longer_lap_is_never_worse(pitch_deg: float, one: float, other: float) -> None:
    order = ["too-flat", "short", "enough"]
    shorter, longer = sorted((one, other))
    verdicts = [sheet_lap(pitch_deg, lap).verdict for lap in (shorter, longer)]
    assert order.index(verdicts[0]) <= order.index(verdicts[1])


@pytest.mark.parametrize(
    ("pitch_deg", "measured_mm", "verdict"),
    [
        (30, 150, "enough"),
        (30, 149.9, "short"),
        (11, 395, "enough"),
        (11, 394, "short"),
        (10.99, 2000, "too-flat"),
        (0, None, "too-flat"),
        (22, None, None),
    ],
)
def test_sheet_lap_verdict(pitch_deg: float, measured_mm: float | None, verdict: str | None) -> None:
    assert sheet_lap(pitch_deg, measured_mm).verdict == verdict


# --- pitch


@given(st.floats(0, 20000), st.floats(100, 20000), st.floats(0, 60))
def test_rounding_never_lifts_a_roof_into_a_better_verdict(rise_mm: float, run_mm: float, least_deg: float) -> None:
    order = ["below", "at-limit", "within"]
    exact_deg = math.degrees(math.atan2(rise_mm, run_mm))
    exact = "below" if exact_deg < least_deg - 1e-7 else "at-limit" if exact_deg <= least_deg + 2 - 1e-7 else "within"
    assert order.index(pitch(rise_mm, run_mm, least_deg).verdict) <= order.index(exact)


@given(st.floats(0, 20000), st.floats(0, 20000), st.floats(100, 20000), st.floats(0, 60))
def test_steeper_roof_is_never_worse(one: float, other: float, run_mm: float, least_deg: float) -> None:
    order = ["below", "at-limit", "within"]
    low, high = sorted((one, other))
    verdicts = [pitch(rise, run_mm, least_deg).verdict for rise in (low, high)]
    assert order.index(verdicts[0]) <= order.index(verdicts[1])


@pytest.mark.parametrize(
    ("pitch_deg", "verdict"),
    [(17.4, "below"), (17.5, "at-limit"), (19.5, "at-limit"), (19.6, "within"), (17.499, "below"), (19.59, "at-limit")],
)
def test_pitch_verdict_at_its_edges(pitch_deg: float, verdict: str | None) -> None:
    assert pitch(1000 * math.tan(math.radians(pitch_deg)), 1000, 17.5).verdict == verdict


def test_pitch_without_a_declared_least_gives_no_verdict() -> None:
    assert pitch(312, 1000, None).verdict is None


# --- dew-point


def test_dew_point_agrees_with_reference_libraries() -> None:
    """Within 0.03 K: the formula of ISO 13788 is simpler than theirs (ASHRAE; IAPWS with the air's own effect).

    The most they were found apart on this grid is 0.023 K, at 0 °C and 30 %, with frost points.
    """
    psychrolib.SetUnitSystem(psychrolib.SI)
    for temperature_c in range(31):
        for percent in range(30, 96, 5):
            found = full_at_c(saturation_pressure_pa(temperature_c) * percent / 100)
            ashrae = psychrolib.GetTDewPointFromRelHum(temperature_c, percent / 100)
            iapws = HAPropsSI("D", "T", 273.15 + temperature_c, "R", percent / 100, "P", 101325) - 273.15
            assert found == pytest.approx(ashrae, abs=0.03)
            assert found == pytest.approx(iapws, abs=0.03)
            shown = dew_point(temperature_c, percent, 60).outputs["dew_point_c"]
            assert -1e-9 <= shown - found <= 0.01


@pytest.mark.parametrize(("temperature_c", "published_pa"), [(20, 2337), (0, 611), (-5, 401)])
def test_saturation_pressure_is_the_published_one(temperature_c: float, published_pa: float) -> None:
    """DIN 4108-3, Table C.1 (reported): whole pascals, so within one."""
    assert saturation_pressure_pa(temperature_c) == pytest.approx(published_pa, abs=1)


@given(st.floats(-20, 50), st.floats(5, 100), st.floats(-20, 60), st.floats(-20, 60))
def test_warmer_surface_is_never_wetter(air_c: float, percent: float, one: float, other: float) -> None:
    order = ["wets", "mould-risk", "dry"]
    cold, warm = sorted((one, other))
    colder, warmer = (dew_point(air_c, percent, surface) for surface in (cold, warm))
    assert order.index(colder.verdict) <= order.index(warmer.verdict)
    assert colder.outputs["surface_humidity_percent"] >= warmer.outputs["surface_humidity_percent"]


@given(st.floats(-20, 50), st.floats(5, 100), st.floats(5, 100), st.floats(-20, 60))
def test_damper_air_is_never_drier_on_a_surface(air_c: float, one: float, other: float, surface_c: float) -> None:
    order = ["dry", "mould-risk", "wets"]
    dry, damp = sorted((one, other))
    verdicts = [dew_point(air_c, percent, surface_c).verdict for percent in (dry, damp)]
    assert order.index(verdicts[0]) <= order.index(verdicts[1])


@given(st.floats(-20, 50))
def test_full_air_has_its_own_temperature_for_dew_point(air_c: float) -> None:
    assert full_at_c(saturation_pressure_pa(air_c)) == pytest.approx(air_c, abs=1e-9)
    assert dew_point(air_c, 100, air_c).verdict == "wets"


@given(st.floats(-20, 50), st.floats(5, 100))
def test_dew_point_is_never_above_the_air(air_c: float, percent: float) -> None:
    assert dew_point(air_c, percent, 20).outputs["dew_point_c"] <= air_c + 0.01 + 1e-9


def test_rule_by_hand_for_mould_holds_over_its_table() -> None:
    """The surface with 80 % lies about three and a half degrees above the dew point all over the table."""
    for air_c in (14, 16, 18, 20, 22, 24):
        for percent in (40, 50, 60, 70, 80):
            held_pa = saturation_pressure_pa(air_c) * percent / 100
            assert full_at_c(held_pa / 0.8) - full_at_c(held_pa) == pytest.approx(3.5, abs=0.5)


# --- numbers


@pytest.mark.parametrize(
    ("value", "step", "up", "down"),
    [
        (75 / math.sin(math.radians(30)), 5, 150, 150),
        (150.0001, 5, 155, 150),
        (17.5, 0.1, 17.5, 17.5),
        (17.46, 0.1, 17.5, 17.4),
        (-0.25, 0.1, -0.2, -0.3),
        (0.1 + 0.2, 0.1, 0.3, 0.3),
        (0, 5, 0, 0),
    ],
)
def test_rounding(value: float, step: float, up: float, down: float) -> None:
    assert (round_up(value, step), round_down(value, step)) == (up, down)


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (0, 2, "0"),
        (-0.001, 2, "0"),
        (2.5, 0, "3"),
        (0.125, 2, "0.13"),
        (1.005, 2, "1.01"),
        (9.999, 2, "10"),
        (10.05, 2, "10.05"),
        (-9.5, 1, "−9.5"),
        (1200, 1, "1200"),
    ],
)
def test_figure(value: float, decimals: int, text: str) -> None:
    assert figure(value, decimals) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 6))
def test_figure_is_within_half_of_its_last_digit(value: float, decimals: int) -> None:
    written = float(figure(value, decimals).replace("−", "-"))
    assert written == pytest.approx(value, rel=1e-11, abs=0.5 * 10**-decimals * (1 + 1e-9))


def test_quantity_sets_degrees_and_percent_close() -> None:
    assert [quantity(65, "%"), quantity(17.5, "°"), quantity(20, "°C"), quantity(200, "mm")] == [
        "65%",
        "17.5°",
        "20 °C",
        "200 mm",
    ]


@given(st.decimals(-100000, 100000, places=6))
def test_a_written_number_is_read_as_python_reads_it(value: Decimal) -> None:
    text = f"{value:f}"
    assert read_number(text).value == float(text)
    assert read_number(f"  {text.replace('-', '−')} ").value == float(text)


@pytest.mark.parametrize("text", ["abc", "1e3", "1.2.3", "1 500", "5-", "--5", "-", ".", "0x10", "nan", "²", "٣"])
def test_what_is_no_number_is_not_read(text: str) -> None:
    assert read_number(text).problem == "no-number"


@pytest.mark.parametrize(("text", "value"), [("17,5", 17.5), (".5", 0.5), ("5.", 5), ("0,125", 0.125), ("1,25", 1.25)])
def test_point_and_comma_both_part_decimals(text: str, value: float) -> None:
    assert read_number(text).value == value


# --- what a reader types


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Pitch at which the sheet lies: write a number of degrees."),
        ("   ", "Pitch at which the sheet lies: write a number of degrees."),
        (
            "steep",
            "Pitch at which the sheet lies: “steep” is not a number. Write it like 17.5 or 17,5, without the unit.",
        ),
        ("120", "Pitch at which the sheet lies: it has to be from 0 to 90°. Look at the number again."),
        ("-1", "Pitch at which the sheet lies: it has to be from 0 to 90°. Look at the number again."),
        (
            "1,500",
            "Pitch at which the sheet lies: “1,500” can be read in two ways. "
            "Leave the comma out, or use a point for decimals.",
        ),
    ],
)
def test_bad_text_gives_one_plain_sentence(text: str, sentence: str) -> None:
    assert validate(FORMULAS["sheet-lap"], {"pitch_deg": text}).errors == {"pitch_deg": sentence}


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e300])
def test_absurd_number_is_out_of_range(value: float) -> None:
    assert "from 0 to 90°" in validate(FORMULAS["sheet-lap"], {"pitch_deg": value}).errors["pitch_deg"]


def test_left_out_input_takes_its_default() -> None:
    assert validate(FORMULAS["pitch"], {"rise_mm": "312"}).values == {
        "rise_mm": 312,
        "run_mm": 1000,
        "least_pitch_deg": None,
    }


def test_unknown_input_is_named_with_the_nearest() -> None:
    errors = validate(FORMULAS["sheet-lap"], {"pitch_deg": 22, "measured_lap": 150}).errors
    assert errors == {
        "measured_lap": "“measured_lap” is no input of sheet-lap. "
        'Did you mean "measured_lap_mm"? The inputs are pitch_deg, measured_lap_mm.'
    }


def test_given_is_checked_without_the_rest() -> None:
    assert validate_given(FORMULAS["pitch"], {"least_pitch_deg": 17.5}) == {}
    assert list(validate_given(FORMULAS["pitch"], {"least_pitch_deg": 95})) == ["least_pitch_deg"]


def test_choice_is_picked_or_refused() -> None:
    spec = choice(
        "nailing", "Nailing", choices=(Choice("centre", "At the centre"), Choice("head", "At the head")), hint="Look."
    )
    assert (spec.kind, check_raw(spec, "head").choice) == ("choice", "head")
    assert check_raw(spec, "tail").error == "Nailing: pick one of centre, head."


def test_name_without_a_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="pitch does not end in a known unit"):
        number("pitch", "Pitch", low=0, high=90, hint="Measure it.")
