"""The gutter down the side of a roof light, and the water that reaches it."""

from __future__ import annotations

import math
from functools import partial
from types import MappingProxyType
from typing import NamedTuple

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number
from build_tools.formulas.numbers import figure, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.formulas.water.channel import (
    ABOVE,
    ACROSS,
    CAPACITY,
    CARRIES,
    DRAINS,
    ONLY_CLEAN,
    OVER,
    ROOF_PITCH,
    SILTED,
    TO_GUTTER,
    WATER_DEPTH,
    Channel,
    brimful_l_s,
    carried,
    lining_input,
    roughness,
)
from build_tools.formulas.water.gutters_drawing import draw_side_gutter
from build_tools.formulas.water.rain import caught_on_slope_m2, rain_input
from build_tools.model.data import ChannelLining, Data, RainRate

UP_SLOPE = number("height_mm", "Height of the light", low=200, high=6000, hint="Outside of the frame, up the slope.")
STRIP = number(
    "strip_mm",
    "Covering that drains in from beside",
    low=0,
    high=2000,
    hint="Width of the strip beside the light whose water runs into the side gutter. Often up to one tile: 0 to 300.",
    default=200,
)
SIDE_WIDTH = number(
    "gutter_width_mm",
    "Clear width of the side gutter",
    low=5,
    high=400,
    hint="At its narrowest place, between the frame and the cut edge of the tiles or slates.",
)
SIDE_DEPTH = number(
    "gutter_depth_mm",
    "Depth of the side gutter",
    low=2,
    high=150,
    hint="From its floor up to the lowest edge that water may run over: the welt, the batten or the turn-up.",
)


class SideWaters(NamedTuple):
    """Where the rain goes that falls from the ridge down to the foot of a light, in l/s."""

    all: float
    head: float
    """What the light's head stops."""
    sides: float
    """What runs in from the covering at both sides."""
    past: float
    """What falls on the light itself and runs off its foot."""


def side_waters(
    pitch_deg: float, above_m: float, width_mm: float, height_mm: float, strip_mm: float, rain_l_s_m2: float
) -> SideWaters:
    """Part the rain on a light and its strips; what falls above the strips stays on the covering and is not in it."""
    height_m = height_mm / 1000
    head = rain_l_s_m2 * caught_on_slope_m2(above_m, pitch_deg, width_mm / 1000)
    sides = rain_l_s_m2 * caught_on_slope_m2(height_m, pitch_deg, 2 * strip_mm / 1000)
    past = rain_l_s_m2 * caught_on_slope_m2(height_m, pitch_deg, width_mm / 1000)
    return SideWaters(all=head + sides + past, head=head, sides=sides, past=past)


def side_gutter(
    linings: tuple[ChannelLining, ...],
    pitch_deg: float,
    above_m: float,
    width_mm: float,
    height_mm: float,
    strip_mm: float,
    drains: str,
    gutter_width_mm: float,
    gutter_depth_mm: float,
    lining: str,
    rain_l_s_m2: float,
) -> Reckoned:
    """Find whether a side gutter carries the water that reaches the light's head and side, clean and half silted.

    flow = area x (area / wetted edge)^(2/3) x sqrt(sin(pitch)) / n

    Args:
        pitch_deg: [deg] pitch of the roof, at which the gutter lies.
        above_m: [m] roof above the light, up the slope.
        width_mm: [mm] width of the light.
        height_mm: [mm] height of the light, up the slope.
        strip_mm: [mm] width of the covering beside it that drains in.
        drains: [choice] whether water from the head leaves at one side or both.
        gutter_width_mm: [mm] clear width of the gutter.
        gutter_depth_mm: [mm] depth of the gutter.
        lining: [choice] what the gutter is made of.
        rain_l_s_m2: [l_s_m2] rain on a level square metre.

    Returns:
        flow_l_s: [l_s] water at the foot of the fuller gutter, rounded up.
        depth_mm: [mm] depth of that water, clean, rounded up; None where it runs over.
        capacity_l_s: [l_s] what it carries clean and brimful, rounded down.
        silted_l_s: [l_s] what it carries with silt up to half its depth, rounded down.

    Source:
        driven-rain-angle: effective area with rain slanting one across to two down.
        manning-table: roughness n, and 0.022 of earth for silt.
        manning-example: a rectangular channel by Manning.
        rain-rate-handbook: 0.021 as the common rate.

    Limits:
        It is for water that runs steadily down an open, straight gutter.
        Bends, steps, clips, tile ribs and a choked foot carry less.
        Water that is blown in or thrown off a valley or another light above is not counted.
        Half silted is the measure of this guide, not of a standard.

    Example:
        >>> side_gutter(LININGS, 30, 4, 1000, 1200, 200, "both", 50, 15, "lead", 0.021).outputs["capacity_l_s"]
        2.14
        >>> side_gutter(LININGS, 30, 4, 1000, 1200, 200, "both", 50, 15, "lead", 0.021).verdict
        'carries'
    """
    waters = side_waters(pitch_deg, above_m, width_mm, height_mm, strip_mm, rain_l_s_m2)
    head_share = waters.head / (2 if drains == "both" else 1)
    exact_l_s = head_share + waters.sides / 2
    channel = Channel(
        width_mm=gutter_width_mm,
        depth_mm=gutter_depth_mm,
        slope=math.sin(math.radians(pitch_deg)),
        manning_n=roughness(linings, lining),
        free_end=False,
    )
    flow_l_s = rounded(exact_l_s, TO_GUTTER)
    working = (
        f"All that falls on the light, the roof above it and its two strips: {figure(waters.all, 3)} l/s.",
        f"Stopped by the head {figure(waters.head, 3)} l/s, in from the sides {figure(waters.sides, 3)} l/s, "
        f"off the light's own foot {figure(waters.past, 3)} l/s.",
        f"Into the fuller gutter: {figure(head_share, 3)} + {figure(waters.sides / 2, 3)} = "
        f"{figure(exact_l_s, 3)} l/s.",
    )
    return carried(channel, flow_l_s, working)


def _side_table(linings: tuple[ChannelLining, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: what a lead side gutter 15 mm deep carries."""
    return tuple(
        (
            quantity(deg, "°"),
            *(quantity(brimful_l_s(_lead_channel(linings, wide_mm, deg)), "l/s") for wide_mm in (25, 50)),
        )
        for deg in (5.0, 15.0, 30.0, 45.0)
    )


def _lead_channel(linings: tuple[ChannelLining, ...], wide_mm: float, deg: float) -> Channel:
    return Channel(wide_mm, 15, math.sin(math.radians(deg)), roughness(linings, "lead"), free_end=False)


def formula(data: Data) -> Formula:
    """Make the formula."""
    linings = rows(data, "channel-linings", ChannelLining)
    rainfall = rows(data, "rainfall", RainRate)
    return Formula(
        id="side-gutter",
        title="Side gutter of a light",
        subject="water",
        inputs=(
            ROOF_PITCH,
            ABOVE,
            ACROSS,
            UP_SLOPE,
            STRIP,
            DRAINS,
            SIDE_WIDTH,
            SIDE_DEPTH,
            lining_input(linings),
            rain_input(rainfall),
        ),
        outputs=(TO_GUTTER, WATER_DEPTH, CAPACITY, SILTED),
        verdicts=MappingProxyType({"runs-over": OVER, "only-clean": ONLY_CLEAN, "carries": CARRIES}),
        by_hand=ByHand(
            rule=(
                "Water from above: width of the light × roof above it × 0.024, with both in metres, is litres a "
                "second at most, in usual rain. Halve it where it leaves at both sides.",
                "Compare with the table for a clean lead gutter 15 mm deep. Count on a third of it when half silted.",
            ),
            heads=("Pitch", "25 mm wide carries", "50 mm wide carries"),
            rows=_side_table(linings),
        ),
        function=partial(side_gutter, linings),
        example=MappingProxyType(
            {
                **{"pitch_deg": 30, "above_m": 4, "width_mm": 1000, "height_mm": 1200, "strip_mm": 200},
                **{"drains": "both", "gutter_width_mm": 50, "gutter_depth_mm": 15, "lining": "lead"},
                "rain_l_s_m2": 0.021,
            }
        ),
        draw=draw_side_gutter,
        tables=only(data, "channel-linings", "rainfall"),
    )
