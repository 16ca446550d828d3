"""The gauge of slates: laws, and verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import HEADLAPS

from build_tools.formulas.covering.slating import least_slate_lap, slate_gauge

nailings = st.sampled_from(("centre", "head"))


@given(st.floats(200, 900), st.floats(0, 300), nailings)
def test_two_gauges_and_the_lap_never_exceed_the_slate(length: float, lap: float, nailing: str) -> None:
    gauge = slate_gauge(HEADLAPS, length, lap, nailing, None, None, "moderate").outputs["gauge_mm"]
    if gauge is None:
        assert lap > length / 3 - 1e-6
    else:
        left = length - (25 if nailing == "head" else 0) - 2 * gauge - lap
        assert -1e-6 <= left <= 1 + 1e-6


@given(st.floats(200, 900), st.floats(0, 60), st.floats(0, 60), nailings)
def test_longer_lap_never_lengthens_the_gauge_or_saves_slates(
    length: float, one: float, other: float, nailing: str
) -> None:
    short, long = (
        slate_gauge(HEADLAPS, length, each, nailing, 250, None, "moderate").outputs for each in sorted((one, other))
    )
    assert short["gauge_mm"] is not None and long["gauge_mm"] is not None
    assert short["slates_per_m2"] is not None and long["slates_per_m2"] is not None
    assert long["gauge_mm"] <= short["gauge_mm"]
    assert long["slates_per_m2"] >= short["slates_per_m2"]


@given(st.sampled_from(HEADLAPS), st.floats(0, 90), st.floats(0, 90), st.sampled_from(("moderate", "severe")))
def test_flatter_roof_or_worse_exposure_never_shortens_the_lap(row, one: float, other: float, place: str) -> None:  # type: ignore[no-untyped-def]
    flat, steep = (
        least_slate_lap(HEADLAPS, row.length_mm, row.width_mm, each, place).lap_mm for each in sorted((one, other))
    )
    assert flat is None or (steep is not None and flat >= steep)
    mild = least_slate_lap(HEADLAPS, row.length_mm, row.width_mm, one, "moderate").lap_mm
    hard = least_slate_lap(HEADLAPS, row.length_mm, row.width_mm, one, "severe").lap_mm
    assert hard is None or (mild is not None and hard >= mild)


@pytest.mark.parametrize(
    ("lap", "pitch_deg", "place", "verdict"),
    [(100, 25, "moderate", "enough"), (99.9, 25, "moderate", "short"), (100, 24.9, "moderate", "too-flat"),
     (100, 27.4, "moderate", "enough"), (100, 29.9, "severe", "too-flat"), (120, 30, "severe", "enough"),
     (180, 45, "moderate", "misfit"), (0, 90, "moderate", "short"), (75, 0, "moderate", "too-flat")],
)  # fmt: skip
def test_verdicts_of_a_slate_500_by_250(lap: float, pitch_deg: float, place: str, verdict: str) -> None:
    assert slate_gauge(HEADLAPS, 500, lap, "centre", 250, pitch_deg, place).verdict == verdict


def test_a_size_outside_the_table_is_not_guessed() -> None:
    assert slate_gauge(HEADLAPS, 550, 100, "centre", 275, 30, "moderate").verdict == "not-listed"
    assert slate_gauge(HEADLAPS, 508, 100, "centre", 254, 30, "moderate").verdict == "enough"


def test_holes() -> None:
    assert slate_gauge(HEADLAPS, 500, 100, "centre", None, None, "moderate").outputs["hole_mm"] == 310
    assert slate_gauge(HEADLAPS, 500, 100, "head", None, None, "moderate").outputs["hole_mm"] == 475
