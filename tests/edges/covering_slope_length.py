"""Edges of the pitch from the length up the slope, or from per cent."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_pitch_from_slope(draw: st.DrawFn) -> Values:
    """A pitch on a rounding step, or a rise over a metre on one; a rise as long as the slope."""
    tenths_deg = draw(st.integers(0, 840)) / 10
    whole_mm_deg = math.degrees(math.atan(draw(st.integers(0, 2000)) / 1000))
    pitch_deg = draw(st.sampled_from((tenths_deg, whole_mm_deg, 90.0)))
    slope_mm = draw(st.sampled_from((100.0, 1000.0, 3333.3, 20000.0)))
    percent = 1000.0 if pitch_deg > 84 else 100 * math.tan(math.radians(pitch_deg))
    return (
        draw(st.sampled_from(("slope", "percent"))),
        draw(st.none() | near(slope_mm * math.sin(math.radians(pitch_deg)), 0, 20000)),
        draw(st.none() | st.just(slope_mm)),
        draw(st.none() | near(percent, 0, 1000)),
    )


EDGES: Edges = {"pitch-from-slope": near_an_edge_of_pitch_from_slope}
