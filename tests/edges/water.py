"""Edges of the formulas about water off the roof."""

from __future__ import annotations

import math

from hypothesis import strategies as st
from own_tables import LININGS

from build_tools.formulas.water.channel import SILT_N, Channel, flow_l_s_at
from build_tools.formulas.water.eaves import eaves_carries_l_s
from edges import Edges, Values, near

LINING = st.sampled_from(LININGS)
DRAINS = st.sampled_from(("both", "one"))


@st.composite
def near_an_edge_of_roof_catchment(draw: st.DrawFn) -> Values:
    """A length with which the area, the flow or the rain crosses a rounding step."""
    step = draw(st.integers(1, 2000))
    rain = draw(near(draw(st.sampled_from((0.021, 0.5 / 3600 + step / 7200, step / 10000))), 0.001, 0.2))
    length = draw(st.sampled_from((step / 10 / 7.5, step / 100 / rain / 7.5)))
    wall = draw(st.none() | near(step, 0, 1000))
    return 6.0, 3.0, draw(near(length, 0.1, 100)), wall, rain


def with_flow(channel: Channel, draw: st.DrawFn, per_rain: float) -> float:
    """Draw a rain with which the flow, or its depth, or the verdict is at an edge of this channel."""
    depth = draw(st.sampled_from((channel.depth_mm, float(math.floor(channel.depth_mm)))))
    silted = channel._replace(depth_mm=channel.depth_mm / 2, manning_n=max(SILT_N, channel.manning_n))
    flows = (
        flow_l_s_at(channel, depth),
        flow_l_s_at(silted, silted.depth_mm),
        draw(st.integers(1, 300)) / 100,
    )
    return draw(near(draw(st.sampled_from(flows)) / per_rain, 0.001, 0.2))


@st.composite
def near_an_edge_of_side_gutter(draw: st.DrawFn) -> Values:
    """A gutter all but as big as the water that comes."""
    pitch = draw(near(draw(st.sampled_from((0.1, 5.0, 30.0, 80.0))), 0.1, 80))
    wide, deep = float(draw(st.integers(5, 60))), float(draw(st.integers(2, 20)))
    lining, drains = draw(LINING), draw(DRAINS)
    above, across = draw(st.sampled_from((4.0, 30.0))), draw(st.sampled_from((1000.0, 6000.0)))
    factor = math.cos(math.radians(pitch)) + math.sin(math.radians(pitch)) / 2
    per_rain = factor * (above * across / 1000 / (2 if drains == "both" else 1) + 1.2 * 0.2)
    channel = Channel(wide, deep, math.sin(math.radians(pitch)), lining.manning_n, free_end=False)
    rain = with_flow(channel, draw, per_rain)
    return pitch, above, across, 1200.0, 200.0, drains, wide, deep, lining.id, rain


@st.composite
def near_an_edge_of_back_gutter(draw: st.DrawFn) -> Values:
    """A gutter all but as big as the water that comes, at a fall or none, and at the widths of one piece."""
    fall = draw(near(draw(st.sampled_from((0.0, 0.5, 1.0, 7.0, 25.0))), 0, 300))
    wide, deep = float(draw(st.integers(20, 300))), float(draw(st.integers(2, 40)))
    lining, drains = draw(LINING), draw(DRAINS)
    above, across = (
        draw(st.sampled_from((4.0, 30.0))),
        draw(near(draw(st.sampled_from((1000.0, 1500.0, 2000.0))), 200, 6000)),
    )
    ends = 2 if drains == "both" else 1
    factor = math.cos(math.radians(30)) + 0.25
    channel = Channel(wide, deep, fall * ends / across, lining.manning_n, free_end=True)
    rain = with_flow(channel, draw, factor * above * across / 1000 / ends)
    return 30.0, above, across, drains, fall, wide, deep, lining.id, rain


@st.composite
def near_an_edge_of_eaves_gutter(draw: st.DrawFn) -> Values:
    """A flow or area for which a whole millimetre is just enough, and a gutter that is just as wide."""
    wide = float(draw(st.integers(40, 300)))
    flow = eaves_carries_l_s(wide)
    measured = draw(st.none() | near(wide, 40, 500))
    given_flow = draw(st.none() | near(flow, 0.001, 100))
    return draw(st.none() | near(flow / 0.021, 0.1, 1000)), given_flow, measured, 0.021


EDGES: Edges = {
    "roof-catchment": near_an_edge_of_roof_catchment,
    "side-gutter": near_an_edge_of_side_gutter,
    "back-gutter": near_an_edge_of_back_gutter,
    "eaves-gutter": near_an_edge_of_eaves_gutter,
}
