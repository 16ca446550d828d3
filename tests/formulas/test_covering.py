"""The formulas about the covering: their laws, and their verdicts at the edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import FORMULAS

from build_tools.formulas.covering.slope import MARGIN_DEG, pitch


@given(st.floats(0, 20000), st.floats(100, 20000), st.floats(0, 60))
def test_rounding_never_lifts_a_roof_into_a_better_verdict(rise_mm: float, run_mm: float, least_deg: float) -> None:
    order = ["below", "at-limit", "within"]
    exact_deg = math.degrees(math.atan2(rise_mm, run_mm))
    exact = "below" if exact_deg < least_deg - 1e-7 else "at-limit" if exact_deg <= least_deg + 2 - 1e-7 else "within"
    assert order.index(pitch(rise_mm, run_mm, least_deg).verdict) <= order.index(exact)


@given(st.floats(0, 20000), st.floats(0, 20000), st.floats(100, 20000), st.floats(0, 60))
def test_steeper_roof_is_never_worse(one: float, other: float, run_mm: float, least_deg: float) -> None:
    order = ["below", "at-limit", "within"]
    low, high = sorted((one, other))
    verdicts = [pitch(rise, run_mm, least_deg).verdict for rise in (low, high)]
    assert order.index(verdicts[0]) <= order.index(verdicts[1])


@pytest.mark.parametrize(
    ("pitch_deg", "verdict"),
    [(17.4, "below"), (17.5, "at-limit"), (19.5, "at-limit"), (19.6, "within"), (17.499, "below"), (19.59, "at-limit")],
)
def test_pitch_verdict_at_its_edges(pitch_deg: float, verdict: str | None) -> None:
    assert pitch(1000 * math.tan(math.radians(pitch_deg)), 1000, 17.5).verdict == verdict


def test_margin_is_what_a_level_and_a_sagging_rafter_can_miss() -> None:
    """The whole degrees above both slips together: 10 mm over a metre, and a parabola that hangs by 1 in 200."""
    level_deg = math.degrees(math.atan(10 / 1000))
    # The tangent at the end of a parabola is four times its sag over its span.
    sag_deg = math.degrees(math.atan(4 * 20 / 4000))
    assert math.ceil(level_deg + sag_deg) == MARGIN_DEG


def test_what_is_asked_of_a_covering_holds_of_a_window_as_well() -> None:
    """A roof window has a least pitch of its own, which is not that of the tiles round it."""
    formula = FORMULAS["pitch"]
    asked = next(each for each in formula.inputs if each.name == "least_pitch_deg")
    said = [asked.label, *formula.verdicts.values(), pitch(300, 1000, 15).working[-1], pitch(200, 1000, 15).working[-1]]
    assert "window" in asked.hint
    assert not [each for each in said if "covering" in each]


def test_pitch_without_a_declared_least_gives_no_verdict() -> None:
    assert pitch(312, 1000, None).verdict is None
