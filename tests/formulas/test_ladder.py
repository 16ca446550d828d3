"""Foot and length of a ladder: laws, and verdicts at the edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.ladder.foot import ladder_foot

HEIGHT = st.floats(1, 12)


@given(HEIGHT)
def test_foot_reckoned_stands_right_and_the_ladder_reaches_a_metre_above(height_m: float) -> None:
    found = ladder_foot(height_m, None, None).outputs
    foot_m, length_m = found["foot_m"], found["ladder_length_m"]
    assert foot_m is not None and length_m is not None
    assert ladder_foot(height_m, foot_m, length_m).verdict == "right"
    up_m = length_m * math.sin(math.atan2(height_m, height_m / 4))
    assert height_m + 1 - 1e-6 <= up_m < height_m + 1.1


@given(HEIGHT, st.floats(0, 12), st.floats(0, 12))
def test_foot_further_out_is_never_steeper(height_m: float, one: float, other: float) -> None:
    order = ["too-steep", "right", "too-flat"]
    near, far = (ladder_foot(height_m, each, None) for each in sorted((one, other)))
    assert order.index(str(near.verdict)) <= order.index(str(far.verdict))
    assert (near.outputs["angle_deg"] or 0) >= (far.outputs["angle_deg"] or 0)


@given(HEIGHT, st.floats(0, 12))
def test_right_is_what_guidance_calls_75_degrees(height_m: float, foot_m: float) -> None:
    """Guidance gives one in four and 75 degrees for the same thing: both are right, and 70 and 80 are not."""
    found = ladder_foot(height_m, foot_m, None)
    angle_deg = found.outputs["angle_deg"]
    assert angle_deg is not None and (found.verdict != "right" or 74 <= angle_deg <= 78)
    assert not (75 <= angle_deg <= 76) or found.verdict == "right"


@pytest.mark.parametrize(
    ("foot_m", "ladder_m", "verdict"),
    [(0.9, None, "right"), (0.89, None, "too-steep"), (1.1, 5.2, "right"), (1.11, 5.2, "too-flat"),
     (0, None, "too-steep"), (12, None, "too-flat"), (1, 5.1, "too-short"), (None, 5.1, "too-short"),
     (None, 5.2, None), (None, None, None)],
)  # fmt: skip
def test_verdicts_at_four_metres(foot_m: float | None, ladder_m: float | None, verdict: str | None) -> None:
    assert ladder_foot(4, foot_m, ladder_m).verdict == verdict
