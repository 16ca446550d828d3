"""How high water has to climb up a headlap, and the wind that can press it there."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.covering.laps_drawing import draw_lap_rise
from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.model.data import Data

WATER_PA_MM = 9.81
"""Pressure under a millimetre of water: 1000 kg/m³ and 9.81 m/s²."""
WIND_FACTOR = 0.613
"""Half the density of air: pressure in Pa = 0.613 (wind in m/s)²."""
MPH_IN_M_S = 0.44704
LEVEL_MM = 1
"""A rise of less than this is no rise."""

LYING_PITCH = number(
    "pitch_deg",
    "Pitch at which the tile or slate lies",
    low=0,
    high=90,
    hint="Lay a short level or slope gauge on the tile itself. It lies 3 to 10 degrees flatter than the rafter.",
)
RISE_HEADLAP = number(
    "headlap_mm",
    "Headlap",
    low=0,
    high=500,
    hint="How far the water has to come up between the two pieces, along the slope.",
)
GUST = number(
    "gust_m_s",
    "Strongest gust in the storm",
    low=0,
    high=80,
    hint="From the weather service, for the hour of the leak: miles an hour times 0.45, knots times 0.51. Leave it "
    "out if it is not known.",
    optional=True,
)
LAP_HEIGHT = output("rise_mm", "Height to climb", step=1, rounds="down")
LAP_PRESSURE = output("pressure_pa", "Pressure that lifts water so high", step=1, rounds="down")
LAP_WIND = output("wind_m_s", "Wind with that pressure", step=0.1, rounds="down")


def lap_rise(pitch_deg: float, headlap_mm: float, gust_m_s: float | None) -> Reckoned:
    """Find how high water must climb to pass a headlap, and the wind whose pressure equals that height of water.

    height = headlap sin(pitch); pressure = 9.81 Pa for each mm; wind = sqrt(pressure / 0.613)

    Args:
        pitch_deg: [deg] pitch at which the tile, slate or sheet really lies.
        headlap_mm: [mm] headlap along the slope.
        gust_m_s: [m_s] strongest gust; None if not known.

    Returns:
        rise_mm: [mm] height from the tail of the upper piece to the head of the lower, rounded down.
        pressure_pa: [pa] pressure of so much water, rounded down.
        wind_m_s: [m_s] the wind whose full pressure is the same, rounded down.

    Source:
        wind-pressure: 0.613 times the square of the wind.
        tile-true-pitch: a tile lies 3 to 10 degrees flatter than its rafter.

    Limits:
        It is a way to compare laps, not a test of one. A still column of water stands for a wet lap.
        Gusts at the roof may be stronger or weaker than those of the weather service.
        In a narrow gap water climbs without wind; splash, flooding, grit and moss bring it further.
        Air behind the covering takes up part of the pressure: an open joint gives less way than a sealed one.

    Example:
        >>> lap_rise(20, 75, 15).outputs["rise_mm"]
        25
        >>> lap_rise(20, 75, 15).verdict
        'under'
    """
    exact_mm = headlap_mm * math.sin(math.radians(pitch_deg))
    exact_pa = exact_mm * WATER_PA_MM
    exact_m_s = math.sqrt(exact_pa / WIND_FACTOR)
    rise_mm = rounded(exact_mm, LAP_HEIGHT)
    pressure_pa = rounded(exact_pa, LAP_PRESSURE)
    wind_m_s = rounded(exact_m_s, LAP_WIND)
    outputs = {"rise_mm": rise_mm, "pressure_pa": pressure_pa, "wind_m_s": wind_m_s}
    working = (
        f"{quantity(headlap_mm, 'mm')} × sin {quantity(pitch_deg, '°')} = {figure(exact_mm, 2)} mm. "
        f"Rounded down: {quantity(rise_mm, 'mm')}.",
        f"{figure(exact_mm, 2)} mm × {figure(WATER_PA_MM, 2)} Pa = {figure(exact_pa, 1)} Pa.",
        f"√({figure(exact_pa, 1)} ÷ {figure(WIND_FACTOR, 3)}) = {figure(exact_m_s, 2)} m/s. Rounded down: "
        f"{quantity(wind_m_s, 'm/s')}, or {figure(wind_m_s / MPH_IN_M_S, 0)} miles an hour.",
    )
    if not at_least(rise_mm, LEVEL_MM):
        level = "There is no height to climb: water lies in this lap, or runs through it, without any wind."
        return Reckoned(outputs=outputs, verdict="no-rise", working=(*working, level))
    if gust_m_s is None:
        return Reckoned(outputs=outputs, verdict=None, working=working)
    reached = at_least(gust_m_s, wind_m_s)
    said = f"The gust of {quantity(gust_m_s, 'm/s')} is " + ("as strong, or stronger." if reached else "weaker.")
    return Reckoned(outputs=outputs, verdict="over" if reached else "under", working=(*working, said))


def _rises() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: height and wind for a headlap of 75 and of 100 mm."""
    rows: tuple[tuple[str, ...], ...] = ()
    for pitch in (10.0, 12.5, 15.0, 17.5, 20.0, 25.0, 30.0, 35.0, 45.0):
        short = lap_rise(pitch, 75, None).outputs
        long = lap_rise(pitch, 100, None).outputs
        cells = (short["rise_mm"], short["wind_m_s"], long["rise_mm"], long["wind_m_s"])
        rows = (*rows, (quantity(pitch, "°"), *(figure(each or 0, 1) for each in cells)))
    return rows


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="lap-rise",
        title="How high water must climb a headlap",
        subject="covering",
        inputs=(LYING_PITCH, RISE_HEADLAP, GUST),
        outputs=(LAP_HEIGHT, LAP_PRESSURE, LAP_WIND),
        verdicts=MappingProxyType(
            {
                "no-rise": "The lap gives no height at all. Water can pass it without wind.",
                "over": "A gust this strong can hold water as high as this lap. Wind-driven rain over the lap is a "
                "cause to look into.",
                "under": "The gust alone does not hold water so high. Look first for a shorter lap, dirt in it, or "
                "another way in.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the pitch at which the tile lies, 3 to 10 degrees under that of the rafter.",
                "Height is in mm, wind in m/s; a wind of 10 m/s is about 22 miles an hour.",
                "Four times the height takes twice the wind.",
            ),
            heads=("Pitch", "75 mm lap: height", "wind", "100 mm lap: height", "wind"),
            rows=_rises(),
        ),
        function=lap_rise,
        example=MappingProxyType({"pitch_deg": 20, "headlap_mm": 75, "gust_m_s": 25}),
        draw=draw_lap_rise,
    )
