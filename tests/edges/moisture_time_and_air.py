"""Edges of the formulas about openings of a cold roof and about drying."""

from __future__ import annotations

from hypothesis import strategies as st
from own_tables import DRYING_MATERIALS, ROOF_OPENINGS

from build_tools.formulas.moisture.drying import drying_days
from edges import Edges, Values, near


@st.composite
def near_an_edge_of_roof_ventilation(draw: st.DrawFn) -> Values:
    """A pitch, a span or a gap of the table, and lengths whose openings are on a rounding step."""
    gap = st.sampled_from((0.0, 3.0, 5.0, 7.0, 10.0, 25.0))
    return (
        draw(st.sampled_from([row.id for row in ROOF_OPENINGS])),
        draw(near(draw(st.sampled_from((0.0, 10.0, 15.0, 35.0, 75.0))), 0, 75)),
        draw(st.sampled_from(("two", "lean-to"))),
        draw(near(draw(st.sampled_from((0.5, 10.0, 40.0))), 0.5, 40)),
        draw(near(draw(st.integers(3, 2000)) / 10, 0.3, 200)),
        draw(st.none() | near(draw(gap), 0, 300)),
        draw(st.none() | near(draw(gap), 0, 300)),
    )


@st.composite
def near_an_edge_of_drying_time(draw: st.DrawFn) -> Values:
    """A thickness of the table or beyond its end, or of a whole number of weeks, and an age just over."""
    row = draw(st.sampled_from(DRYING_MATERIALS))
    point = draw(st.sampled_from(row.times))
    air = draw(st.sampled_from(("aired", "unheated", "shut")))
    weeks = draw(st.integers(1, 10))
    first = row.times[0]
    whole_mm = weeks * 7 * first.thickness_mm / first.days_count
    thick_mm = draw(near(draw(st.sampled_from((point.thickness_mm, whole_mm, 1.0, 600.0))), 1, 600))
    over = draw(st.sampled_from((float(weeks), drying_days(row, min(thick_mm, point.thickness_mm)) / 7, 0.0)))
    return row.id, thick_mm, air, draw(st.none() | near(over, 0, 2000))


EDGES: Edges = {
    "roof-ventilation": near_an_edge_of_roof_ventilation,
    "drying-time": near_an_edge_of_drying_time,
}
