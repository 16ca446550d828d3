"""Edges of what a covering has to spare."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import COVERINGS

from build_tools.formulas.covering.margin import covering_input
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_covering_margin(draw: st.DrawFn) -> Values:
    """A pitch at the least, at two degrees more, where its kind or a long rafter counts; a headlap at the least."""
    least_deg = draw(st.sampled_from((12.5, 17.5, 20.0, 28.0, 30.0, 35.0, 40.0, 60.0)))
    pitch_deg = draw(st.sampled_from((least_deg, least_deg + 2, least_deg + 0.1, 10.0, 30.0, 75.0, 0.0, 90.0)))
    least_mm = draw(st.sampled_from((65.0, 75.0, 75.5, 100.0)))
    return (
        draw(st.sampled_from([each.value for each in covering_input(COVERINGS).choices])),
        draw(near(pitch_deg, 0, 90)),
        draw(st.none() | st.just(least_deg)),
        draw(st.none() | near(least_mm, 0, 400)),
        draw(st.none() | st.just(least_mm)),
        draw(st.sampled_from(("moderate", "severe"))),
        draw(st.none() | near(draw(st.sampled_from((6.0, 9.0))), 0.5, 40)),
    )


EDGES: Edges = {"covering-margin": near_an_edge_of_covering_margin}
