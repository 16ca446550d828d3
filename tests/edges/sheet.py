"""Edges of the formulas about sheet metal."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_sheet_lap(draw: st.DrawFn) -> Values:
    """A pitch where the lap crosses a rounding step or a limit, and a measured lap that all but fits."""
    step = draw(st.integers(30, 79))
    edge_deg = draw(st.sampled_from((math.degrees(math.asin(75 / (5 * step))), 11.0, 30.0, 90.0)))
    measured = draw(st.none() | near(5 * step, 0, 2000))
    metal = draw(st.sampled_from(("lead", "other")))
    return draw(near(edge_deg, 0, 90)), measured, metal, draw(st.none() | near(5 * step, 20, 2000))


EDGES: Edges = {"sheet-lap": near_an_edge_of_sheet_lap}
