"""Soakers: their laws, and their verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from own_tables import HEADLAPS

from build_tools.formulas.covering.slating import slate_gauge
from build_tools.formulas.sheet.soakers import soakers

HEIGHT = st.floats(100, 10000)
GAUGE = st.floats(40, 450)


@given(HEIGHT, GAUGE, st.integers(1, 40))
def test_soakers_laid_by_the_gauge_cover_the_side_and_lap_in_full(
    height_mm: float, gauge_mm: float, sides: int
) -> None:
    lap_mm = min(gauge_mm, 75)
    found = soakers("slate", height_mm, gauge_mm, lap_mm, sides, None, None, None).outputs
    count, length_mm, total = found["soakers_count"], found["length_mm"], found["total_count"]
    assert count is not None and length_mm is not None and total is not None
    assert (count - 1) * gauge_mm < height_mm * (1 + 1e-6) and count * gauge_mm >= height_mm * (1 - 1e-6)
    assert length_mm - gauge_mm - 25 >= lap_mm - 1e-6
    assert total == (count + 1) * sides


@given(GAUGE, HEIGHT, HEIGHT)
def test_longer_side_never_takes_fewer(gauge_mm: float, one: float, other: float) -> None:
    short, long = (
        soakers("slate", each, gauge_mm, 30, 2, None, None, None).outputs["total_count"]
        for each in sorted((one, other))
    )
    assert short is not None and long is not None and short <= long


@given(st.floats(200, 900), st.floats(20, 300))
def test_lap_that_does_not_fit_a_slate_does_not_fit_its_soaker(length_mm: float, lap_mm: float) -> None:
    gauge_mm = (length_mm - lap_mm) / 2
    assume(40 <= gauge_mm <= 450 and abs(gauge_mm - lap_mm) > 0.01)
    slate = slate_gauge(HEADLAPS, length_mm, lap_mm, "centre", None, None, "moderate").verdict
    found = soakers("slate", 1000, gauge_mm, lap_mm, 2, None, None, None).verdict
    assert (found == "misfit") == (slate == "misfit")


@pytest.mark.parametrize(
    ("covering", "lap_mm", "long_mm", "under_mm", "up_mm", "verdict"),
    [("slate", 65, 190, 100, 75, "enough"), ("slate", 65, 189.9, 100, 75, "short"),
     ("slate", 65, 190, 99.9, 75, "narrow"), ("slate", 65, 190, 100, 74.9, "low"),
     ("slate", 65, 190, 50, 125, "narrow"), ("slate", 65, 190, 125, 50, "low"),
     ("plain-tile", 65, 190, 75, 75, "enough"), ("plain-tile", 65, 190, 74.9, 150, "narrow"),
     ("slate", 65, 190, 75, 100, "narrow"), ("plain-tile", 65, 100, None, None, "short"),
     ("slate", 65, None, 60, None, "narrow"), ("slate", 65, None, None, 60, "low"), ("slate", 65, 190, 100, None, None),
     ("slate", 65, None, None, None, None), ("slate", 100, None, None, None, None),
     ("slate", 100.1, 500, 500, 500, "misfit"), ("single-lap", 65, 500, 500, 500, "misfit")],
)  # fmt: skip
def test_verdicts_on_soakers(
    covering: str,
    lap_mm: float,
    long_mm: float | None,
    under_mm: float | None,
    up_mm: float | None,
    verdict: str | None,
) -> None:
    """175 mm in all is no measure: 50 mm under the covering is the leak, whatever stands up."""
    found = soakers(covering, 1180, 100, lap_mm, 2, long_mm, under_mm, up_mm)
    assert found.verdict == verdict
    assert (found.outputs["length_mm"] is None) == (verdict == "misfit")


def test_less_under_plain_tiles_passes_with_a_note() -> None:
    passed = soakers("plain-tile", 1180, 100, 65, 2, 190, 80, 75)
    assert passed.verdict == "enough"
    assert "A new one gets 100 mm" in passed.working[-1]
    assert "A new one gets" not in soakers("plain-tile", 1180, 100, 65, 2, 190, 100, 75).working[-1]
