"""Half-round eaves gutters: how wide one has to be, and what a measured one carries."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.formulas.water.rain import rain_input
from build_tools.model.data import Data, RainRate

CAPACITY_FACTOR = 0.0000278
"""Litres a second to mm² to the power 1.25, of a half-round gutter (EN 12056-3)."""
SAFETY = 0.9
OLDER_FACTOR = 0.0000267
"""The same of the older code (BS 6367), level."""
OLDER_WITH_FALL = 1.4 * 0.9
"""Its 40 per cent more for a fall of 1 in 600, less 10 per cent for friction."""

EAVES_AREA = number(
    "area_m2",
    "Effective area",
    low=0.1,
    high=1000,
    hint="Of the roof that drains to one outlet: see “Rain a roof gathers”. Leave it out if you know the flow.",
    optional=True,
)
EAVES_FLOW = number(
    "flow_l_s",
    "Flow, if you know it",
    low=0.001,
    high=100,
    hint="Goes before the area. An outlet in the middle gets half from each side: reckon with one side.",
    optional=True,
)
EAVES_WIDTH = number(
    "measured_width_mm",
    "Width of the gutter there",
    low=40,
    high=500,
    hint="Inside, across the top, from lip to lip. Leave it out to see only what is needed.",
    optional=True,
)
NEEDED_WIDTH = output("gutter_width_mm", "Width needed", step=1, rounds="up")
EAVES_CAPACITY = output("capacity_l_s", "The measured one carries", step=0.001, rounds="down")


def eaves_gutter(
    area_m2: float | None, flow_l_s: float | None, measured_width_mm: float | None, rain_l_s_m2: float
) -> Reckoned:
    """Find the width of a level half-round eaves gutter, and what a measured one carries, by EN 12056-3.

    flow = 0.9 x 0.0000278 x area^1.25, area = pi x width^2 / 8 in mm2

    Args:
        area_m2: [m2] effective area that drains to one outlet; None where the flow is known.
        flow_l_s: [l_s] flow to one outlet, which goes before the area; None to reckon it.
        measured_width_mm: [mm] width of the gutter found there; None if it was not measured.
        rain_l_s_m2: [l_s_m2] rain on a level square metre.

    Returns:
        gutter_width_mm: [mm] width needed, rounded up; None where neither area nor flow is given.
        capacity_l_s: [l_s] what the measured one carries, rounded down; None where it was not measured.

    Source:
        gutter-flow-standard: the formula and the factor 0.9.
        gutter-sizes: 37 m2 for a 100 mm gutter.
        gutter-tests: tests which found this method closest to what gutters carry.
        gutter-older-method: the older code, which gives another width.
        rain-rate-handbook: 0.021 as the common rate.

    Limits:
        It is for a true half-round, level, clean, with an outlet at its end that takes the flow.
        A run longer than 50 times its depth carries less: 7 per cent less at 100 times, 20 at 200.
        A bend takes about 15 per cent. Other shapes go by their own tests.

    Example:
        >>> eaves_gutter(37, None, 100, 0.021).outputs["gutter_width_mm"]
        100
        >>> eaves_gutter(37, None, 100, 0.021).verdict
        'enough'
    """
    capacity_l_s: float | None = None
    said: tuple[str, ...] = ()
    if measured_width_mm is not None:
        capacity_l_s = rounded(eaves_carries_l_s(measured_width_mm), EAVES_CAPACITY)
        said = (f"A half-round of {quantity(measured_width_mm, 'mm')} carries {quantity(capacity_l_s, 'l/s')}.",)
    if flow_l_s is None and area_m2 is None:
        blank = "Give the effective area or the flow to see what width is needed."
        return Reckoned(
            outputs={"gutter_width_mm": None, "capacity_l_s": capacity_l_s}, verdict=None, working=(blank, *said)
        )
    reckoned_l_s = 0.0 if area_m2 is None else area_m2 * rain_l_s_m2
    coming_l_s = reckoned_l_s if flow_l_s is None else flow_l_s
    needed_mm = rounded(eaves_width_mm(coming_l_s, CAPACITY_FACTOR * SAFETY), NEEDED_WIDTH)
    older_mm = rounded(eaves_width_mm(coming_l_s, OLDER_FACTOR * OLDER_WITH_FALL), NEEDED_WIDTH)
    working = (
        f"{figure(coming_l_s, 3)} l/s come"
        + (f", {quantity(rain_l_s_m2, 'l/(s·m²)')} on the area." if flow_l_s is None else "."),
        f"EN 12056-3, level, with 0.9 for safety: {quantity(needed_mm, 'mm')} needed.",
        f"The older BS 6367, at a fall of 1 in 600, asks for {quantity(older_mm, 'mm')}; so name the method.",
    )
    verdict: str | None = None
    if measured_width_mm is not None:
        verdict = "enough" if at_least(measured_width_mm, needed_mm) else "too-small"
    outputs = {"gutter_width_mm": needed_mm, "capacity_l_s": capacity_l_s}
    return Reckoned(outputs=outputs, verdict=verdict, working=(*working, *said))


def eaves_carries_l_s(width_mm: float) -> float:
    """Give what a level half-round of this width carries, with the factor for safety."""
    return SAFETY * CAPACITY_FACTOR * math.pow(math.pi * width_mm * width_mm / 8, 1.25)


def eaves_width_mm(flow_l_s: float, factor: float) -> float:
    """Give the width of a half-round that carries a flow by factor × area^1.25."""
    return math.sqrt(8 * math.pow(flow_l_s / factor, 0.8) / math.pi)


def _eaves_sizes(rainfall: tuple[RainRate, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: flow and area of the usual sizes."""
    return tuple(
        (
            quantity(wide_mm, "mm"),
            quantity(rounded(eaves_carries_l_s(wide_mm), EAVES_CAPACITY), "l/s"),
            figure(math.floor(eaves_carries_l_s(wide_mm) / rainfall[0].rain_l_s_m2), 0) + " m²",
        )
        for wide_mm in (75.0, 100.0, 115.0, 125.0, 150.0)
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    rainfall = rows(data, "rainfall", RainRate)
    return Formula(
        id="eaves-gutter",
        title="Eaves gutter, half-round",
        subject="water",
        inputs=(EAVES_AREA, EAVES_FLOW, EAVES_WIDTH, rain_input(rainfall)),
        outputs=(NEEDED_WIDTH, EAVES_CAPACITY),
        verdicts=MappingProxyType(
            {
                "too-small": "The gutter is too small for this rain and runs over. Look at the wall and the eaves "
                "under it, and have it made wider or given another outlet.",
                "enough": "By its width the gutter is enough for this rain. That does not clear it: look for silt, a "
                "sag, a small outlet and a choked pipe.",
            }
        ),
        by_hand=ByHand(
            rule=("Find the effective area or the flow in the table, and take the next wider gutter.",),
            heads=("Width", "Carries", "Area in usual rain"),
            rows=_eaves_sizes(rainfall),
        ),
        function=eaves_gutter,
        example=MappingProxyType({"area_m2": 37, "measured_width_mm": 100, "rain_l_s_m2": 0.021}),
        tables=only(data, "rainfall"),
    )
