"""Rain that a roof gathers: its effective area, and the flow that runs off it."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Input, Reckoned, number, output
from build_tools.formulas.numbers import figure, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.model.data import Data, RainRate

"""The common rate for eaves gutters in Britain: the first row of the table."""
MM_H_OF_L_S_M2 = 3600
"""A litre on a square metre stands a millimetre deep, and an hour has 3600 seconds."""


def rain_input(rainfall: tuple[RainRate, ...]) -> Input:
    """Ask for the rain: the first row of the table, the common rate for eaves, where nothing is typed."""
    return number(
        "rain_l_s_m2",
        "Rain",
        low=0.001,
        high=0.2,
        hint="0.021 is the usual rate for eaves in Britain, about 75 mm an hour. Divide mm an hour by 3600. "
        "The table of rainfall has more. Take more where running over would wet the house, and ask for the local rate.",
        default=rainfall[0].rain_l_s_m2,
    )


PLAN_WIDTH = number(
    "plan_width_m",
    "Width on plan",
    low=0.1,
    high=50,
    hint="From the eaves level in to under the ridge, not along the slope. Take it off a drawing or in the loft.",
)
RISE = number(
    "rise_m",
    "Rise",
    low=0,
    high=30,
    hint="From the eaves plumb up to the ridge. A flat roof has 0.",
)
ALONG_EAVES = number("length_m", "Length along the eaves", low=0.1, high=100, hint="Measure along the gutter.")
WALL = number(
    "wall_area_m2",
    "Wall above that drains on to it",
    low=0,
    high=1000,
    hint="Width times height of one wall that stands over this roof, such as a gable or a cheek. Leave it out if none.",
    optional=True,
)
AREA = output("area_m2", "Effective area", step=0.1, rounds="up")
RUN_OFF = output("flow_l_s", "Flow", step=0.01, rounds="up")
RAIN_MM_H = output("rain_mm_h", "The same rain", step=1, rounds="nearest")


def roof_catchment(
    plan_width_m: float, rise_m: float, length_m: float, wall_area_m2: float | None, rain_l_s_m2: float
) -> Reckoned:
    """Find the area with which a roof catches driven rain, and how much water runs off it.

    area = (plan width + rise / 2) x length + wall / 2; flow = area x rain

    Args:
        plan_width_m: [m] from eaves to ridge on plan.
        rise_m: [m] from eaves to ridge, plumb.
        length_m: [m] along the eaves.
        wall_area_m2: [m2] wall above that drains on to it; None if there is none.
        rain_l_s_m2: [l_s_m2] rain on a level square metre.

    Returns:
        area_m2: [m2] effective area, rounded up.
        flow_l_s: [l_s] water that runs off, rounded up.
        rain_mm_h: [mm_h] the same rain in millimetres an hour, to the nearest.

    Source:
        roof-area-book: (W + H / 2) x L, and 75 m2 for 6 m, 3 m and 10 m.
        driven-rain-angle: rain slants one across to two down; half of one wall is added.
        rain-units: litres a second and square metre against millimetres an hour; rates from 0.010 to 0.022.
        rain-rate-handbook: 0.021 as the common rate.

    Limits:
        It takes all rain as run off, with the wind straight on to this slope.
        Two or more walls at a corner count with half of the greatest outline seen from one side, not one by one.
        The rate is for eaves. Valleys, parapets and gutters over rooms need a rarer, heavier storm by the local code.

    Example:
        >>> roof_catchment(6, 3, 10, None, 0.021).outputs["area_m2"]
        75.0
        >>> roof_catchment(6, 3, 10, None, 0.021).outputs["flow_l_s"]
        1.58
    """
    wall_m2 = 0.0 if wall_area_m2 is None else wall_area_m2
    area_m2 = caught_m2(plan_width_m, rise_m, length_m) + wall_m2 / 2
    flow_l_s = rounded(area_m2 * rain_l_s_m2, RUN_OFF)
    said = f"({quantity(plan_width_m, 'm')} + {quantity(rise_m, 'm')} ÷ 2) × {quantity(length_m, 'm')}"
    wall = "" if wall_m2 == 0 else f" + {quantity(wall_m2, 'm²')} of wall ÷ 2"
    working = (
        f"{said}{wall} = {figure(area_m2, 2)} m².",
        f"{figure(area_m2, 2)} m² × {quantity(rain_l_s_m2, 'l/(s·m²)')} = {figure(area_m2 * rain_l_s_m2, 3)} l/s.",
        f"{quantity(rain_l_s_m2, 'l/(s·m²)')} × 3600 = {figure(rain_l_s_m2 * MM_H_OF_L_S_M2, 1)} mm an hour.",
    )
    outputs = {
        "area_m2": rounded(area_m2, AREA),
        "flow_l_s": flow_l_s,
        "rain_mm_h": rounded(rain_l_s_m2 * MM_H_OF_L_S_M2, RAIN_MM_H),
    }
    return Reckoned(outputs=outputs, verdict=None, working=working)


def caught_m2(plan_width_m: float, rise_m: float, length_m: float) -> float:
    """Give the effective area in m² of a slope, with rain slanting one across to two down."""
    return (plan_width_m + rise_m / 2) * length_m


def caught_on_slope_m2(slope_m: float, pitch_deg: float, across_m: float) -> float:
    """Give the effective area in m² of a piece of roof measured up its slope."""
    pitch = math.radians(pitch_deg)
    return caught_m2(slope_m * math.cos(pitch), slope_m * math.sin(pitch), across_m)


def _factors() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: what a square metre on plan counts for at the usual pitches."""
    degrees = (0.0, 15.0, 22.5, 30.0, 35.0, 45.0, 60.0)
    return tuple(
        (quantity(deg, "°"), figure(caught_m2(1, math.tan(math.radians(deg)), 1), 2) + " m²") for deg in degrees
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    rainfall = rows(data, "rainfall", RainRate)
    return Formula(
        id="roof-catchment",
        title="Rain a roof gathers",
        subject="water",
        inputs=(PLAN_WIDTH, RISE, ALONG_EAVES, WALL, rain_input(rainfall)),
        outputs=(AREA, RUN_OFF, RAIN_MM_H),
        verdicts=MappingProxyType({}),
        by_hand=ByHand(
            rule=(
                "Add half the rise to the width on plan, and multiply by the length. Add half of a wall above.",
                "Or multiply the area on plan by what the table gives for the pitch.",
                "Multiply by 0.021 for litres a second in usual rain.",
            ),
            heads=("Pitch", "A square metre on plan counts as"),
            rows=_factors(),
        ),
        function=roof_catchment,
        example=MappingProxyType({"plan_width_m": 6, "rise_m": 3, "length_m": 10, "rain_l_s_m2": 0.021}),
        tables=only(data, "rainfall"),
    )
