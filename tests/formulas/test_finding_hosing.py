"""The hose test: laws, and what a plan must say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.finding.hosing import hose_test_plan

SHORT = st.floats(0, 5000)
LIGHT = st.tuples(SHORT, SHORT, SHORT, SHORT, SHORT)
DELAY = st.none() | st.floats(1, 1440)


@given(LIGHT, DELAY, st.integers(0, 4), st.floats(0, 5000))
def test_longer_zone_never_takes_less(light: tuple[float, ...], delay: float | None, at: int, more: float) -> None:
    longer = (*light[:at], light[at] + more, *light[at + 1 :])
    one, other = hose_test_plan(*light, delay).outputs, hose_test_plan(*longer, delay).outputs
    assert all(other[name] >= one[name] for name in one)


@given(LIGHT, st.floats(1, 1000), st.floats(0, 400))
def test_longer_delay_never_waits_less(light: tuple[float, ...], delay: float, more: float) -> None:
    one, other = hose_test_plan(*light, delay).outputs, hose_test_plan(*light, delay + more).outputs
    assert other["wait_min"] >= one["wait_min"] >= 2 * delay - 1e-5
    assert other["total_min"] >= one["total_min"]


@given(LIGHT, DELAY)
def test_total_is_all_flows_and_a_wait_for_each_zone(light: tuple[float, ...], delay: float | None) -> None:
    found = hose_test_plan(*light, delay).outputs
    flows = [found[name] for name in ("foot_min", "side_min", "side_min", "head_min", "glass_min", "above_min")]
    assert found["total_min"] == sum(flow + found["wait_min"] for flow in flows if flow)


@pytest.mark.parametrize(
    ("given_mm", "delay_min", "verdict"),
    [((0, 0, 0, 0, 0), 10, "no-zone"), ((780, 1180, 780, 3920, 1500), None, "delay-unknown"),
     ((780, 1180, 780, 3920, 1500), 10, "one-visit"), ((780, 1180, 780, 3920, 1500), 60, "two-visits"),
     ((1500, 1500, 1500, 1500, 1500), 17.5, "one-visit"), ((1500, 1500, 1500, 1500, 1500), 17.6, "two-visits")],
)  # fmt: skip
def test_verdict(given_mm: tuple[float, ...], delay_min: float | None, verdict: str) -> None:
    assert hose_test_plan(*given_mm, delay_min).verdict == verdict
