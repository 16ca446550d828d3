"""Water in an open gutter of rectangular section, by Manning and by its free end; with what it is lined with."""

from __future__ import annotations

import math
from typing import NamedTuple

from build_tools.formulas.definition import Choice, Input, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of
from build_tools.model.data import ChannelLining

SILT_N = 0.022
"""Silt and moss are as rough as a clean channel in earth."""
GRAVITY_M_S2 = 9.81
END_SHARE = 0.5
"""Where a gutter ends in the open, water stands half as deep as at its still end, to be safe (gutter-free-end)."""
ROUNDS = 60
"""Rounds of halving: more than the digits of a float."""


class Channel(NamedTuple):
    """A gutter of rectangular section, and how steeply it lies."""

    width_mm: float
    depth_mm: float
    slope: float
    """Fall over length along the gutter."""
    manning_n: float
    free_end: bool
    """Whether it lies so flat that what falls off its end sets how much it carries."""


def lining_input(linings: tuple[ChannelLining, ...]) -> Input:
    """Let what the gutter is made of be picked."""
    return choice(
        "lining",
        "What the gutter is made of",
        choices=choices_of(linings),
        hint="What the water runs over. Lead is dull grey and marks under a fingernail; wear gloves and wash.",
        default="lead",
    )


DRAINS = choice(
    "drains",
    "Water from above the light leaves",
    choices=(Choice("both", "At both sides"), Choice("one", "All at one side")),
    hint="Pour a cup of water into the gutter over the head and see where it goes. In doubt, one side.",
    default="both",
)
ROOF_PITCH = number("pitch_deg", "Pitch of the roof", low=0.1, high=80, hint="Lay a slope gauge along a rafter.")
ABOVE = number(
    "above_m",
    "Roof above the light",
    low=0.1,
    high=30,
    hint="From the head of the light up the slope to the ridge. Count the courses and multiply by the gauge.",
)
ACROSS = number("width_mm", "Width of the light", low=200, high=6000, hint="Outside of the frame, across the roof.")
TO_GUTTER = output("flow_l_s", "Water at its end", step=0.01, rounds="up")
CAPACITY = output("capacity_l_s", "It carries, clean", step=0.01, rounds="down")
SILTED = output("silted_l_s", "It carries, half silted", step=0.01, rounds="down")
WATER_DEPTH = output("depth_mm", "Depth of the water, clean", step=1, rounds="up")

OVER = (
    "Even clean it cannot carry this rain, and runs over at its lowest edge. Look for wet battens there; it needs "
    "to be wider, deeper or steeper, or to get less water."
)
ONLY_CLEAN = (
    "It carries this rain only when clean; half silted it runs over. Have it cleaned, watch it in rain, and see that "
    "it can be cleaned from now on."
)
CARRIES = (
    "By these numbers it carries this rain even half silted. That does not clear it: look for a choked end, an open "
    "joint and water thrown across it."
)


def roughness(linings: tuple[ChannelLining, ...], lining: str) -> float:
    """Give Manning's n of a lining."""
    found = linings[0]
    for row in linings:
        if row.id == lining:
            found = row
    return found.manning_n


def uniform_flow_l_s(channel: Channel, depth_mm: float) -> float:
    """Give the flow in l/s at this depth of water: area × (area ÷ wetted edge)^(2/3) × √slope ÷ n."""
    area_m2 = channel.width_mm * depth_mm / 1000000
    wetted_m = (channel.width_mm + 2 * depth_mm) / 1000
    speed_m_s = math.pow(area_m2 / wetted_m, 2 / 3) * math.sqrt(channel.slope) / channel.manning_n
    return 1000 * area_m2 * speed_m_s


def end_flow_l_s(channel: Channel, depth_mm: float) -> float:
    """Give the flow in l/s that falls off a free end, critical there, at this depth of water at the still end."""
    end_m = END_SHARE * depth_mm / 1000
    return channel.width_mm * math.sqrt(GRAVITY_M_S2) * math.pow(end_m, 1.5)


def flow_l_s_at(channel: Channel, depth_mm: float) -> float:
    """Give the flow in l/s at this depth of water: by Manning, and no more than its end lets go."""
    uniform_l_s = uniform_flow_l_s(channel, depth_mm)
    return min(uniform_l_s, end_flow_l_s(channel, depth_mm)) if channel.free_end else uniform_l_s


def brimful_l_s(channel: Channel) -> float:
    """Give what it carries clean and brimful, rounded down."""
    return rounded(flow_l_s_at(channel, channel.depth_mm), CAPACITY)


def half_silted_l_s(channel: Channel) -> float:
    """Give what it carries with silt up to half its depth, rounded down."""
    left_mm = channel.depth_mm / 2
    silted = Channel(
        width_mm=channel.width_mm,
        depth_mm=left_mm,
        slope=channel.slope,
        manning_n=max(channel.manning_n, SILT_N),
        free_end=channel.free_end,
    )
    return rounded(flow_l_s_at(silted, left_mm), SILTED)


def normal_depth_mm(channel: Channel, flow_l_s: float) -> float:
    """Give the depth at which it carries a flow that it can carry, rounded up."""
    low_mm = 0.0
    high_mm = channel.depth_mm
    for _ in range(ROUNDS):
        middle_mm = (low_mm + high_mm) / 2
        enough = flow_l_s_at(channel, middle_mm) >= flow_l_s
        low_mm = low_mm if enough else middle_mm
        high_mm = middle_mm if enough else high_mm
    return rounded(high_mm, WATER_DEPTH)


def carried(channel: Channel, flow_l_s: float, working: tuple[str, ...]) -> Reckoned:
    """Sum up what a gutter carries of a flow; judged by the rounded numbers that are shown."""
    capacity_l_s = brimful_l_s(channel)
    silted_l_s = half_silted_l_s(channel)
    runs_over = not at_least(capacity_l_s, flow_l_s)
    by = "by Manning, capped by what falls off its end," if channel.free_end else "by Manning"
    carries = (
        f"Brimful, {by} with n {figure(channel.manning_n, 3)} and fall {figure(channel.slope, 4)}: "
        f"{quantity(capacity_l_s, 'l/s')}. Half silted: {quantity(silted_l_s, 'l/s')}.",
        f"{quantity(flow_l_s, 'l/s')} come.",
    )
    outputs = {
        "flow_l_s": flow_l_s,
        "depth_mm": None if runs_over else normal_depth_mm(channel, flow_l_s),
        "capacity_l_s": capacity_l_s,
        "silted_l_s": silted_l_s,
    }
    silted_verdict = "carries" if at_least(silted_l_s, flow_l_s) else "only-clean"
    return Reckoned(outputs=outputs, verdict="runs-over" if runs_over else silted_verdict, working=(*working, *carries))
