"""Edges of the formulas about glass."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import LIFT_FILTERS

from build_tools.formulas.glass.mass import lift_filter_kg
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_glass_mass(draw: st.DrawFn) -> Values:
    """A thickness that makes a mass on a rounding step, or just what one, two or three lift."""
    hands = draw(st.sampled_from([row.id for row in LIFT_FILTERS]))
    reach, lifters = draw(st.sampled_from(("far", "close"))), draw(st.sampled_from(("men", "women")))
    one_kg = lift_filter_kg(LIFT_FILTERS, hands, reach, lifters)
    mass_kg = draw(st.sampled_from((one_kg, one_kg * 4 / 3, one_kg * 1.5, draw(st.integers(10, 900)) / 10)))
    width_mm, height_mm = draw(st.sampled_from((400.0, 800.0, 1250.0))), draw(st.sampled_from((500.0, 1000.0)))
    glass_mm = draw(near(mass_kg * 1000000 / 2.5 / width_mm / height_mm, 2, 100))
    return width_mm, height_mm, glass_mm, draw(st.integers(1, 9)), hands, reach, lifters


EDGES: Edges = {"glass-mass": near_an_edge_of_glass_mass}
