"""Lists to buy: every material stands in its remedy's list once, and what is typed wrongly gets a plain sentence."""

from __future__ import annotations

import json

import pytest
from guides import the_checked, the_guide
from own_tables import FORMULAS

from build_tools.__main__ import main
from build_tools.formulas import reckon, validate
from build_tools.formulas.sheet.thermal import LONGEST_LEAD_MM
from build_tools.formulas.take_off.runs import RUNS
from build_tools.guide.views import RemedyView
from build_tools.proof.take_off import asked, settled, sources_of, taken
from build_tools.shell.calc import CannotReckon
from build_tools.shell.take_off_text import explain_text, run_json, run_text
from build_tools.sources.term_links import plain_words

TAKE_OFF = FORMULAS["take-off"]
REMEDIES = {each.id: each for each in the_guide().remedies}
SIZES = {
    "width_mm": 780,
    "height_mm": 1180,
    "gauge_mm": 345,
    "cover_mm": 300,
    "pitch_deg": 22.5,
    "slope_width_m": 6,
    "slope_length_m": 4,
    "reveal_mm": 250,
}
TAKEN = [name for name, view in REMEDIES.items() if asked(view.remedy, TAKE_OFF)]
SOLD = [name for name in TAKEN if any(m.take_off and m.take_off.sold_m for m in REMEDIES[name].remedy.materials)]


def typed(view: RemedyView) -> list[str]:
    """Give every size that a remedy asks for and that has no default, as it is typed."""
    formula = asked(view.remedy, TAKE_OFF)
    assert formula
    return [f"{each.name}={SIZES[each.name]}" for each in formula.inputs if each.name in SIZES]


@pytest.mark.parametrize("name", [name for name in REMEDIES if name not in TAKEN])
def test_list_without_sizes_covers_every_material_exactly_once(name: str) -> None:
    remedy = REMEDIES[name].remedy
    text = explain_text(name, remedy, TAKE_OFF)
    assert all(text.splitlines().count(f"  {plain_words(each.item)}") == 1 for each in remedy.materials)


@pytest.mark.parametrize("name", TAKEN)
def test_list_covers_every_material_exactly_once(name: str) -> None:
    remedy = REMEDIES[name].remedy
    sizes = typed(REMEDIES[name])
    found = json.loads(run_json(name, remedy, TAKE_OFF, sizes))["materials"]
    assert [each["item"] for each in found] == [plain_words(each.item) for each in remedy.materials]
    assert [each["quantity"] for each in found] == [plain_words(each.quantity) for each in remedy.materials]
    assert [bool(each["said"]) for each in found] == [each.take_off is not None for each in remedy.materials]
    assert all(any(each["outputs"].values()) for each in found if each["outputs"] is not None)
    text = run_text(name, remedy, TAKE_OFF, sizes)
    assert all(text.splitlines().count(f"  {each['item']}") == 1 for each in found)


@pytest.mark.parametrize("name", SOLD)
def test_every_length_that_is_sold_is_counted(name: str) -> None:
    remedy = REMEDIES[name].remedy
    for each in json.loads(run_json(name, remedy, TAKE_OFF, typed(REMEDIES[name])))["materials"]:
        (material,) = [one for one in remedy.materials if plain_words(one.item) == each["item"]]
        if material.take_off and material.take_off.sold_m:
            assert each["outputs"]["sold_count"] >= 1
            assert each["said"].endswith(f"× {material.take_off.sold_as}, {material.take_off.sold_m:g} m each")


@pytest.mark.parametrize("name", TAKEN)
def test_list_and_formula_agree(name: str) -> None:
    formula = TAKE_OFF
    remedy = REMEDIES[name].remedy
    asked_for = {each.name: SIZES[each.name] for each in asked(remedy, TAKE_OFF).inputs if each.name in SIZES}
    defaults = {"lights_count": 1, "waste_percent": 10.0, "strip_mm": 1000.0}
    for each in taken(remedy, TAKE_OFF, {**defaults, **asked_for}):
        if each.material.take_off:
            values = validate(formula, {**asked_for, **settled(each.material.take_off)})
            assert not values.errors
            assert each.reckoned == reckon(formula, values.values)


def test_words_without_numbers_are_not_claimed_to_be_reckoned() -> None:
    assert asked(REMEDIES["contain-the-water"].remedy, TAKE_OFF) is None
    assert taken(REMEDIES["contain-the-water"].remedy, TAKE_OFF, {})[0].said == ""


def test_remedies_that_follow_from_a_light_have_a_list() -> None:
    assert {"side-gutter-under-the-tiles", "soakers-beside-the-upstand", "turn-up-the-underlay"} < set(TAKEN)
    used = {m.take_off.run for each in REMEDIES.values() for m in each.remedy.materials if m.take_off}
    assert used <= {each.id for each in RUNS} and len(used) > 10


def test_sources_of_the_lists_are_in_the_table() -> None:
    named = {source for each in REMEDIES.values() for source in sources_of(each.remedy, TAKE_OFF)}
    assert named <= set(the_checked().draft.sources)


def test_without_sizes_it_tells_what_it_asks_for() -> None:
    text = explain_text("tape-for-now", REMEDIES["tape-for-now"].remedy, TAKE_OFF)
    assert "  width_mm: Width of the light, 100 to 10000 mm; may be left out\n" in text
    assert text.endswith("take-off tape-for-now width_mm=… height_mm=… lights_count=… waste_percent=… makes the list.")
    assert "run:" not in text and "sold_m" not in text


def test_size_that_is_wanting_is_named_and_the_rest_is_reckoned() -> None:
    text = run_text(
        "side-gutter-under-the-tiles", REMEDIES["side-gutter-under-the-tiles"].remedy, TAKE_OFF, ["width_mm=780"]
    )
    assert "Still wanted: Length of the light up the slope; Gauge of the covering." in text
    text = run_text(
        "side-gutter-under-the-tiles", REMEDIES["side-gutter-under-the-tiles"].remedy, TAKE_OFF, ["height_mm=1180"]
    )
    assert "Still wanted: Gauge of the covering." in text and "Still wanted: Width of the light" in text


@pytest.mark.parametrize(
    ("assignments", "sentence"),
    [
        (["width_mm=wide"], "width_mm: Width of the light: “wide” is not a number."),
        (["width_mm=1"], "width_mm: Width of the light: it has to be from 100 to 10000 mm."),
        (["780"], "“780” is not input=value. Write take-off tape-for-now width_mm=…"),
        (["run=head"], "run: “run” is no input of take-off. The inputs are width_mm, height_mm"),
        (["lights_count=1.5"], "lights_count: Lights of this size: 1.5 is not a whole number."),
    ],
)
def test_wrong_use_gives_a_plain_sentence(assignments: list[str], sentence: str) -> None:
    with pytest.raises(CannotReckon) as wrong:
        run_text("tape-for-now", REMEDIES["tape-for-now"].remedy, TAKE_OFF, assignments)
    assert str(wrong.value).startswith(sentence)


@pytest.mark.usefixtures("proved_once")
def test_remedy_whose_words_say_it_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["take-off", "contain-the-water", "width_mm=780"]) == 2
    assert "Nothing of it is reckoned from sizes" in capsys.readouterr().err
    assert main(["take-off", "contain-the-water"]) == 0
    assert "Old towels\n      One in each bucket" in capsys.readouterr().out


@pytest.mark.usefixtures("proved_once")
def test_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["take-off", "tape-for-now", "width_mm=780", "height_mm=1180"]) == 0
    assert "Length, with laps and waste: 4.5 m. To buy: 1 × roll, 10 m each\n" in capsys.readouterr().out
    assert main(["take-off", "tape-for-now", "width_mm=780", "height_mm=1180", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["materials"][0]["outputs"]["sold_count"] == 1
    assert main(["take-off", "tape-for-now", "width_mm=x"]) == 2
    assert "is not a number" in capsys.readouterr().err
    assert main(["take-off", "tape-for-no"]) == 2
    assert capsys.readouterr().err.startswith(
        '"tape-for-no" is not a remedy. Did you mean "tape-for-now"? The remedies are: '
    )


def test_lead_is_taken_in_one_longest_piece_and_no_back_gutter_is_lapped() -> None:
    materials = [each for view in REMEDIES.values() for each in view.remedy.materials if each.take_off]
    longest = {each.take_off.longest_mm for each in materials if each.take_off} - {None}
    assert longest == {LONGEST_LEAD_MM}
    gutters = [each.take_off for each in materials if "back gutter" in each.item and "sheet" in each.item.lower()]
    assert len(gutters) >= 4
    assert {each.joint for each in gutters if each} == {"roll"}


def test_back_gutter_of_two_pieces_gets_one_roll() -> None:
    """1400 mm and 200 past each end: two pieces of at most 1.5 m and a roll of 250 mm, and a tenth for waste."""
    sizes = ["width_mm=1400", "height_mm=1180", "gauge_mm=345", "pitch_deg=30"]
    told = run_text("side-gutter-under-the-tiles", REMEDIES["side-gutter-under-the-tiles"].remedy, TAKE_OFF, sizes)
    assert "1 × roll of 250 mm" in told
