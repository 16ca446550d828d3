"""Edges of taking off."""

from __future__ import annotations

from hypothesis import strategies as st

from build_tools.formulas.take_off.runs import RUNS
from edges import Edges, Values, near

JOINTS = ("none", "whole", "sheet", "roll", "underlay")
WASTE = st.sampled_from((0.0, 10.0, 5.0, 50.0))


@st.composite
def near_an_edge_of_taking_off(draw: st.DrawFn) -> Values:
    """Whole courses and tiles, pieces that all but come out of a length, pitches where laps change or end."""
    sold_m = draw(st.sampled_from((0.5, 1.0, 3.0, 10.0)))
    gauge_mm = draw(st.sampled_from((40.0, 100.0, 212.5, 345.0)))
    lap_mm = draw(st.sampled_from((0.0, 150.0, 225.0, 390.0)))
    parts = draw(st.integers(1, 12))
    edge = st.sampled_from((sold_m * 1000 / parts, parts * gauge_mm, parts * (1500 - lap_mm), parts * 100.0))
    return (
        draw(st.sampled_from(tuple(each.id for each in RUNS))),
        draw(st.sampled_from(JOINTS)),
        draw(st.none() | edge.flatmap(lambda each: near(each, 100, 10000))),
        draw(st.none() | edge.flatmap(lambda each: near(each, 100, 10000))),
        draw(st.integers(1, 20)),
        draw(st.none() | near(gauge_mm, 40, 700)),
        draw(st.none() | near(draw(st.sampled_from((100.0, 300.0))), 50, 1500)),
        draw(st.none() | st.sampled_from((0.0, 11.0, 12.5, 15.0, 30.0, 35.0)).flatmap(lambda each: near(each, 0, 90))),
        draw(st.none() | near(parts / 2, 0.2, 60)),
        draw(st.none() | near((parts * 850 + 150) / 1000, 0.2, 40)),
        draw(st.none() | near(100, 20, 2000)),
        draw(near(1000, 500, 3000)),
        draw(st.sampled_from((0.0, 200.0))),
        draw(st.none() | near(1500, 500, 20000)),
        draw(WASTE),
        draw(st.none() | near(sold_m, 0.5, 200)),
    )


EDGES: Edges = {"take-off": near_an_edge_of_taking_off}
