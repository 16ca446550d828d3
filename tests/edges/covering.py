"""Edges of the formulas about the covering."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_pitch(draw: st.DrawFn) -> Values:
    """A pitch on a rounding step, by angle, by per cent or by length, with a least pitch there or two degrees off."""
    tenths = draw(st.integers(0, 600))
    run_mm = float(draw(st.sampled_from((100, 400, 1000, 1234, 20000))))
    by_angle = run_mm * math.tan(math.radians(tenths / 10))
    rise_mm = draw(st.sampled_from((by_angle, run_mm * tenths / 1000, run_mm * 3 / 4)))
    least_deg = tenths / 10 - draw(st.sampled_from((0, 2, 2.1)))
    return draw(near(rise_mm, 0, 20000)), run_mm, draw(st.none() | near(least_deg, 0, 60))


EDGES: Edges = {"pitch": near_an_edge_of_pitch}
