"""Edges of the gauge of slates."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import HEADLAPS

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_slate_gauge(draw: st.DrawFn) -> Values:
    """A size of the table, or just outside it; a pitch of the table; a lap of the table, a third, or a round gauge."""
    row = draw(st.sampled_from(HEADLAPS))
    off_mm = draw(st.sampled_from((0.0, 8.0, -8.0, 3.0)))
    length_mm = row.length_mm + off_mm
    laps = draw(st.sampled_from((row.moderate, row.severe)))
    at = draw(st.sampled_from(laps))
    lap_mm = draw(st.sampled_from((at.headlap_mm, length_mm / 3, draw(st.integers(20, 120)) / 2)))
    pitch_deg = draw(st.sampled_from((at.rafter_pitch_deg, 20.0, 90.0)))
    return (
        draw(near(length_mm, 200, 900)),
        draw(near(lap_mm, 0, 300)),
        draw(st.sampled_from(("centre", "head"))),
        draw(st.none() | near(row.width_mm + off_mm, 100, 600)),
        draw(st.none() | near(pitch_deg, 0, 90)),
        draw(st.sampled_from(("moderate", "severe"))),
    )


EDGES: Edges = {"slate-gauge": near_an_edge_of_slate_gauge}
