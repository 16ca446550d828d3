"""The formula about driving rain: its laws, and its sum worked another way."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.finding.compass import COMPASS, driven_l_m2
from build_tools.formulas.water.driving import driving_rain

POINT = st.sampled_from([point.id for point in COMPASS])
HOUR = st.tuples(st.floats(0, 60), st.floats(0, 150), POINT)
HOURS = st.lists(HOUR, min_size=1, max_size=24).map(tuple)
DEG = {point.id: point.deg for point in COMPASS}
Hours = tuple[tuple[float, float, str], ...]


def test_compass_goes_round_in_even_steps() -> None:
    assert [point.deg for point in COMPASS] == [22.5 * count for count in range(16)]


@pytest.mark.parametrize(("facing_deg", "published"), [(225, 8.415103), (270, 8.223658)])
def test_four_hours_by_hand(facing_deg: float, published: float) -> None:
    # Computed from the formula of ISO 15927-3 to six decimals, apart from this program; not published.
    hours = ((5.0, 2.0, "sw"), (8.0, 4.5, "w"), (10.0, 1.0, "s"), (6.0, 3.0, "ne"))
    assert driven_l_m2(hours, facing_deg) == pytest.approx(published, abs=5e-7)


@given(HOURS, POINT)
def test_opposite_facings_differ_by_the_sum_of_all_hours_as_vectors(hours: Hours, facing: str) -> None:
    # Hours count for one of two opposite facings only, so their difference is the vector sum along the axis.
    whole = sum(2 / 9 * v * r ** (8 / 9) * cmath.exp(1j * math.radians(DEG[d])) for v, r, d in hours)
    along = (whole * cmath.exp(-1j * math.radians(DEG[facing]))).real
    apart = driven_l_m2(hours, DEG[facing]) - driven_l_m2(hours, DEG[facing] + 180)
    assert apart == pytest.approx(along, rel=1e-9, abs=1e-6)


@given(HOURS, HOUR, POINT)
def test_one_more_hour_never_drives_less_rain(hours: Hours, hour: tuple[float, float, str], facing: str) -> None:
    less, more = (driving_rain(each, facing).outputs for each in (hours, (*hours, hour)))
    assert less["index_l_m2"] <= more["index_l_m2"] and less["worst_l_m2"] <= more["worst_l_m2"]


@given(HOURS, POINT)
def test_order_of_the_hours_is_no_matter(hours: Hours, facing: str) -> None:
    there, back = (driven_l_m2(each, DEG[facing]) for each in (hours, hours[::-1]))
    assert there == pytest.approx(back, rel=1e-12)


@pytest.mark.parametrize(
    ("hours", "facing", "verdict"),
    [
        (((5, 2, "sw"),), "sw", "worst"),
        (((5, 2, "sw"),), "wsw", "much"),
        (((5, 2, "sw"),), "wnw", "little"),
        (((5, 2, "sw"),), "ne", "little"),
        (((0, 2, "sw"),), "sw", "none"),
        (((5, 0, "sw"),), "sw", "none"),
    ],
)
def test_driving_rain_verdict(hours: Hours, facing: str, verdict: str) -> None:
    assert driving_rain(hours, facing).verdict == verdict
