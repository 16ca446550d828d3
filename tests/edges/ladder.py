"""Edges of the formulas about ladders."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_ladder_foot(draw: st.DrawFn) -> Values:
    """A foot or a length on a rounding step, a foot where it just stands right, a ladder that is just long enough."""
    length_m = draw(st.integers(21, 133)) / 10
    height_m = draw(st.sampled_from((length_m * 4 / math.sqrt(17) - 1, draw(st.integers(20, 239)) / 50 + 0.02)))
    height_m = min(12.0, max(1.0, height_m))
    foot_m = draw(st.sampled_from((math.ceil(22.5 * height_m) / 100, math.floor(27.5 * height_m) / 100, 0.0)))
    ladder = st.none() | near(length_m, 0.5, 20) | near((height_m + 1) * math.sqrt(17) / 4, 0.5, 20)
    return draw(near(height_m, 1, 12)), draw(st.none() | near(foot_m, 0, 12)), draw(ladder)


EDGES: Edges = {"ladder-foot": near_an_edge_of_ladder_foot}
