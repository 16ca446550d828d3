"""The mark found outside: laws, and what a place must say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.finding.outside import where_outside

PITCH = st.floats(0, 75)
AWAY = st.floats(0, 10000)


@given(AWAY, st.floats(0, 5000), PITCH)
def test_further_from_the_wall_is_never_further_down(away: float, more: float, deg: float) -> None:
    one, other = (
        where_outside("slope", each, 0, 300, 300, 50, 0, deg, 320, 300).outputs for each in (away, away + more)
    )
    assert other["up_mm"] >= one["up_mm"] and other["course_count"] >= one["course_count"]


@given(AWAY, st.floats(0, 400), PITCH)
def test_thicker_roof_is_never_further_up(away: float, thick: float, deg: float) -> None:
    thin = where_outside("slope", away, 0, 1500, 2000, 50, 0, deg, 320, 300).outputs["up_mm"]
    assert where_outside("slope", away, 0, 1500, 2000, 50, thick, deg, 320, 300).outputs["up_mm"] <= thin


@given(AWAY, PITCH)
def test_slope_of_a_bare_roof_is_what_was_measured(away: float, deg: float) -> None:
    assert where_outside("slope", away, 0, 0, 0, 0, 0, deg, 320, 300).outputs["up_mm"] == pytest.approx(away, abs=0.501)


@given(AWAY, PITCH)
def test_strip_holds_the_mark(across: float, deg: float) -> None:
    found = where_outside("level", 1000, across, 300, 300, 50, 0, deg, 320, 300).outputs
    assert 1 <= found["first_count"] <= found["column_count"] <= found["last_count"]


@pytest.mark.parametrize(
    ("away", "across", "deg", "thick", "verdict"),
    [(0, 3000, 60, 1000, "off-roof"), (2000, 3000, 10.9, 300, "flat"), (2000, 3000, 0, 300, "flat"),
     (100, 3000, 35, 300, "at-eaves"), (2000, 100, 35, 300, "at-verge"), (2000, 3000, 35, 300, "uphill")],
)  # fmt: skip
def test_verdict(away: float, across: float, deg: float, thick: float, verdict: str) -> None:
    assert where_outside("level", away, across, 300, 300, 50, thick, deg, 320, 300).verdict == verdict
