"""The true pitch: laws, and the geometry of a valley from another side."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.covering.true_pitch import LYING, true_pitch

kinds = st.sampled_from([each.value for each in LYING.choices])


def lies(rafter_deg: float, kind: str) -> float:
    found = true_pitch(rafter_deg, kind).outputs["pitch_deg"]
    assert found is not None
    return found


@given(st.floats(0, 85), st.floats(0, 85), kinds)
def test_it_never_lies_steeper_than_the_rafter_and_follows_it(one: float, other: float, kind: str) -> None:
    low, high = sorted((one, other))
    assert 0 <= lies(low, kind) <= lies(high, kind) <= high + 1e-6


@given(st.floats(0.1, 85))
def test_valley_is_where_the_two_slopes_meet(rafter_deg: float) -> None:
    # Planes z = x tan p and z = y tan p meet along the cross product of their normals.
    rise = math.tan(math.radians(rafter_deg))
    first, second = (-rise, 0.0, 1.0), (0.0, -rise, 1.0)
    along = (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )
    valley_deg = math.degrees(math.atan2(abs(along[2]), math.hypot(along[0], along[1])))
    assert valley_deg - 0.1 - 1e-6 <= lies(rafter_deg, "valley") <= valley_deg + 1e-6


@pytest.mark.parametrize(("rafter_deg", "kind"), [(0, "other"), (10, "plain-tiles"), (5, "interlocking-tiles")])
def test_a_tile_that_would_lie_level_is_told(rafter_deg: float, kind: str) -> None:
    found = true_pitch(rafter_deg, kind)
    assert found.outputs["pitch_deg"] == 0 and "no tile belongs" in found.working[-1]
