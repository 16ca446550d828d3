"""What a reader may type: taken in, or one plain sentence."""

from __future__ import annotations

import math

import pytest
from own_tables import FORMULAS

from build_tools.formulas import validate, validate_given
from build_tools.formulas.definition import Choice, choice, number, rows_input
from build_tools.formulas.validation import take_in


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
        'Did you mean "measured_lap_mm"? The inputs are pitch_deg, measured_lap_mm, metal, declared_lap_mm.'
    }


def test_given_is_checked_without_the_rest() -> None:
    assert validate_given(FORMULAS["pitch"], {"least_pitch_deg": 17.5}) == {}
    assert list(validate_given(FORMULAS["pitch"], {"least_pitch_deg": 95})) == ["least_pitch_deg"]


def test_choice_is_picked_or_refused() -> None:
    spec = choice(
        "nailing", "Nailing", choices=(Choice("centre", "At the centre"), Choice("head", "At the head")), hint="Look."
    )
    assert (spec.kind, take_in(spec, "head").value) == ("choice", "head")
    assert take_in(spec, "tail").error == "Nailing: pick one of centre, head."


def test_name_without_a_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="pitch does not end in a known unit"):
        number("pitch", "Pitch", low=0, high=90, hint="Measure it.")


# --- whole numbers and lists

TILES = number("tiles_count", "Tiles", low=1, high=60, whole=True, hint="Count them.")
LAYERS = rows_input(
    "layers",
    "Layers",
    low=1,
    high=3,
    hint="From inside to outside.",
    columns=(
        choice("material", "Material", choices=(Choice("board", "Board"), Choice("wool", "Wool")), hint="Look."),
        number("thickness_mm", "Thickness", low=1, high=500, hint="Measure it."),
        number("sheets_count", "Sheets", low=1, high=9, whole=True, optional=True, hint="Count them."),
    ),
)


def test_whole_number_is_taken_in_as_one() -> None:
    taken = take_in(TILES, "12.0").value
    assert taken == 12 and isinstance(taken, int)
    assert isinstance(take_in(TILES, 12.0).value, int)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Tiles: write a whole number."),
        ("2.5", "Tiles: 2.5 is not a whole number. Count whole ones."),
        ("61", "Tiles: it has to be from 1 to 60. Look at the number again."),
        ("a dozen", "Tiles: “a dozen” is not a number. Write it like 12, without the unit."),
    ],
)
def test_what_is_no_whole_number_gives_one_plain_sentence(text: str, sentence: str) -> None:
    assert take_in(TILES, text).error == sentence


@pytest.mark.parametrize(
    "raw",
    [
        "board,12.5,2; wool, 200 ,;",
        (("board", 12.5, 2), ("wool", 200, None)),
        (("board", "12,5", "2"), ("wool", "200", "")),
    ],
)
def test_list_is_taken_in_from_text_and_from_lines(raw: str) -> None:
    assert take_in(LAYERS, raw).value == (("board", 12.5, 2), ("wool", 200, None))


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        ("", "Layers: at least 1 line. Add a line."),
        (None, "Layers: at least 1 line. Add a line."),
        ("wool,1,; wool,1,; wool,1,; wool,1,", "Layers: at most 3 lines. Take one out."),
        (
            "wool,12,5,1",
            "Layers, line 1: it has 4 entries, not 3. Write material, thickness_mm, sheets_count, "
            "and decimals with a point.",
        ),
        ("wool,1,; slate,6,", "Layers, line 2: Material: pick one of board, wool."),
        ("wool,,", "Layers, line 1: Thickness: write a number of millimetres."),
        ("wool,900,", "Layers, line 1: Thickness: it has to be from 1 to 500 mm. Look at the number again."),
        ("wool,9,1.5", "Layers, line 1: Sheets: 1.5 is not a whole number. Count whole ones."),
    ],
)
def test_what_is_wrong_in_a_list_gives_one_plain_sentence(raw: str | None, sentence: str) -> None:
    assert take_in(LAYERS, raw).error == sentence
