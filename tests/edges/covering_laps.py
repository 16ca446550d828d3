"""Edges of courses, of underlay laps and of the height of a headlap."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from edges import Edges, Values, near


@st.composite
def near_an_edge_of_courses(draw: st.DrawFn) -> Values:
    """A length that is a whole number of gauges, or has an even gauge on a half millimetre, measured or on the flat."""
    gauge_mm = draw(st.integers(100, 700)) / 2
    count = draw(st.integers(1, 30))
    length_m = max(0.2, gauge_mm * count / 1000)
    pitch_deg = draw(st.sampled_from((0.0, 17.5, 30.0, 45.0, 80.0)))
    counted = draw(st.none() | st.sampled_from((count, count + 1, max(1, count - 1))))
    asked_mm = draw(st.sampled_from((gauge_mm, gauge_mm + 3)))
    flat_m = length_m * math.cos(math.radians(pitch_deg))
    return (
        draw(st.none() | near(length_m, 0.2, 40)),
        draw(st.none() | near(flat_m, 0.2, 30)),
        draw(st.none() | st.just(pitch_deg)),
        asked_mm,
        counted,
    )


@st.composite
def near_an_edge_of_underlay_lap(draw: st.DrawFn) -> Values:
    """A pitch where a row of the table begins, and a lap of the table."""
    pitch_deg = draw(st.sampled_from((0.0, 12.5, 15.0, 35.0, 90.0)))
    lap_mm = draw(st.sampled_from((75.0, 100.0, 150.0, 225.0)))
    support = draw(st.sampled_from(("draped", "boarded")))
    return draw(near(pitch_deg, 0, 90)), support, draw(st.none() | near(lap_mm, 0, 1000))


@st.composite
def near_an_edge_of_lap_rise(draw: st.DrawFn) -> Values:
    """A height, a pressure or a wind on a rounding step, and a gust as strong as that wind."""
    pitch_deg = draw(st.sampled_from((0.5, 5.0, 12.5, 17.5, 30.0, 90.0)))
    count = draw(st.integers(1, 300))
    height_mm = draw(st.sampled_from((float(count), count / 9.81, 0.613 * (count / 10) ** 2 / 9.81, 0.0)))
    headlap_mm = height_mm / math.sin(math.radians(pitch_deg))
    wind_m_s = math.floor(10 * math.sqrt(height_mm * 9.81 / 0.613) + 1e-6) / 10
    return (
        draw(st.sampled_from((pitch_deg, 0.0))),
        draw(near(headlap_mm, 0, 500)),
        draw(st.none() | near(wind_m_s, 0, 80)),
    )


EDGES: Edges = {
    "courses": near_an_edge_of_courses,
    "underlay-lap": near_an_edge_of_underlay_lap,
    "lap-rise": near_an_edge_of_lap_rise,
}
