"""Edges of the formula about driving rain."""

from __future__ import annotations

from hypothesis import strategies as st

from build_tools.formulas.finding.compass import COMPASS
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_driving_rain(draw: st.DrawFn) -> Values:
    """Hours at whole points of the compass, a sum at a rounding step, and facings alike or with half the rain."""
    points = st.sampled_from([point.id for point in COMPASS])
    count = draw(st.integers(1, 4))
    wind = draw(near(9 / 2 * (draw(st.integers(0, 9999)) + 0.5) / 1000, 0, 60))
    first = (wind, draw(st.sampled_from((0.0, 1.0))), draw(points))
    more = [(draw(st.sampled_from((0.0, 5.0))), draw(st.sampled_from((0.0, 1.0, 4.5))), draw(points))] * (count - 1)
    return (first, *more), draw(points)


EDGES: Edges = {"driving-rain": near_an_edge_of_driving_rain}
