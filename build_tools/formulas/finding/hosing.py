"""How long a hose test takes, zone by zone from the lowest up."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Reckoned, number, output
from build_tools.formulas.finding.hosing_drawing import draw_hose_test
from build_tools.formulas.numbers import TOLERANCE, at_least, figure, quantity, rounded
from build_tools.model.data import Data

HOSE_LENGTH_MM = 1500
HOSE_FLOW_MIN = 5
"""A hose takes 5 minutes to each 1.5 m, or part of it (AAMA 501.2)."""
UNKNOWN_WAIT_MIN = 30
"""Where no delay was seen in rain (project choice)."""
HALF_DAY_MIN = 240
"""More than this is better done in two visits (project choice)."""

FOOT = number(
    "foot_mm",
    "Foot of the light",
    low=0,
    high=10000,
    hint="Measure along the lower edge, with its apron. 0 leaves the zone out.",
    default=780,
)
SIDE = number(
    "side_mm",
    "One side of the light",
    low=0,
    high=10000,
    hint="Measure one side up the slope. It is counted twice, left and right. 0 leaves both out.",
    default=1180,
)
HEAD = number(
    "head_mm",
    "Head of the light",
    low=0,
    high=10000,
    hint="Measure along the upper edge, with its back gutter. 0 leaves the zone out.",
    default=780,
)
GLASS = number(
    "glass_mm",
    "Edge of the glass",
    low=0,
    high=40000,
    hint="Measure once round the glass. 0 leaves the zone out.",
    default=3920,
)
ABOVE = number(
    "above_mm",
    "Slope above the light",
    low=0,
    high=40000,
    hint="Measure level across the strip to wet above the head. 0 leaves the zone out.",
    default=1500,
)
DELAY = number(
    "delay_min",
    "Delay seen in rain",
    low=1,
    high=1440,
    hint="Time from the start of the rain to the first drop inside. Leave it out if nobody saw it.",
    optional=True,
)
FOOT_FLOW = output("foot_min", "Flow at the foot", step=1, rounds="up")
SIDE_FLOW = output("side_min", "Flow at each side", step=1, rounds="up")
HEAD_FLOW = output("head_min", "Flow at the head", step=1, rounds="up")
GLASS_FLOW = output("glass_min", "Flow at the edge of the glass", step=1, rounds="up")
ABOVE_FLOW = output("above_min", "Flow on the slope above", step=1, rounds="up")
WAIT = output("wait_min", "Wait after each zone", step=1, rounds="up")
TOTAL = output("total_min", "All zones with their waits", step=1, rounds="up")


def hose_test_plan(
    foot_mm: float, side_mm: float, head_mm: float, glass_mm: float, above_mm: float, delay_min: float | None
) -> Reckoned:
    """Plan the minutes of a hose test, one zone at a time from the lowest up.

    flow = 5 min × (length / 1.5 m, whole lengths up); wait = 2 × delay seen in rain, or 30 min

    Args:
        foot_mm: [mm] length of the lower edge.
        side_mm: [mm] length of one side; there are two.
        head_mm: [mm] length of the upper edge.
        glass_mm: [mm] once round the glass.
        above_mm: [mm] width of the slope to wet above the light.
        delay_min: [min] from the start of rain to the first drop inside; None if not known.

    Returns:
        foot_min: [min] soft flow at the foot.
        side_min: [min] soft flow at each side.
        head_min: [min] soft flow at the head.
        glass_min: [min] soft flow at the edge of the glass.
        above_min: [min] soft flow on the slope above.
        wait_min: [min] dry watching after each zone, rounded up.
        total_min: [min] all zones with their waits.

    Source:
        hose-test-method: 5 minutes to each 1.5 m, from the lowest joint up.
        project-choice: wait twice the delay, or 30 minutes; more than 4 hours is too long for one visit.

    Limits:
        The lengths and minutes come from a test of fixed glazing; its pressure does not suit tiles, so use a soft flow.
        A hose drives no wind: a dry test does not clear the roof.
        Stop at the first drop; let it dry, and wet the same zone again to prove it.
        Before any water: lamps and sockets below off at the consumer unit, and nobody stands on the wet slope.
        Not in frost, wind or lightning, and never up the slope against the laps.

    Example:
        >>> hose_test_plan(780, 1180, 780, 3920, 1500, None).outputs["total_min"]
        220
        >>> hose_test_plan(780, 1180, 780, 3920, 1500, 10).outputs["wait_min"]
        20
    """
    wait_min = rounded(UNKNOWN_WAIT_MIN if delay_min is None else 2 * delay_min, WAIT)
    zones = (
        ("Foot", foot_mm),
        ("First side", side_mm),
        ("Second side", side_mm),
        ("Head", head_mm),
        ("Edge of the glass", glass_mm),
        ("Slope above", above_mm),
    )
    total_min = 0.0
    working: tuple[str, ...] = (_hose_wait(delay_min, wait_min),)
    for name, length_mm in zones:
        flow_min = hose_flow_min(length_mm)
        if flow_min > 0:
            total_min = total_min + flow_min + wait_min
            working = (*working, _hose_zone(name, length_mm, flow_min, wait_min))
    outputs = {
        "foot_min": rounded(hose_flow_min(foot_mm), FOOT_FLOW),
        "side_min": rounded(hose_flow_min(side_mm), SIDE_FLOW),
        "head_min": rounded(hose_flow_min(head_mm), HEAD_FLOW),
        "glass_min": rounded(hose_flow_min(glass_mm), GLASS_FLOW),
        "above_min": rounded(hose_flow_min(above_mm), ABOVE_FLOW),
        "wait_min": wait_min,
        "total_min": rounded(total_min, TOTAL),
    }
    working = (*working, f"All together: {quantity(total_min, 'min')}.")
    return Reckoned(outputs=outputs, verdict=_hose_verdict(total_min, delay_min), working=working)


def hose_flow_min(length_mm: float) -> float:
    """Give the minutes of flow for a zone: 5 for each 1.5 m or part of it, none for no length."""
    return HOSE_FLOW_MIN * math.ceil(length_mm / HOSE_LENGTH_MM - TOLERANCE)


def _hose_wait(delay_min: float | None, wait_min: float) -> str:
    if delay_min is None:
        return f"No delay was seen in rain: wait {quantity(wait_min, 'min')} after each zone."
    return f"2 × {quantity(delay_min, 'min')} = {quantity(2 * delay_min, 'min')}: wait {quantity(wait_min, 'min')}."


def _hose_zone(name: str, length_mm: float, flow_min: float, wait_min: float) -> str:
    lengths = figure(flow_min / HOSE_FLOW_MIN, 0)
    return (
        f"{name}: {quantity(length_mm, 'mm')} ÷ {quantity(HOSE_LENGTH_MM, 'mm')}, rounded up to {lengths}; "
        f"{lengths} × {quantity(HOSE_FLOW_MIN, 'min')} = {quantity(flow_min, 'min')} of flow, "
        f"then {quantity(wait_min, 'min')} of waiting."
    )


def _hose_verdict(total_min: float, delay_min: float | None) -> str:
    if total_min == 0:
        return "no-zone"
    if not at_least(HALF_DAY_MIN, total_min):
        return "two-visits"
    return "delay-unknown" if delay_min is None else "one-visit"


def _hose_rows() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the flow that common lengths need, and the wait of common delays."""
    return tuple(
        (quantity(length_mm, "mm"), quantity(hose_flow_min(length_mm), "min"))
        for length_mm in (1500, 3000, 4500, 6000, 7500, 9000)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="hose-test-plan",
        title="Minutes of a hose test",
        subject="finding",
        inputs=(FOOT, SIDE, HEAD, GLASS, ABOVE, DELAY),
        outputs=(FOOT_FLOW, SIDE_FLOW, HEAD_FLOW, GLASS_FLOW, ABOVE_FLOW, WAIT, TOTAL),
        verdicts=MappingProxyType(
            {
                "no-zone": "No zone has a length, so there is nothing to plan. Measure the light first.",
                "two-visits": "This takes more than half a day. Do the lower zones first, and go on another day, "
                "once all is dry.",
                "delay-unknown": "Half a day is enough, but the wait is a guess. Time the delay in the next rain, "
                "and do not call a zone dry on a short wait.",
                "one-visit": "Half a day is enough. Stop at the first drop; no drop does not clear the roof, for a "
                "hose drives no wind.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Begin at the foot. Then one side, the other side, the head, the edge of the glass, the slope above.",
                "Find the flow for the length of each zone in the table; take the next longer length.",
                "After each zone shut the hose and wait twice the delay seen in rain, or 30 min if it is not known.",
                "Add up all flows and all waits.",
            ),
            heads=("Zone up to", "Soft flow"),
            rows=_hose_rows(),
        ),
        function=hose_test_plan,
        example=MappingProxyType(
            {"foot_mm": 780, "side_mm": 1180, "head_mm": 780, "glass_mm": 3920, "above_mm": 1500, "delay_min": 10}
        ),
        draw=draw_hose_test,
    )
