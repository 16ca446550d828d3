"""The gutter over the head of a roof light."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.sheet.thermal import LONGEST_LEAD_MM
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
    half_silted_l_s,
    lining_input,
    roughness,
)
from build_tools.formulas.water.gutters_drawing import draw_back_gutter
from build_tools.formulas.water.rain import caught_on_slope_m2, rain_input
from build_tools.model.data import ChannelLining, Data, RainRate

LEAST_FALL_MM = 0.5
"""Less cannot be measured on a roof, and counts as level."""
USUAL_FALL = 80
"""A fall of one in so many is usual for a back gutter (common practice)."""

SOLE = number(
    "gutter_width_mm",
    "Flat width of its floor",
    low=20,
    high=600,
    hint="From the frame to where the sheet turns up the slope. A wedge section counts with half its width.",
)
BACK_DEPTH = number(
    "gutter_depth_mm",
    "Depth of the back gutter",
    low=2,
    high=300,
    hint="From its floor up to the lowest edge that water may run over, frame or sheet under the tiles.",
)
FALL = number(
    "fall_mm",
    "Fall of its floor",
    low=0,
    high=300,
    hint="Lay a level from its highest place and measure down at the end where the water leaves.",
)


def back_gutter(
    linings: tuple[ChannelLining, ...],
    pitch_deg: float,
    above_m: float,
    width_mm: float,
    drains: str,
    fall_mm: float,
    gutter_width_mm: float,
    gutter_depth_mm: float,
    lining: str,
    rain_l_s_m2: float,
) -> Reckoned:
    """Find whether the gutter over a light's head carries the water from the roof above to its ends.

    flow = area x (area / wetted edge)^(2/3) x sqrt(fall / length) / n, and no more than width x sqrt(g) x
    (depth / 2)^(3/2)

    Args:
        pitch_deg: [deg] pitch of the roof above.
        above_m: [m] roof above the light, up the slope.
        width_mm: [mm] width of the light.
        drains: [choice] whether it falls to one end or from its middle to both.
        fall_mm: [mm] fall of its floor, from its highest place to the end.
        gutter_width_mm: [mm] flat width of its floor.
        gutter_depth_mm: [mm] depth of the gutter.
        lining: [choice] what the gutter is made of.
        rain_l_s_m2: [l_s_m2] rain on a level square metre.

    Returns:
        flow_l_s: [l_s] water at one end, rounded up.
        depth_mm: [mm] depth of that water, clean, rounded up; None where it runs over or lies level.
        capacity_l_s: [l_s] what it carries clean and brimful, rounded down; None where it lies level.
        silted_l_s: [l_s] what it carries with silt up to half its depth, rounded down; None where level.

    Source:
        driven-rain-angle: effective area with rain slanting one across to two down.
        manning-table: roughness n, and 0.022 of earth for silt.
        manning-example: a rectangular channel by Manning.
        critical-depth-example: what falls off a free end, from its depth there.
        gutter-free-end: that depth is half the depth at the still end, to be safe.
        new-homes-weathering: lead in pieces of at most 1.5 m.
        side-lap-guidance: a roll between two pieces, never a lap.
        common-practice: a fall of about 1 in 80; lead that is too long for one piece is stepped where water runs on.

    Limits:
        All water counts as if it ran the whole length, and the end lets go no more than at half the depth: it errs
        to the safe side.
        The length of its lead is that of the light's width; what reaches over both sides comes on top.
        A gutter that lies level is not reckoned, though water does spill from its ends.
        Half silted (half the depth, n 0.022) is the measure of this guide, not of a standard.
        Rain thrown off a valley or another light above, leaves, snow and a splash from steep tiles are not counted.

    Example:
        >>> back_gutter(LININGS, 30, 4, 1000, "both", 7, 150, 20, "lead", 0.021).outputs["flow_l_s"]
        0.05
        >>> back_gutter(LININGS, 30, 4, 1000, "both", 0, 150, 20, "lead", 0.021).verdict
        'level'
    """
    head_l_s = rain_l_s_m2 * caught_on_slope_m2(above_m, pitch_deg, width_mm / 1000)
    length_mm = width_mm / (2 if drains == "both" else 1)
    share_l_s = head_l_s * length_mm / width_mm
    flow_l_s = rounded(share_l_s, TO_GUTTER)
    working = (
        f"From the roof above: {figure(head_l_s, 3)} l/s, {figure(share_l_s, 3)} l/s to each end it falls to.",
        *_lead_pieces(width_mm, length_mm),
    )
    if not at_least(fall_mm, LEAST_FALL_MM):
        outputs = {"flow_l_s": flow_l_s, "depth_mm": None, "capacity_l_s": None, "silted_l_s": None}
        level = "Without a fall there is no steady flow to reckon with."
        return Reckoned(outputs=outputs, verdict="level", working=(*working, level))
    channel = Channel(
        width_mm=gutter_width_mm,
        depth_mm=gutter_depth_mm,
        slope=fall_mm / length_mm,
        manning_n=roughness(linings, lining),
        free_end=True,
    )
    fall = f"It falls {quantity(fall_mm, 'mm')} in {figure(length_mm, 0)} mm: 1 in {figure(length_mm / fall_mm, 0)}."
    usual = f"Usual is 1 in {USUAL_FALL} or steeper; flatter ones silt up."
    return carried(channel, flow_l_s, (*working, fall, usual))


def _lead_pieces(width_mm: float, length_mm: float) -> tuple[str, ...]:
    """Say in how many pieces a back gutter of lead is laid; a roll stands only where no water has to pass it."""
    longest = quantity(LONGEST_LEAD_MM, "mm")
    if at_least(LONGEST_LEAD_MM, width_mm):
        return (f"Of lead no piece is longer than {longest}, its ends over both sides with it.",)
    if length_mm < width_mm and at_least(LONGEST_LEAD_MM, length_mm):
        return (f"Over {longest} wide, of lead it is pieces with a wood-cored roll at the high line, never a lap.",)
    dammed = (
        f"Of lead a piece from its highest place to an end would be over {longest}, and a roll there dams the water."
    )
    if at_least(2 * LONGEST_LEAD_MM, width_mm):
        return (f"{dammed} Let it fall to both ends from a roll in its middle.",)
    return (f"{dammed} A leadworker steps it down between two pieces.",)


def _back_table(linings: tuple[ChannelLining, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: what a lead back gutter 150 mm wide carries at the fall of 1 in 80."""
    return tuple(
        (
            quantity(deep_mm, "mm"),
            quantity(brimful_l_s(Channel(150, deep_mm, 1 / USUAL_FALL, roughness(linings, "lead"), True)), "l/s"),
            quantity(half_silted_l_s(Channel(150, deep_mm, 1 / USUAL_FALL, roughness(linings, "lead"), True)), "l/s"),
        )
        for deep_mm in (5.0, 10.0, 20.0, 40.0)
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    linings = rows(data, "channel-linings", ChannelLining)
    rainfall = rows(data, "rainfall", RainRate)
    return Formula(
        id="back-gutter",
        title="Back gutter over a light",
        subject="water",
        inputs=(ROOF_PITCH, ABOVE, ACROSS, DRAINS, FALL, SOLE, BACK_DEPTH, lining_input(linings), rain_input(rainfall)),
        outputs=(TO_GUTTER, WATER_DEPTH, CAPACITY, SILTED),
        verdicts=MappingProxyType(
            {
                "level": "It lies level, so water stands and silt settles in it. Have it relaid to fall to one or both "
                "ends.",
                "runs-over": OVER,
                "only-clean": ONLY_CLEAN,
                "carries": CARRIES,
            }
        ),
        by_hand=ByHand(
            rule=(
                "Water from above: width of the light × roof above it × 0.024, with both in metres, is litres a "
                "second at most, in usual rain. Halve it where it leaves at both ends.",
                "Compare with the table for lead 150 mm wide at a fall of 1 in 80.",
                f"Over {quantity(LONGEST_LEAD_MM / 1000, 'm')} wide, lead is pieces with a wood-cored roll at the "
                "high line, never a lap. Where it falls to one end there is no such line: it has to fall to both.",
            ),
            heads=("Depth", "Clean it carries", "Half silted"),
            rows=_back_table(linings),
        ),
        function=partial(back_gutter, linings),
        example=MappingProxyType(
            {
                **{"pitch_deg": 30, "above_m": 4, "width_mm": 1000, "drains": "both", "fall_mm": 7},
                **{"gutter_width_mm": 150, "gutter_depth_mm": 20, "lining": "lead", "rain_l_s_m2": 0.021},
            }
        ),
        draw=draw_back_gutter,
        tables=only(data, "channel-linings", "rainfall"),
    )
