"""Soakers beside a light: how many, how long and how wide."""

from __future__ import annotations

import math
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, round_up, rounded
from build_tools.formulas.sheet.soakers_drawing import TURN_DOWN_MM, draw_soakers
from build_tools.model.data import Data

UNDER_MM = 100
"""How far a soaker goes in under the covering."""
UNDER_PLAIN_TILES_MM = 75
"""How much is accepted under plain tiles, where one is found (common practice)."""
UP_MM = 75
"""How far it is turned up against the light."""

SOAKER_COVERING = choice(
    "covering",
    "Covering",
    choices=(
        Choice("slate", "Slates"),
        Choice("plain-tile", "Plain tiles"),
        Choice("single-lap", "Interlocking or other single-lap tiles"),
    ),
    hint="Plain tiles and slates lie two thick everywhere. Tiles that hook into their neighbour are single-lap.",
    default="slate",
)
SIDE_HEIGHT = number(
    "height_mm",
    "Length of one side of the light",
    low=100,
    high=10000,
    hint="Along the slope, over the outside of the upstand or frame, from its foot to its head.",
)
SOAKER_GAUGE = number(
    "gauge_mm",
    "Gauge of the covering",
    low=40,
    high=450,
    hint="From tail to tail. Measure over ten courses and divide by ten. Plain tiles lie at about 100.",
)
SOAKER_LAP = number(
    "headlap_mm",
    "Headlap",
    low=20,
    high=300,
    hint="Length of the slate or tile less two gauges. Plain tiles: 65 or more.",
)
SIDES = number("sides_count", "Sides to be done", low=1, high=40, hint="Two for one light.", default=2, whole=True)
SOAKER_FOUND_LENGTH = number(
    "measured_length_mm",
    "Length of the soakers found",
    low=0,
    high=2000,
    hint="Draw one out, or lift a tile and measure it, the turned edge at its head with it. Leave it out for new ones.",
    optional=True,
)
SOAKER_FOUND_UNDER = number(
    "under_mm",
    "What lies under the covering",
    low=0,
    high=1000,
    hint="From the fold in to the edge that lies under the slate or tile. Leave it out for new ones.",
    optional=True,
)
SOAKER_FOUND_UP = number(
    "up_mm",
    "What stands up against the light",
    low=0,
    high=1000,
    hint="From the fold up to the rim, at its lowest place. Leave it out for new ones.",
    optional=True,
)
SOAKER_LENGTH = output("length_mm", "Length of a soaker", step=1, rounds="up")
SOAKER_WIDTH = output("width_mm", "Width, before it is folded", step=1, rounds="up")
SOAKERS_A_SIDE = output("soakers_count", "To a side, one to each course", step=1, rounds="up")
SOAKERS_IN_ALL = output("total_count", "To cut in all, one more a side", step=1, rounds="up")


def soakers(
    covering: str,
    height_mm: float,
    gauge_mm: float,
    headlap_mm: float,
    sides_count: int,
    measured_length_mm: float | None,
    under_mm: float | None,
    up_mm: float | None,
) -> Reckoned:
    """Find the number and the size of the soakers beside a light, and whether those found are large enough.

    length = gauge + headlap + 25 mm; width = 100 mm + 75 mm; one to each course

    Args:
        covering: [choice] slates, plain tiles, or single-lap tiles.
        height_mm: [mm] length of one side of the light, along the slope.
        gauge_mm: [mm] gauge of the covering.
        headlap_mm: [mm] headlap of the covering.
        sides_count: [count] sides to be done.
        measured_length_mm: [mm] length of the soakers found; None if not measured.
        under_mm: [mm] how far those found lie under the covering; None if not measured.
        up_mm: [mm] how far those found stand up against the light; None if not measured.

    Returns:
        length_mm: [mm] length, the turn-down with it, rounded up; None where there is no soaker.
        width_mm: [mm] width of the flat piece.
        soakers_count: [count] courses beside the light, rounded up.
        total_count: [count] for all sides, with one more a side, since no course starts just at the foot.

    Source:
        soaker-sizes: 25 mm to turn down, 100 mm under the covering and 75 mm up.
        soaker-book: one to each course, as long as gauge and lap, 4 inches under and 4 up.
        common-practice: 75 mm under plain tiles is accepted where it is found; a new soaker gets 100 mm.
        soaker-guidance: soakers go with plain tiles and double-lap slates, and how thick they are.

    Limits:
        Lead of code 3 or 4 and no thicker, aluminium from 0.7 mm, zinc from 0.8 mm, copper from 0.55 mm.
        It is for one size of slate or tile; diminishing courses have a soaker for each gauge.
        In exposed places and at low pitches wider soakers are usual.
        What stands up does not make up for what is missing under the covering, nor the other way round.

    Example:
        >>> soakers("plain-tile", 1180, 100, 65, 2, None, None, None).outputs["length_mm"]
        190
        >>> soakers("slate", 1180, 212.5, 75, 2, 315, 50, 125).verdict
        'narrow'
    """
    nothing = {"length_mm": None, "width_mm": None, "soakers_count": None, "total_count": None}
    if covering == "single-lap":
        said = "Between single-lap tiles a soaker has no second thickness to lie on. No size is reckoned."
        return Reckoned(outputs=nothing, verdict="misfit", working=(said,))
    if not at_least(gauge_mm, headlap_mm):
        said = (
            f"A headlap of {quantity(headlap_mm, 'mm')} at a gauge of {quantity(gauge_mm, 'mm')} is more than a third "
            "of the slate."
        )
        return Reckoned(outputs=nothing, verdict="misfit", working=(said,))
    exact_mm = gauge_mm + headlap_mm + TURN_DOWN_MM
    length_mm = rounded(exact_mm, SOAKER_LENGTH)
    width_mm = rounded(UNDER_MM + UP_MM, SOAKER_WIDTH)
    a_side = courses_beside(height_mm, gauge_mm)
    total = soakers_in_all(a_side, sides_count)
    outputs = {"length_mm": length_mm, "width_mm": width_mm, "soakers_count": a_side, "total_count": total}
    working: tuple[str, ...] = (
        f"{quantity(gauge_mm, 'mm')} gauge + {quantity(headlap_mm, 'mm')} lap + {quantity(TURN_DOWN_MM, 'mm')} to turn "
        f"down = {figure(exact_mm, 2)} mm long. Rounded up: {quantity(length_mm, 'mm')}.",
        f"{quantity(UNDER_MM, 'mm')} under + {quantity(UP_MM, 'mm')} up = {quantity(width_mm, 'mm')} wide.",
        f"{quantity(height_mm, 'mm')} ÷ {quantity(gauge_mm, 'mm')} = {figure(height_mm / gauge_mm, 2)}, so "
        f"{figure(a_side, 0)} courses to a side, and one more where they do not begin at the foot.",
        f"({figure(a_side, 0)} + 1) × {sides_count} = {figure(total, 0)} to cut.",
    )
    least_mm = UNDER_PLAIN_TILES_MM if covering == "plain-tile" else UNDER_MM
    if under_mm is not None and at_least(under_mm, least_mm) and not at_least(under_mm, UNDER_MM):
        passed = f"{quantity(under_mm, 'mm')} under plain tiles is accepted. A new one gets {quantity(UNDER_MM, 'mm')}."
        working = (*working, passed)
    verdict = _soaker_verdict(measured_length_mm, under_mm, up_mm, length_mm, least_mm)
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def _soaker_verdict(
    found_length_mm: float | None, under_mm: float | None, up_mm: float | None, length_mm: float, least_mm: float
) -> str | None:
    """Judge each size of those found by itself; what falls short is told even where the others are not known."""
    if found_length_mm is not None and not at_least(found_length_mm, length_mm):
        return "short"
    if under_mm is not None and not at_least(under_mm, least_mm):
        return "narrow"
    if up_mm is not None and not at_least(up_mm, UP_MM):
        return "low"
    return None if found_length_mm is None or under_mm is None or up_mm is None else "enough"


def courses_beside(height_mm: float, gauge_mm: float) -> float:
    """Count the courses beside one side of a light, a part of one as a whole."""
    return round_up(height_mm / gauge_mm, 1)


def soakers_in_all(a_side: float, sides_count: int) -> float:
    """Count pieces for all sides, with one more a side, since no course starts just at the foot."""
    return (a_side + 1) * sides_count


def _soaker_lengths() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: soakers of plain tiles and usual slates."""
    usual = (
        ("Plain tile, 265 mm", 265.0, 65.0),
        ("Slate, 300 mm", 300.0, 75.0),
        ("Slate, 400 mm", 400.0, 75.0),
        ("Slate, 500 mm", 500.0, 75.0),
        ("Slate, 500 mm", 500.0, 100.0),
        ("Slate, 600 mm", 600.0, 100.0),
    )
    return tuple(
        (
            name,
            quantity(lap, "mm"),
            quantity((long - lap) / 2, "mm"),
            quantity(rounded((long - lap) / 2 + lap + TURN_DOWN_MM, SOAKER_LENGTH), "mm"),
            figure(math.ceil(1000 / ((long - lap) / 2)), 0),
        )
        for name, long, lap in usual
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="soakers",
        title="Soakers beside a light",
        subject="sheet",
        inputs=(
            SOAKER_COVERING,
            SIDE_HEIGHT,
            SOAKER_GAUGE,
            SOAKER_LAP,
            SIDES,
            SOAKER_FOUND_LENGTH,
            SOAKER_FOUND_UNDER,
            SOAKER_FOUND_UP,
        ),
        outputs=(SOAKER_LENGTH, SOAKER_WIDTH, SOAKERS_A_SIDE, SOAKERS_IN_ALL),
        verdicts=MappingProxyType(
            {
                "enough": "They are long enough, and wide enough on both sides of the fold. See that there is one to "
                "every course, whole, and turned up all the way.",
                "short": "They are too short. Each has to lie on the one below by the full headlap, or water runs "
                "over its head into the roof.",
                "narrow": "Too little lies under the covering. Water that spreads sideways there gets past their edge, "
                "however high they stand.",
                "low": "They stand too low against the light. Water that runs or splashes there gets over their rim, "
                "however far they lie under the covering.",
                "misfit": "No size fits. Single-lap tiles take no soakers, but a side gutter or a cover dressed well "
                "over them. A headlap longer than the gauge was misread: measure both again.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Add gauge, headlap and 25 mm: that is the length. Each is 175 mm wide, 100 under and 75 up.",
                "Divide the side of the light by the gauge, round up, and cut one more for each side.",
            ),
            heads=("Covering", "Headlap", "Gauge", "Soaker", "To a metre"),
            rows=_soaker_lengths(),
        ),
        function=soakers,
        example=MappingProxyType(
            {
                "covering": "slate",
                "height_mm": 1180,
                "gauge_mm": 212.5,
                "headlap_mm": 75,
                "sides_count": 2,
                "measured_length_mm": 250,
                "under_mm": 100,
                "up_mm": 75,
            }
        ),
        draw=draw_soakers,
    )
