"""Edges of the mass of sheet and of its movement in heat and cold."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import LEAD_CODES, METALS

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_sheet_mass(draw: st.DrawFn) -> Values:
    """A thickness that makes a square metre or a piece weigh a whole rounding step, or none."""
    metal = draw(st.sampled_from(METALS))
    codes = [code.id for code in LEAD_CODES]
    sheet = draw(st.sampled_from(codes)) if metal.id == "lead" else metal.id
    width_mm, length_mm = draw(st.sampled_from(((1000.0, 1000.0), (500.0, 200.0), (450.0, 1500.0))))
    step_kg_m2 = draw(st.sampled_from((0.01, 0.1 / (width_mm * length_mm / 1000000))))
    thick_mm = draw(st.integers(20, 900)) * step_kg_m2 * 1000 / metal.density_kg_m3
    thickness = st.none() | near(thick_mm, 0.1, 20)
    return sheet, draw(thickness), width_mm, length_mm, draw(st.integers(1, 12))


@st.composite
def near_an_edge_of_thermal_movement(draw: st.DrawFn) -> Values:
    """A movement on a tenth, a longest piece on a centimetre, a piece that is just so long."""
    metal = draw(st.sampled_from(METALS))
    range_k = draw(st.sampled_from((45.0, 75.0, 100.0)))
    share = metal.expansion_um_m_k * range_k / 1000000
    moved_mm = draw(st.integers(1, 120)) / 10
    length_mm = draw(st.sampled_from((moved_mm / share, 10.0 * draw(st.integers(5, 300)), 1500.0)))
    room = st.none() | near(share * length_mm, 0.1, 50) | near(moved_mm, 0.1, 50)
    return metal.id, draw(near(length_mm, 50, 20000)), range_k, draw(room)


EDGES: Edges = {"sheet-mass": near_an_edge_of_sheet_mass, "thermal-movement": near_an_edge_of_thermal_movement}
