"""Edges of the hose test: whole lengths of 1.5 m, half a day in all, a wait on a whole minute."""

from __future__ import annotations

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_hose_test_plan(draw: st.DrawFn) -> Values:
    """Lengths a nudge off whole lengths, and a delay a nudge off half a minute, or one that fills half a day."""
    short = [draw(near(1500 * draw(st.integers(0, 6)), 0, 10000)) for _ in range(3)]
    long = [draw(near(1500 * draw(st.integers(0, 26)), 0, 40000)) for _ in range(2)]
    delay = near(draw(st.integers(2, 200)) / 2, 1, 1440)
    return (*short, *long, draw(st.none() | delay))


EDGES: Edges = {"hose-test-plan": near_an_edge_of_hose_test_plan}
