"""The formulas about sheet metal: their laws, and their verdicts at the edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.sheets import sheet_lap


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
