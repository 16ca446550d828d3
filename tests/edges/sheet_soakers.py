"""Edges of soakers."""

from __future__ import annotations

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_soakers(draw: st.DrawFn) -> Values:
    """A length on a whole millimetre, a side of whole gauges, a lap as long as the gauge, a size that all but fits."""
    gauge_mm = draw(st.integers(80, 900)) / 2
    headlap_mm = draw(st.sampled_from((gauge_mm, 65.0, 75.5, 20.0)))
    length_mm = gauge_mm + headlap_mm + 25
    return (
        draw(st.sampled_from(("slate", "plain-tile", "single-lap"))),
        draw(near(gauge_mm * draw(st.integers(1, 20)), 100, 10000)),
        draw(near(gauge_mm, 40, 450)),
        draw(near(headlap_mm, 20, 300)),
        draw(st.integers(1, 40)),
        draw(st.none() | near(length_mm, 0, 2000) | near(length_mm + 0.5, 0, 2000)),
        draw(st.none() | near(draw(st.sampled_from((75, 100))), 0, 1000)),
        draw(st.none() | near(75, 0, 1000)),
    )


EDGES: Edges = {"soakers": near_an_edge_of_soakers}
