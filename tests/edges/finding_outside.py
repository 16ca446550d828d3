"""Edges of the place outside: whole courses and tiles, 11°, the edge of the eaves, half a metre from the verge."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_where_outside(draw: st.DrawFn) -> Values:
    """The slope distance a nudge off whole courses and half millimetres, with or without walls and thickness."""
    deg = draw(st.sampled_from((0.0, 35.0, 60.0, 75.0)) | near(11, 0, 75))
    gauge, cover = draw(st.sampled_from((100.0, 320.0, 333.3))), draw(st.sampled_from((165.0, 300.0, 500.0)))
    thick = draw(st.sampled_from((0.0, 300.0)))
    halves = draw(st.sampled_from((0.0, 0.5))) + gauge * draw(st.integers(0, 12))
    level = max(0.0, halves * math.cos(math.radians(deg)) + thick * math.sin(math.radians(deg)))
    across = draw(near(cover * draw(st.integers(0, 20)) + draw(st.sampled_from((0.0, 500.0, 0.5))), 0, 40000))
    return ("level", draw(near(level, 0, 20000)), across, 0.0, 0.0, 0.0, thick, deg, gauge, cover)


EDGES: Edges = {"where-outside": near_an_edge_of_where_outside}
