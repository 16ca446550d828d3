"""Edges of the true pitch."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from build_tools.formulas.covering.true_pitch import LYING
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_true_pitch(draw: st.DrawFn) -> Values:
    """A rafter whose tile or valley lies at a rounding step, or level."""
    found_deg = draw(st.integers(0, 750)) / 10
    valley_deg = math.degrees(math.atan(math.tan(math.radians(found_deg)) * math.sqrt(2)))
    rafter_deg = draw(st.sampled_from((found_deg + 10, found_deg + 5, valley_deg, 5.0, 10.0, 0.0)))
    return draw(near(rafter_deg, 0, 85)), draw(st.sampled_from([each.value for each in LYING.choices]))


EDGES: Edges = {"true-pitch": near_an_edge_of_true_pitch}
