"""Edges of the formulas about cold surfaces and about readings of timber."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import COLD_SURFACES

from build_tools.formulas.moisture.dew_point import full_at_c, saturation_pressure_pa
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_surface_humidity(draw: st.DrawFn) -> Values:
    """A surface at the dew point, at the mould limit, at a whole tenth or at the air; U at its cap; 10 K apart."""
    air_c = draw(st.sampled_from((-20.0, 0.0, 10.0, 20.0, 50.0)))
    percent = draw(near(draw(st.sampled_from((5.0, 50.0, 79.0, 80.0, 100.0))), 5, 100))
    outside_c = draw(near(air_c - draw(st.sampled_from((-5.0, 0.0, 9.0, 10.0, 10.5, 25.0))), -30, 45))
    row = draw(st.sampled_from(COLD_SURFACES))
    cap = 1 / (row.rsi_m2k_w + 0.04)
    held_pa = saturation_pressure_pa(air_c) * percent / 100
    tenth_c = draw(st.integers(-200, 400)) / 10
    edge_c = draw(st.sampled_from((full_at_c(held_pa), full_at_c(held_pa / 0.8), tenth_c, air_c, outside_c, 0.0)))
    own_u = draw(st.none() | near(draw(st.sampled_from((cap, 1.0, 0.05, 7.0))), 0.05, 7))
    return air_c, percent, outside_c, row.id, own_u, draw(st.none() | near(edge_c, -30, 60))


@st.composite
def near_an_edge_of_timber_moisture(draw: st.DrawFn) -> Values:
    """A reading where a band or what counts as damp begins, and a dry place four points or next to nothing away."""
    reading = draw(st.sampled_from((5.0, 16.0, 18.0, 20.0, 25.0, 28.0, 100.0)))
    points = draw(st.sampled_from((-4.0, -3.9, 0.0, 3.9, 3.95, 4.0, draw(st.integers(-80, 80)) / 10)))
    return (
        draw(near(reading, 5, 100)),
        draw(st.none() | near(reading - points, 5, 100)),
        draw(st.sampled_from(("warm", "cold"))),
        draw(st.sampled_from(("surface", "deep"))),
        draw(st.sampled_from(("firm", "firm", "soft"))),
    )


EDGES: Edges = {
    "surface-humidity": near_an_edge_of_surface_humidity,
    "timber-moisture": near_an_edge_of_timber_moisture,
}
