"""The formulas about sheet metal: their laws, and their verdicts at the edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.sheet.sheets import sheet_lap


@given(st.floats(11, 90), st.floats(11, 90))
def test_flatter_roof_never_needs_a_shorter_lap(one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert (
        sheet_lap(flat, None, "lead", None).outputs["lap_mm"]
        >= sheet_lap(steep, None, "lead", None).outputs["lap_mm"]
        >= 150
    )


@given(st.floats(11, 90))
def test_lap_gains_its_height_and_no_more_than_a_step_over(pitch_deg: float) -> None:
    lap_mm = sheet_lap(pitch_deg, None, "lead", None).outputs["lap_mm"]
    exact_mm = max(150, 75 / math.sin(math.radians(pitch_deg)))
    assert exact_mm * (1 - 1e-8) <= lap_mm < exact_mm + 5


@given(st.floats(0, 90), st.floats(0, 2000), st.floats(0, 2000))
def test_longer_lap_is_never_worse(pitch_deg: float, one: float, other: float) -> None:
    order = ["too-flat", "short", "enough"]
    shorter, longer = sorted((one, other))
    verdicts = [sheet_lap(pitch_deg, lap, "lead", None).verdict for lap in (shorter, longer)]
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
    assert sheet_lap(pitch_deg, measured_mm, "lead", None).verdict == verdict


@given(st.floats(11, 90), st.none() | st.floats(0, 2000), st.floats(20, 2000))
def test_other_sheet_goes_by_its_declared_lap_alone(pitch_deg: float, measured: float | None, declared: float) -> None:
    found = sheet_lap(pitch_deg, measured, "other", declared)
    lap_mm = found.outputs["lap_mm"]
    assert lap_mm is not None and declared * (1 - 1e-8) <= lap_mm < declared + 1
    assert found.verdict == (None if measured is None else "enough" if measured >= lap_mm - 1e-6 else "short")
    assert sheet_lap(pitch_deg, measured, "lead", declared) == sheet_lap(pitch_deg, measured, "lead", None)


@pytest.mark.parametrize(
    ("pitch_deg", "measured_mm", "declared_mm", "verdict"),
    [(15, 150, 150, "enough"), (15, 149, 150, "short"), (15, 500, None, None), (10.99, 500, 150, "too-flat")],
)
def test_verdict_on_other_sheet(
    pitch_deg: float, measured_mm: float, declared_mm: float | None, verdict: str | None
) -> None:
    assert sheet_lap(pitch_deg, measured_mm, "other", declared_mm).verdict == verdict
