"""The mass of sheet and its movement in heat and cold: laws, and verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import LEAD_CODES, METALS

from build_tools.formulas.sheet.sheet_masses import LeadCode, sheet_mass
from build_tools.formulas.sheet.thermal import thermal_movement

OTHERS = [row.id for row in METALS if row.id != "lead"]
POUND_KG = 0.45359237
FOOT_M = 0.3048


@pytest.mark.parametrize("code", LEAD_CODES, ids=lambda each: each.id)
def test_lead_code_is_its_pounds_to_a_square_foot(code: LeadCode) -> None:
    """What the number of a code means (common knowledge of the trade); thicknesses hold to within 5 per cent."""
    found = sheet_mass(LEAD_CODES, METALS, code.id, None, 1000, 1000, 1).outputs["mass_kg_m2"]
    assert found == pytest.approx(int(code.id[-1]) * POUND_KG / FOOT_M**2, rel=0.05)


@given(st.sampled_from(OTHERS), st.floats(0.1, 20), st.floats(10, 5000), st.floats(10, 20000), st.integers(1, 1000))
def test_mass_grows_with_every_size_and_is_never_too_little(
    metal: str, thick_mm: float, width_mm: float, length_mm: float, count: int
) -> None:
    density = next(row.density_kg_m3 for row in METALS if row.id == metal)
    found = sheet_mass(LEAD_CODES, METALS, metal, thick_mm, width_mm, length_mm, count).outputs
    exact_kg = density * (thick_mm / 1000) * (width_mm / 1000) * (length_mm / 1000)
    assert found["mass_kg"] is not None and found["total_kg"] is not None
    assert exact_kg * (1 - 1e-8) <= found["mass_kg"] <= exact_kg * (1 + 1e-8) + 0.1
    assert exact_kg * count * (1 - 1e-8) <= found["total_kg"] <= exact_kg * count * (1 + 1e-8) + 0.1


def test_thickness_is_asked_for_where_no_code_says_it_and_goes_before_the_code() -> None:
    assert set(sheet_mass(LEAD_CODES, METALS, "copper", None, 100, 100, 1).outputs.values()) == {None}
    thin, code = (
        sheet_mass(LEAD_CODES, METALS, "code-4", each, 1000, 1000, 1).outputs["mass_kg"] for each in (1.5, None)
    )
    assert (thin, code) == (17.1, 20.5)


@given(st.sampled_from([row.id for row in METALS]), st.floats(50, 20000), st.floats(10, 150), st.floats(0.1, 50))
def test_longest_piece_fits_its_room_and_a_longer_one_does_not(
    metal: str, length_mm: float, range_k: float, room_mm: float
) -> None:
    found = thermal_movement(METALS, metal, length_mm, range_k, room_mm).outputs
    moved_mm, longest_mm = found["movement_mm"], found["longest_mm"]
    assert moved_mm is not None and longest_mm is not None
    share = next(row.expansion_um_m_k for row in METALS if row.id == metal) * range_k * 1e-6
    assert share * longest_mm <= room_mm * (1 + 1e-8)
    assert metal == "lead" or share * (longest_mm + 10) >= room_mm * (1 - 1e-8)
    assert share * length_mm * (1 - 1e-8) <= moved_mm <= share * length_mm * (1 + 1e-8) + 0.1


@given(st.floats(50, 20000), st.floats(50, 20000), st.floats(10, 150), st.floats(10, 150))
def test_longer_piece_or_wider_range_never_moves_less(one: float, other: float, cool: float, warm: float) -> None:
    low, high = sorted((one, other))
    less = thermal_movement(METALS, "zinc", low, min(cool, warm), None).outputs["movement_mm"]
    more = thermal_movement(METALS, "zinc", high, max(cool, warm), None).outputs["movement_mm"]
    assert less is not None and more is not None and less <= more


@pytest.mark.parametrize(
    ("metal", "length_mm", "room_mm", "verdict"),
    [("lead", 1500, None, "within"), ("lead", 1501, None, "too-long"), ("lead", 1501, 50, "too-long"),
     ("lead", 1500, 3, "no-room"), ("copper", 6000, None, None), ("copper", 2350, 3, "within"),
     ("copper", 2351, 3, "no-room")],
)  # fmt: skip
def test_movement_verdicts(metal: str, length_mm: float, room_mm: float | None, verdict: str | None) -> None:
    assert thermal_movement(METALS, metal, length_mm, 75, room_mm).verdict == verdict
