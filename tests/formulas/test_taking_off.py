"""Laws of taking off: never fewer for a larger light, whole counts, and lengths bought that cover the need."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import permutations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from own_tables import FORMULAS

from build_tools.formulas import Reckoned, reckon, validate
from build_tools.formulas.sheet.soakers import soakers
from build_tools.formulas.take_off.inputs import TAKEN_JOINT
from build_tools.formulas.take_off.runs import LAPPED, RUNS, sizes_for
from build_tools.formulas.take_off.ways import NOT_GIVEN

TAKE_OFF = FORMULAS["take-off"]
OUTPUTS = [each.name for each in TAKE_OFF.outputs]
RISING = ("width_mm", "height_mm", "slope_width_m", "slope_length_m", "reveal_mm", "past_mm", "waste_percent")
"""More of any of these never asks for less."""


@dataclass(frozen=True)
class Case:
    """What is taken off, and from which sizes."""

    run: str = "sides"
    joint: str = "none"
    width_mm: float = 780
    height_mm: float = 1180
    lights_count: int = 1
    gauge_mm: float = 345
    cover_mm: float = 300
    pitch_deg: float = 22.5
    slope_width_m: float = 6
    slope_length_m: float = 4
    reveal_mm: float = 250
    strip_mm: float = 1000
    past_mm: float = 0
    longest_mm: float | None = None
    waste_percent: float = 10
    sold_m: float | None = 3

    def taken(self) -> Reckoned:
        """Take it off."""
        taken = validate(TAKE_OFF, {name: value for name, value in vars(self).items() if value is not None})
        assert not taken.errors
        return reckon(TAKE_OFF, taken.values)


CASES = st.builds(
    Case,
    run=st.sampled_from([each.id for each in RUNS]),
    joint=st.sampled_from([each.value for each in TAKEN_JOINT.choices]),
    width_mm=st.floats(100, 4000),
    height_mm=st.floats(100, 4000),
    lights_count=st.integers(1, 5),
    gauge_mm=st.floats(40, 700),
    cover_mm=st.floats(50, 1500),
    pitch_deg=st.floats(0, 90),
    past_mm=st.floats(0, 500),
    longest_mm=st.none() | st.floats(500, 6000),
    waste_percent=st.floats(0, 40),
    sold_m=st.none() | st.floats(0.5, 30),
)


def never_less(one: Reckoned, other: Reckoned) -> bool:
    """Tell whether all that the first gives is at least as much in the second, or no longer to be had."""
    pairs = [(one.outputs[name], other.outputs[name]) for name in OUTPUTS]
    return all(less is None or more is None or less <= more for less, more in pairs)


@pytest.mark.parametrize("name", RISING)
@given(case=CASES, more=st.floats(1.0001, 2))
def test_more_never_asks_for_less(name: str, case: Case, more: float) -> None:
    grown = replace(case, **{name: getattr(case, name) * more})
    assume(grown.waste_percent <= 50)
    assert never_less(case.taken(), grown.taken())


@given(case=CASES)
def test_closer_courses_and_flatter_laps_never_ask_for_less(case: Case) -> None:
    assert never_less(case.taken(), replace(case, gauge_mm=max(40, case.gauge_mm * 0.9)).taken())
    assert never_less(case.taken(), replace(case, cover_mm=max(50, case.cover_mm * 0.9)).taken())
    assert never_less(case.taken(), replace(case, pitch_deg=case.pitch_deg * 0.9).taken())
    assert never_less(case.taken(), replace(case, lights_count=case.lights_count + 1).taken())


@given(case=CASES)
def test_counts_are_whole_and_one_measure_is_given(case: Case) -> None:
    outputs = case.taken().outputs
    assert all(outputs[name] is None or float(outputs[name]).is_integer() for name in ("pieces_count", "sold_count"))
    measures = [outputs[name] for name in ("length_m", "area_m2", "pieces_count") if outputs[name] is not None]
    assert len(measures) <= 1 and all(each > 0 for each in measures)
    assert outputs["sold_count"] is None or outputs["length_m"] is not None


@given(case=CASES)
def test_lengths_bought_cover_what_is_needed_with_a_lap_where_two_meet(case: Case) -> None:
    outputs = case.taken().outputs
    sold, length = outputs["sold_count"], outputs["length_m"]
    assume(sold is not None and length is not None and case.sold_m is not None)
    # The length shown went up to the next 0.1 m.
    assert sold * case.sold_m >= length - 0.1 - 1e-6
    if case.joint in LAPPED and case.run in {each.id for each in RUNS if each.gives == "edges"}:
        lap = 0.15 if case.joint == "sheet" else 0.1
        assert sold * case.sold_m - (sold - 1) * lap >= length - 0.1 - 1e-6


def fits(pieces: list[float], sold: int, length: float) -> bool:
    """Try every order of cutting pieces from so many lengths."""
    for order in set(permutations(pieces)):
        used, left = 1, length
        for piece in order:
            if piece > left:
                used, left = used + 1, length
            left -= piece
        if used <= sold:
            return True
    return False


@given(width=st.integers(100, 3000), height=st.integers(100, 3000))
def test_whole_pieces_do_come_out_of_the_lengths_bought(width: int, height: int) -> None:
    case = Case(run="round", joint="whole", width_mm=width, height_mm=height, waste_percent=0)
    sold = case.taken().outputs["sold_count"]
    assert sold is not None and fits([width, width, height, height], int(sold), 3000)


@given(height=st.floats(100, 4000), gauge=st.floats(65, 450), lights=st.integers(1, 10))
def test_soakers_are_as_many_as_their_own_formula_says(height: float, gauge: float, lights: int) -> None:
    case = Case(run="beside", height_mm=height, gauge_mm=gauge, lights_count=lights, waste_percent=0)
    theirs = soakers("plain-tile", height, gauge, 65, 2 * lights, None, None, None).outputs["total_count"]
    assert case.taken().outputs["pieces_count"] == theirs


@pytest.mark.parametrize("run", RUNS, ids=lambda each: each.id)
@pytest.mark.parametrize("joint", [each.value for each in TAKEN_JOINT.choices])
def test_just_what_is_wanted_is_asked_for(run, joint: str) -> None:
    """Each size that a run names is used, and without it a sentence names it; with all of them there is an answer."""
    sizes = {name: getattr(Case(), name) for name in sizes_for(run, joint)}
    given_all = validate(TAKE_OFF, {"run": run.id, "joint": joint, **sizes})
    assert any(value is not None for value in reckon(TAKE_OFF, given_all.values).outputs.values())
    specs = {each.name: each for each in TAKE_OFF.inputs}
    for name in sizes:
        if specs[name].optional:
            less = {key: value for key, value in sizes.items() if key != name}
            reckoned = reckon(TAKE_OFF, validate(TAKE_OFF, {"run": run.id, "joint": joint, **less}).values)
            assert set(reckoned.outputs.values()) == {None}
            assert reckoned.working == (f"Still wanted: {specs[name].label}.",)


def test_no_size_can_be_taken_for_one_that_was_left_out() -> None:
    assert all(each.low > NOT_GIVEN for each in TAKE_OFF.inputs if not each.choices)


@pytest.mark.parametrize(("joint", "pitch"), [("sheet", 10.9), ("underlay", 12.4)])
def test_where_no_lap_holds_nothing_is_taken_off(joint: str, pitch: float) -> None:
    reckoned = Case(joint=joint, pitch_deg=pitch).taken()
    assert set(reckoned.outputs.values()) == {None}
    assert "too flat for any lap" in reckoned.working[0]


def test_piece_longer_than_it_is_sold_is_told() -> None:
    reckoned = Case(joint="whole", height_mm=3200).taken()
    assert reckoned.outputs["sold_count"] is None and reckoned.outputs["length_m"] == 7.1
    assert reckoned.working[-1] == "3200 mm is longer than it is sold, 3 m. Order it to length."


def test_long_edge_takes_a_lap_for_each_piece() -> None:
    reckoned = Case(joint="sheet", height_mm=2700, longest_mm=1500, waste_percent=0).taken()
    assert reckoned.working[0] == "2 × (2700 mm + 3 × lap of 200 mm) = 6600 mm."
    assert math.isclose(reckoned.outputs["length_m"] or 0, 6.6)
