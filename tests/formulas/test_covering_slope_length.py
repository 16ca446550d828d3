"""The pitch from the length up the slope or from per cent: laws, and what cannot be."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.covering.slope import pitch
from build_tools.formulas.covering.slope_length import pitch_from_slope


@given(st.floats(0, 85), st.floats(100, 20000))
def test_sine_and_tangent_agree(pitch_deg: float, slope_mm: float) -> None:
    rise_mm = slope_mm * math.sin(math.radians(pitch_deg))
    found = pitch_from_slope("slope", rise_mm, slope_mm, None).outputs["pitch_deg"]
    assert found is not None and pitch_deg - 0.1 - 1e-6 <= found <= pitch_deg + 1e-6


@given(st.floats(0, 1000))
def test_per_cent_is_the_rise_over_a_hundred_of_run(percent: float) -> None:
    one, other = pitch_from_slope("percent", None, None, percent), pitch(percent, 100, None)
    assert one.outputs["pitch_deg"] == other.outputs["pitch_deg"]


@pytest.mark.parametrize(
    ("measured", "rise_mm", "slope_mm", "percent", "said"),
    [("slope", 1000, 1000, None, "no roof"), ("slope", 2000, 1000, None, "no roof"),
     ("slope", None, 1000, 30, "Give the rise"),
     ("slope", 10, None, None, "Give the rise"), ("percent", 10, 100, None, "per cent")],
)  # fmt: skip
def test_what_cannot_be_gets_a_sentence_and_no_number(
    measured: str, rise_mm: float | None, slope_mm: float | None, percent: float | None, said: str
) -> None:
    found = pitch_from_slope(measured, rise_mm, slope_mm, percent)
    assert set(found.outputs.values()) == {None} and said in found.working[0]
