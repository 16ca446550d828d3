"""The formulas about water off the roof: their laws, and Manning against a reference library."""

from __future__ import annotations

import math
import re

import pytest
from fluids.open_flow import V_Manning
from hypothesis import assume, given
from hypothesis import strategies as st
from own_tables import LININGS, METALS

from build_tools.formulas.sheet.thermal import thermal_movement
from build_tools.formulas.water.back_gutters import back_gutter
from build_tools.formulas.water.channel import Channel, flow_l_s_at, normal_depth_mm, uniform_flow_l_s
from build_tools.formulas.water.eaves import eaves_gutter
from build_tools.formulas.water.rain import caught_on_slope_m2, roof_catchment
from build_tools.formulas.water.side_gutters import side_gutter, side_waters

RAINS = st.tuples(st.floats(0.001, 0.2), st.floats(0.001, 0.2)).map(sorted)
WIDE, DEEP = st.floats(5, 400), st.floats(2, 150)
LINING = st.sampled_from([row.id for row in LININGS])
BETTER = ["runs-over", "only-clean", "carries"]


@pytest.mark.parametrize("width_mm", [5, 25, 50, 150, 400])
@pytest.mark.parametrize("depth_mm", [1, 15, 40, 150])
@pytest.mark.parametrize("slope", [0.0025, 0.0125, 0.5, 0.98])
@pytest.mark.parametrize("n", [0.009, 0.011, 0.016, 0.022])
def test_flow_is_that_of_the_reference_library(width_mm: float, depth_mm: float, slope: float, n: float) -> None:
    # fluids.open_flow.V_Manning, velocity from the hydraulic radius; the same formula, so to the last digits.
    area = width_mm * depth_mm / 1e6
    speed = V_Manning(Rh=area / ((width_mm + 2 * depth_mm) / 1000), S=slope, n=n)
    assert uniform_flow_l_s(Channel(width_mm, depth_mm, slope, n, free_end=False), depth_mm) == pytest.approx(
        1000 * area * speed, 1e-12
    )


@given(WIDE, DEEP, st.floats(0.001, 0.98), st.floats(0.01, 0.99), st.booleans())
def test_normal_depth_carries_the_flow_and_a_step_less_does_not(
    w: float, d: float, s: float, share: float, free_end: bool
) -> None:
    channel = Channel(w, d, s, 0.011, free_end)
    flow = share * flow_l_s_at(channel, d)
    found = normal_depth_mm(channel, flow)
    assume(found is not None)
    assert flow_l_s_at(channel, found) >= flow * (1 - 1e-6)
    assert found < 1.001 or flow_l_s_at(channel, found - 1.001) < flow


@given(RAINS, st.floats(0.1, 50), st.floats(0, 30), st.floats(0.1, 100), st.none() | st.floats(0, 1000))
def test_more_rain_never_runs_off_as_less(
    rains: list[float], width: float, rise: float, length: float, wall: float | None
) -> None:
    less, more = (roof_catchment(width, rise, length, wall, rain).outputs["flow_l_s"] for rain in rains)
    assert less <= more


@given(RAINS, st.floats(0.1, 1000), st.none() | st.floats(40, 500))
def test_more_rain_never_asks_for_a_smaller_gutter(rains: list[float], area: float, measured: float | None) -> None:
    less, more = (eaves_gutter(area, None, measured, rain) for rain in rains)
    assert less.outputs["gutter_width_mm"] <= more.outputs["gutter_width_mm"]
    assert (less.verdict, more.verdict) != ("too-small", "enough")


@given(RAINS, st.floats(0, 80), st.floats(0.1, 30), st.floats(200, 6000), WIDE, DEEP, LINING)
def test_more_rain_never_makes_a_side_gutter_better(
    rains: list[float], pitch: float, above: float, across: float, wide: float, deep: float, lining: str
) -> None:
    less, more = (
        side_gutter(LININGS, pitch, above, across, 1200, 200, "both", wide, deep, lining, rain) for rain in rains
    )
    assert BETTER.index(str(less.verdict)) >= BETTER.index(str(more.verdict))
    assert less.outputs["flow_l_s"] <= more.outputs["flow_l_s"]


@given(st.tuples(st.floats(0, 80), st.floats(0, 80)).map(sorted), WIDE, DEEP, LINING)
def test_flatter_side_gutter_never_carries_more_nor_does_silt(
    pitches: list[float], wide: float, deep: float, lining: str
) -> None:
    flat, steep = (
        side_gutter(LININGS, pitch, 4, 1000, 1200, 200, "one", wide, deep, lining, 0.021).outputs for pitch in pitches
    )
    assert flat["capacity_l_s"] <= steep["capacity_l_s"] and flat["silted_l_s"] <= steep["silted_l_s"]
    assert steep["silted_l_s"] <= steep["capacity_l_s"]


@given(st.tuples(st.floats(0, 300), st.floats(0, 300)).map(sorted), st.floats(20, 600), st.floats(2, 300), LINING)
def test_flatter_back_gutter_never_carries_more_nor_does_silt(
    falls: list[float], wide: float, deep: float, lining: str
) -> None:
    flat, steep = (back_gutter(LININGS, 30, 4, 1000, "one", fall, wide, deep, lining, 0.021) for fall in falls)
    order = ["level", *BETTER]
    assert order.index(str(flat.verdict)) <= order.index(str(steep.verdict))
    assert (flat.verdict == "level") == (falls[0] < 0.5 * (1 - 1e-8)) or abs(falls[0] - 0.5) < 1e-8
    carry = [(each.outputs["silted_l_s"] or 0, each.outputs["capacity_l_s"] or 0) for each in (flat, steep)]
    assert carry[0][0] <= carry[1][0] <= carry[1][1] and carry[0][1] <= carry[1][1]


@given(st.floats(0, 80), st.floats(0.1, 30), st.floats(200, 6000), st.floats(200, 6000), st.floats(0, 2000))
def test_water_balance_closes(pitch: float, above: float, across: float, height: float, strip: float) -> None:
    waters = side_waters(pitch, above, across, height, strip, 0.021)
    # The catchment taken as whole pieces: the light's width from ridge to foot, and both strips beside it.
    whole = caught_on_slope_m2(above + height / 1000, pitch, across / 1000)
    strips = caught_on_slope_m2(height / 1000, pitch, 2 * strip / 1000)
    assert waters.head + waters.sides + waters.past == pytest.approx(0.021 * (whole + strips), rel=1e-9)
    assert waters.all == pytest.approx(0.021 * (whole + strips), rel=1e-9)


@pytest.mark.parametrize(
    ("area", "flow", "wide", "verdict"),
    [
        (37, None, 100, "enough"),
        (37, None, 99, "too-small"),
        (None, 1.26, 122, "enough"),
        (None, 1.26, 121, "too-small"),
        (None, None, 100, None),
        (37, None, None, None),
        (37, 5, 100, "too-small"),
    ],
)
def test_eaves_verdict(area: float | None, flow: float | None, wide: float | None, verdict: str | None) -> None:
    assert eaves_gutter(area, flow, wide, 0.021).verdict == verdict


@pytest.mark.parametrize(
    ("fall", "deep", "rain", "verdict"),
    [
        (0, 20, 0.021, "level"),
        (12, 20, 0.021, "carries"),
        (1, 8, 0.1, "runs-over"),
        (12, 10, 0.1, "runs-over"),
        (12, 20, 0.1, "only-clean"),
    ],
)
def test_back_gutter_verdict(fall: float, deep: float, rain: float, verdict: str) -> None:
    assert back_gutter(LININGS, 30, 4, 1000, "one", fall, 150, deep, "lead", rain).verdict == verdict


@pytest.mark.parametrize(
    ("pitch", "deep", "verdict"), [(1, 2, "runs-over"), (30, 15, "carries"), (30, 3, "only-clean")]
)
def test_side_gutter_verdict(pitch: float, deep: float, verdict: str) -> None:
    assert side_gutter(LININGS, pitch, 4, 1000, 1200, 200, "both", 50, deep, "lead", 0.021).verdict == verdict


@pytest.mark.parametrize(("wide", "rolled"), [(1500, False), (1501, True), (1900, True), (2000, True), (2001, True)])
def test_one_length_of_lead_for_back_gutter_and_sheet(wide: float, rolled: bool) -> None:
    """The gutter and the movement of sheet name the same longest piece, and a flat sole has no welt."""
    said = " ".join(back_gutter(LININGS, 30, 4, wide, "both", 12, 150, 20, "lead", 0.021).working)
    assert ("a wood-cored roll at the high line" in said) == rolled
    assert len(re.findall(r"\bOf lead|\bof lead", said)) == 1
    assert "welt" not in said and "code 5" not in said
    assert (thermal_movement(METALS, "lead", wide, 75, None).verdict == "too-long") == rolled


@pytest.mark.parametrize(
    ("wide", "drains", "said"),
    [
        (1500, "one", "no piece is longer than"),
        (1501, "one", "fall to both ends from a roll in its middle"),
        (3000, "one", "fall to both ends from a roll in its middle"),
        (3000, "both", "wood-cored roll at the high line"),
        (3001, "one", "steps it down between two pieces"),
        (3001, "both", "steps it down between two pieces"),
    ],
)
def test_a_roll_stands_at_a_high_line_and_never_in_the_flow(wide: float, drains: str, said: str) -> None:
    working = " ".join(back_gutter(LININGS, 30, 4, wide, drains, 30, 150, 20, "lead", 0.021).working)
    assert said in working
    assert ("at the high line" in working) == (drains == "both" and 1500 < wide <= 3000)


@given(st.floats(0.5, 300), st.floats(20, 600), st.floats(2, 300), LINING)
def test_back_gutter_never_carries_more_than_falls_off_its_end(
    fall: float, wide: float, deep: float, lining: str
) -> None:
    """Half the depth at a free end, where the flow is critical: Froude number 1."""
    carries = back_gutter(LININGS, 30, 4, 1000, "one", fall, wide, deep, lining, 0.021).outputs["capacity_l_s"]
    end_m = deep / 2 / 1000
    assert carries is not None and carries <= 1000 * wide / 1000 * end_m * math.sqrt(9.81 * end_m) + 1e-9


def test_usual_back_gutter_is_capped_by_its_end() -> None:
    """150 by 20 mm at 1 in 80: 2.03 l/s by Manning alone, and less than a quarter of that falls off its end."""
    found = back_gutter(LININGS, 30, 4, 1000, "one", 12.5, 150, 20, "lead", 0.021)
    assert found.outputs["capacity_l_s"] == 0.46
    assert "capped by what falls off its end" in " ".join(found.working)
