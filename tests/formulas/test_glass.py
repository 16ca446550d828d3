"""The mass of glass and who lifts it: laws, and verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import LIFT_FILTERS

from build_tools.formulas.glass.mass import glass_mass

ORDER = ["one", "two", "three", "gear"]
HANDS = [row.id for row in LIFT_FILTERS]
SIDE = st.floats(50, 6000)
THICK = st.floats(2, 100)


@given(SIDE, SIDE, THICK, st.integers(1, 100))
def test_mass_is_the_volume_times_the_density_and_never_less(
    width_mm: float, height_mm: float, glass_mm: float, count: int
) -> None:
    found = glass_mass(LIFT_FILTERS, width_mm, height_mm, glass_mm, count, "to-elbow", "close", "men").outputs
    exact_kg = width_mm / 1000 * height_mm / 1000 * glass_mm / 1000 * 2500
    assert found["mass_kg"] is not None and found["total_kg"] is not None
    assert exact_kg * (1 - 1e-8) <= found["mass_kg"] < exact_kg + 0.1 + exact_kg * 1e-8
    assert found["total_kg"] == pytest.approx(exact_kg * count, abs=0.1, rel=1e-8)


@given(SIDE, SIDE, THICK, THICK, st.sampled_from(HANDS), st.sampled_from(("far", "close")))
def test_thicker_glass_never_takes_fewer_hands(
    width_mm: float, height_mm: float, one: float, other: float, hands: str, reach: str
) -> None:
    thin, thick = (
        glass_mass(LIFT_FILTERS, width_mm, height_mm, each, 1, hands, reach, "men").verdict
        for each in sorted((one, other))
    )
    assert ORDER.index(str(thin)) <= ORDER.index(str(thick))


@given(SIDE, SIDE, THICK, st.sampled_from(HANDS), st.sampled_from(("men", "women")))
def test_arms_out_and_the_lower_numbers_never_take_fewer_hands(
    width_mm: float, height_mm: float, glass_mm: float, hands: str, lifters: str
) -> None:
    def needs(where: str, reach: str, who: str) -> int:
        return ORDER.index(str(glass_mass(LIFT_FILTERS, width_mm, height_mm, glass_mm, 1, where, reach, who).verdict))

    assert needs(hands, "far", lifters) >= needs(hands, "close", lifters) >= needs("to-elbow", "close", lifters)
    assert needs(hands, "far", "women") >= needs(hands, "far", "men")


@pytest.mark.parametrize(
    ("glass_mm", "hands", "reach", "verdict", "people"),
    [(10, "to-elbow", "close", "one", 1), (10.01, "to-elbow", "close", "two", 2),
     (13.32, "to-elbow", "close", "two", 2), (13.36, "to-elbow", "close", "three", 3),
     (15, "to-elbow", "close", "three", 3), (15.01, "to-elbow", "close", "gear", None),
     (2, "to-shin", "far", "one", 1), (3.01, "to-shin", "far", "gear", None)],
)  # fmt: skip
def test_verdicts_of_a_square_metre(glass_mm: float, hands: str, reach: str, verdict: str, people: int | None) -> None:
    found = glass_mass(LIFT_FILTERS, 1000, 1000, glass_mm, 1, hands, reach, "men")
    assert (found.verdict, found.outputs["people_count"]) == (verdict, people)
