"""Edges of the formulas about moisture."""

from __future__ import annotations

from hypothesis import strategies as st

from build_tools.formulas.moisture.dew_point import full_at_c, saturation_pressure_pa
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_dew_point(draw: st.DrawFn) -> Values:
    """Air whose dew point is on a rounding step or at nought, and a surface at the dew point or at the mould limit."""
    dew_c = draw(st.integers(-1000, 4000)) / 100
    above = draw(st.sampled_from((0.0, 1.0, 5.0, 15.0)))
    air_c = min(50.0, max(-20.0, dew_c + above))
    percent = 100 * saturation_pressure_pa(dew_c) / saturation_pressure_pa(air_c)
    held_pa = saturation_pressure_pa(air_c) * percent / 100
    edge_c = draw(st.sampled_from((dew_c, full_at_c(held_pa / 0.8), 0.0, air_c)))
    return air_c, draw(near(percent, 5, 100)), draw(near(edge_c, -20, 60))


EDGES: Edges = {"dew-point": near_an_edge_of_dew_point}
