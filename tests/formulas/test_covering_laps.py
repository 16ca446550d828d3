"""Courses, underlay laps and the height of a headlap: laws, and verdicts at the edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import UNDERLAY_LAPS

from build_tools.formulas.covering.courses import courses
from build_tools.formulas.covering.laps import lap_rise
from build_tools.formulas.covering.underlay import underlay_lap


@given(st.floats(0.2, 40), st.floats(50, 700))
def test_courses_at_the_even_gauge_fill_the_slope_and_none_is_wasted(length_m: float, gauge_mm: float) -> None:
    found = courses(length_m, None, None, gauge_mm, None).outputs
    count, even_mm = found["courses_count"], found["even_gauge_mm"]
    assert count is not None and even_mm is not None
    assert even_mm <= gauge_mm * (1 + 1e-6)
    assert (count - 1) * gauge_mm < length_m * 1000 * (1 + 1e-6)
    assert 0 <= length_m * 1000 - count * even_mm + 1e-4 <= 0.5 * count + 1e-3


@given(st.floats(0.2, 40), st.floats(0.2, 40), st.floats(50, 700))
def test_longer_slope_never_takes_fewer_courses(one: float, other: float, gauge_mm: float) -> None:
    short, long = (courses(each, None, None, gauge_mm, None).outputs["courses_count"] for each in sorted((one, other)))
    assert short is not None and long is not None and short <= long


@pytest.mark.parametrize(("counted", "verdict"), [(14, "too-few"), (15, "enough"), (16, "enough"), (None, None)])
def test_counted_courses(counted: int | None, verdict: str | None) -> None:
    assert courses(5, None, None, 345, counted).verdict == verdict


def test_width_on_the_flat_is_turned_up_the_slope_and_a_measured_length_goes_before_it() -> None:
    assert courses(None, 3, 60, 300, None).outputs["courses_count"] == 20
    assert courses(3, 3, 60, 300, None).outputs["courses_count"] == 10
    for plan_m, pitch_deg in ((3.0, None), (None, 30.0), (None, None)):
        assert set(courses(None, plan_m, pitch_deg, 300, 10).outputs.values()) == {None}


@given(st.floats(12.5, 90), st.floats(12.5, 90))
def test_flatter_roof_never_has_a_shorter_underlay_lap(one: float, other: float) -> None:
    low, high = sorted((one, other))
    for support in ("draped", "boarded"):
        flat, steep = (underlay_lap(UNDERLAY_LAPS, each, support, None).outputs["lap_mm"] for each in (low, high))
        assert flat is not None and steep is not None and flat >= steep
    draped, boarded = (underlay_lap(UNDERLAY_LAPS, low, each, None).outputs["lap_mm"] for each in ("draped", "boarded"))
    assert draped is not None and boarded is not None and draped >= boarded


@pytest.mark.parametrize(
    ("pitch_deg", "support", "lap_mm", "verdict"),
    [(12.4, "draped", 500, "too-flat"), (0, "boarded", None, "too-flat"), (15, "draped", 150, "enough"),
     (14.9, "draped", 224, "short"), (35, "boarded", 75, "enough"), (90, "draped", 0, "short"),
     (20, "draped", None, None)],
)  # fmt: skip
def test_underlay_verdicts(pitch_deg: float, support: str, lap_mm: float | None, verdict: str | None) -> None:
    assert underlay_lap(UNDERLAY_LAPS, pitch_deg, support, lap_mm).verdict == verdict


@given(st.floats(0, 90), st.floats(0, 90), st.floats(0, 500), st.floats(0, 500))
def test_steeper_or_longer_lap_never_gives_less_height(one: float, other: float, short: float, long: float) -> None:
    low = lap_rise(min(one, other), min(short, long), None).outputs
    high = lap_rise(max(one, other), max(short, long), None).outputs
    for name, value in low.items():
        assert value is not None and value <= (high[name] or 0)


@given(st.floats(1, 90), st.floats(0, 500))
def test_height_and_wind_hold_each_other(pitch_deg: float, headlap_mm: float) -> None:
    """Bernoulli with air of 1.225 kg/m³ (ISO 2533) and water of 1000 kg/m³: a thousandth, for 0.613 is rounded."""
    found = lap_rise(pitch_deg, headlap_mm, None).outputs["wind_m_s"]
    height_m = headlap_mm / 1000 * math.sin(math.radians(pitch_deg))
    wind = math.sqrt(2 * 1000 * 9.80665 * height_m / 1.225)
    assert found is not None and wind * 0.999 - 0.1 <= found <= wind * 1.001


@pytest.mark.parametrize(
    ("pitch_deg", "headlap_mm", "gust", "verdict"),
    [(0, 75, 30, "no-rise"), (20, 0, None, "no-rise"), (20, 75, 20.2, "over"), (20, 75, 20.1, "under"),
     (90, 75, None, None)],
)  # fmt: skip
def test_lap_rise_verdicts(pitch_deg: float, headlap_mm: float, gust: float | None, verdict: str | None) -> None:
    assert lap_rise(pitch_deg, headlap_mm, gust).verdict == verdict
