"""Rain that wind drives against a light: hours of weather, summed by the way the light faces."""

from __future__ import annotations

from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output, rows_input
from build_tools.formulas.finding.compass import COMPASS, driven_l_m2, driving_point
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.water.driving_drawing import draw_driving_rain
from build_tools.model.data import Data

MUCH = 0.5
"""A share of the worst facing from which a light counts as exposed; a choice of this guide."""

POINTS = tuple(Choice(point.id, point.label) for point in COMPASS)
HOURS = rows_input(
    "hours",
    "Hours of rain",
    columns=(
        number("wind_m_s", "Wind", low=0, high=60, hint="Mean of the hour. Miles an hour ÷ 2.24, km/h ÷ 3.6."),
        number("rain_mm", "Rain in the hour", low=0, high=150, hint="From a rain gauge or the weather record."),
        choice("wind_from", "Wind from", choices=POINTS, hint="Where it blows from.", default="sw"),
    ),
    low=1,
    high=24,
    hint="From the hourly record of the nearest weather station, for the hours in which it leaked.",
    default=((None, None, "sw"),),
)
LIGHT_FACES = choice(
    "facing",
    "The light faces",
    choices=POINTS,
    hint="Stand inside with a compass at the light, away from steel, and look down the slope.",
    default="sw",
)
INDEX = output("index_l_m2", "Driven against this facing", step=0.001, rounds="nearest")
WORST = output("worst_l_m2", "Against the worst of eight facings", step=0.001, rounds="nearest")
WORST_DEG = output("worst_facing_deg", "Worst facing, clockwise from north", step=1, rounds="nearest")


def driving_rain(hours: tuple[tuple[float, float, str], ...], facing: str) -> Reckoned:
    """Find how much rain the wind drove towards the way a light faces, against the worst of eight facings.

    I = 2/9 x sum of wind x rain^(8/9) x cos(wind from - facing), of hours where the cosine is over 0

    Args:
        hours: [rows] wind in m/s, rain in mm and where the wind came from, hour by hour.
        facing: [choice] the way the light faces.

    Returns:
        index_l_m2: [l_m2] rain driven against an upright wall of this facing in these hours, to the nearest.
        worst_l_m2: [l_m2] the same for the worst of eight facings, to the nearest.
        worst_facing_deg: [deg] that facing, clockwise from north; None where no rain was driven.

    Source:
        driving-rain-standard: the sum for each hour, in the open, without factors for the place.
        project-choice: half of the worst facing as the line between much and little.

    Limits:
        It only ranks facings. A slope is rained on without wind too, so the litres are not what a light gets.
        Wind is as measured at 10 m in open country; trees, houses and hills turn it and slow it.
        It tells of the listed hours alone, and of no year. A leak may come hours after its rain.

    Example:
        >>> driving_rain(((5, 2, "sw"), (8, 4.5, "w"), (10, 1, "s"), (6, 3, "ne")), "sw").outputs["index_l_m2"]
        8.415
        >>> driving_rain(((5, 2, "sw"), (8, 4.5, "w"), (10, 1, "s"), (6, 3, "ne")), "sw").verdict
        'worst'
    """
    faced = driving_point(facing)
    index = rounded(driven_l_m2(hours, faced.deg), INDEX)
    worst_point = COMPASS[0]
    worst = 0.0
    for step in range(8):
        point = COMPASS[2 * step]
        driven = rounded(driven_l_m2(hours, point.deg), WORST)
        if driven > worst:
            worst = driven
            worst_point = point
    working = (
        f"{len(hours)} {'hour' if len(hours) == 1 else 'hours'}, each 2/9 × wind × rain^(8/9) × cosine of the angle.",
        f"{faced.label}: {quantity(index, 'l/m²')}.",
    )
    if worst == 0:
        outputs = {"index_l_m2": index, "worst_l_m2": worst, "worst_facing_deg": None}
        return Reckoned(outputs=outputs, verdict="none", working=(*working, "No facing of the eight got any."))
    share = f"{worst_point.label} is the worst: {quantity(worst, 'l/m²')}. "
    share = share + f"The light's facing got {figure(100 * index / worst, 0)}% of that."
    outputs = {
        "index_l_m2": index,
        "worst_l_m2": worst,
        "worst_facing_deg": rounded(worst_point.deg, WORST_DEG),
    }
    verdict = "worst" if at_least(index, worst) else "much" if at_least(index, MUCH * worst) else "little"
    return Reckoned(outputs=outputs, verdict=verdict, working=(*working, share))


def _driven_rates() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: an hour of rain with the wind straight on."""
    return tuple(
        (
            quantity(rain_mm, "mm"),
            *(figure(driven_l_m2(((wind_m_s, rain_mm, "n"),), 0), 1) + " l/m²" for wind_m_s in (5.0, 10.0, 15.0)),
        )
        for rain_mm in (1.0, 2.0, 5.0, 10.0)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="driving-rain",
        title="Driving rain by facing",
        subject="water",
        inputs=(HOURS, LIGHT_FACES),
        outputs=(INDEX, WORST, WORST_DEG),
        verdicts=MappingProxyType(
            {
                "worst": "No facing got more driven rain in these hours. Look first at the joints that this wind "
                "blows into.",
                "much": "This facing got half or more of what the worst one got. Driven rain can be the cause; look "
                "at the joints on the windy side too.",
                "little": "This facing got less than half of what the worst one got. That clears nothing: look too for "
                "water that runs down from above, and for condensation.",
                "none": "No rain to speak of was driven in these hours. Check the record; then look for water that "
                "runs down from above, and for condensation.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Take each hour from the table, with the wind straight on; wind from 45° aside counts 0.7, from 90° "
                "or behind nothing. Add the hours up, for this facing and for others.",
            ),
            heads=("Rain in the hour", "Wind 5 m/s", "10 m/s", "15 m/s"),
            rows=_driven_rates(),
        ),
        function=driving_rain,
        example=MappingProxyType({"hours": ((5, 2, "sw"), (8, 4.5, "w"), (10, 1, "s"), (6, 3, "ne")), "facing": "sw"}),
        draw=draw_driving_rain,
    )
