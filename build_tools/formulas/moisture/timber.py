"""What a pin meter says about a roof timber, beside a dry timber of the same roof."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output
from build_tools.formulas.moisture.timber_drawing import draw_timber_moisture
from build_tools.formulas.numbers import at_least, quantity, rounded
from build_tools.formulas.tables import only, rows
from build_tools.model.data import Data, TimberBand

CLEARLY_POINTS = 4
"""Points of difference that no meter makes by itself: twice an error of two (project choice)."""
WARM_LIMIT_PERCENT = 18
"""Where borderline begins."""
COLD_LIMIT_PERCENT = 20
"""The same at a surface in the cold half of the year, which can read over 20 with no fault in the roof."""
PINS_HOLD_PERCENT = 28
"""What pin meters measure at most, since the fibres are full there; rot needs no more."""


READING = number(
    "reading_percent",
    "Reading at the suspect place",
    low=5,
    high=100,
    hint="With pins, along the grain, meter set to the kind of wood, away from nails, foil and wet faces. Take the "
    "highest of three. A meter without pins gives no per cent.",
)
REFERENCE = number(
    "reference_percent",
    "Reading at a dry place",
    low=5,
    high=100,
    hint="Same roof, same kind of timber, same day and depth, two metres or more from any stain. Leave it out if "
    "there is none.",
    optional=True,
)
SEASON = choice(
    "season",
    "Time of year",
    choices=(Choice("warm", "Warm half, May to October"), Choice("cold", "Cold half, November to April")),
    hint="Cold timber takes up water from the air at its surface with no leak at all.",
    default="cold",
)
DEPTH = choice(
    "depth",
    "Pins",
    choices=(Choice("surface", "Short, at the surface"), Choice("deep", "Insulated, driven into the core")),
    hint="Insulated pins measure at their tips alone, and tell damp air on the surface from water in the timber.",
    default="surface",
)
AWL = choice(
    "awl",
    "Under an awl",
    choices=(
        Choice("untried", "Not tried"),
        Choice("firm", "Hard: it stops at once"),
        Choice("soft", "Soft: it sinks in by hand"),
    ),
    hint="Press an awl or a small screwdriver in across the grain, and at a dry place to compare. Rot can have dried.",
    default="untried",
)
DIFFERENCE = output("difference_percent", "Points above the dry place", step=0.1, rounds="up")
DAMP_FROM = output("limit_percent", "Counts as damp from", step=1, rounds="down")


def timber_moisture(
    timber_bands: tuple[TimberBand, ...],
    reading_percent: float,
    reference_percent: float | None,
    season: str,
    depth: str,
    awl: str,
) -> Reckoned:
    """Set a reading of a pin meter beside one at a dry place on the same roof, and beside bands of moisture.

    difference = reading - dry reference; damp from 18 per cent, from 20 at a surface in the cold half of the year;
    wet enough to rot from 28 per cent

    Args:
        reading_percent: [percent] reading at the suspect place.
        reference_percent: [percent] reading at a dry place on the same roof, the same day; None if there is none.
        season: [choice] warm or cold half of the year.
        depth: [choice] pins at the surface, or insulated pins in the core.
        awl: [choice] whether the wood is hard or soft under an awl, or was not tried.

    Returns:
        difference_percent: [percent] reading above the reference in points, rounded up; None without a reference.
        limit_percent: [percent] from where a reading counts as damp here.

    Source:
        timber-season: 16 per cent in summer and over 20 in winter at the surface of a sound rafter; pins at depth.
        timber-meter-bands: under 18 dry, up to 20 borderline, over 20 wet.
        timber-meter-leaflet: 16 to 20 perhaps raised.
        timber-decay-stops: rot stops at 20 or less; free water, which it needs, is found from 25 to 30 up.
        timber-decay-digest: safe below about 22.
        timber-decay-limits: what wet rot needs.
        wood-moisture: pins hold from about 5 to 28 per cent.
        scan-meters: meters without pins only compare.
        project-choice: four points are a clear difference; 20 for a surface in the cold, 18 else; from 28, with
            either pin and with no dry place read, it is opened up, and so is soft wood at any reading.

    Limits:
        Below 28 per cent one number decides nothing. No reading tells rain from condensation.
        Salts from old treatment, metal, foil, the kind of wood and its temperature shift a meter by points.
        A leak that comes only with driven rain dries between: read again after rain, at the same marks.
        Wood that once rotted and has dried reads dry; only the awl tells.

    Example:
        >>> timber_moisture(TIMBER_BANDS, 24, 15, "cold", "surface", "firm").outputs["difference_percent"]
        9.0
        >>> timber_moisture(TIMBER_BANDS, 35, None, "cold", "deep", "firm").verdict
        'wet'
    """
    limit = rounded(COLD_LIMIT_PERCENT if season == "cold" and depth == "surface" else WARM_LIMIT_PERCENT, DAMP_FROM)
    damp = at_least(reading_percent, limit)
    said: tuple[str, ...] = (
        f"{quantity(reading_percent, '%')} here: {timber_band(timber_bands, reading_percent)}.",
        f"With these pins at this time of year it counts as damp from {quantity(limit, '%')}.",
    )
    wet = awl == "soft" or at_least(reading_percent, PINS_HOLD_PERCENT)
    if awl == "soft":
        said = (*said, "Soft under an awl: it has rotted, whatever it reads today.")
    if awl == "untried":
        said = (*said, "No awl was tried, so nothing is known of rot.")
    if reference_percent is None:
        return Reckoned(
            outputs={"difference_percent": None, "limit_percent": limit},
            verdict="wet" if wet else "no-reference",
            working=(*said, "No dry place was read, so there is nothing to compare with."),
        )
    difference = rounded(reading_percent - reference_percent, DIFFERENCE)
    beside = (
        f"{quantity(reading_percent, '%')} − {quantity(reference_percent, '%')} = {quantity(difference, '')} points; "
        f"{CLEARLY_POINTS} or more are a clear difference."
    )
    told = _timber_told(difference, damp, at_least(reference_percent, limit))
    outputs = {"difference_percent": difference, "limit_percent": limit}
    return Reckoned(outputs=outputs, verdict="wet" if wet else told, working=(*said, beside))


def timber_band(timber_bands: tuple[TimberBand, ...], percent: float) -> str:
    """Name the band that a reading falls in."""
    found = timber_bands[0]
    for row in timber_bands:
        if at_least(percent, row.from_percent):
            found = row
    return found.label


def _timber_told(difference: float, damp: bool, reference_damp: bool) -> str:
    """Judge by the difference first, and by the number only beside it."""
    if at_least(-CLEARLY_POINTS, difference):
        return "no-reference"
    if damp and at_least(difference, CLEARLY_POINTS):
        return "local-wet"
    return "all-damp" if damp and reference_damp else "watch"


def _band_rows(timber_bands: tuple[TimberBand, ...]) -> tuple[tuple[str, ...], ...]:
    return tuple((quantity(row.from_percent, "%"), row.label) for row in timber_bands)


def formula(data: Data) -> Formula:
    """Make the formula."""
    timber_bands = rows(data, "timber-bands", TimberBand)
    return Formula(
        id="timber-moisture",
        title="A timber's reading beside a dry one",
        subject="moisture",
        inputs=(READING, REFERENCE, SEASON, DEPTH, AWL),
        outputs=(DIFFERENCE, DAMP_FROM),
        verdicts=MappingProxyType(
            {
                "wet": "Wet enough to rot, or soft already, whatever wets it. Keep people and loads off. Have it "
                "opened up and judged by somebody competent in structure.",
                "local-wet": "This place is damp, and clearly wetter than the dry one. Something wets it here, rain or "
                "condensation: find what, before it is covered.",
                "watch": "It is not clearly wetter than the dry place, or still within what is dry. That does not "
                "clear it: read the same marks after rain from the wet quarter, and after a dry week.",
                "all-damp": "The dry place is damp too. Think first of the time of year, moist air and ventilation; "
                "a leak is not ruled out.",
                "no-reference": "There is no dry place to go by, or it reads wetter than this one. This number alone "
                "decides nothing: read a dry timber of the same roof today.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "28% or more, or soft under an awl: keep people and loads off. Have it opened up and judged by "
                "somebody competent in structure.",
                "Less than that: read the suspect place and a dry place on the same roof, the same day.",
                "4 points or more apart, and 18% or more: something wets it here. In the cold half of the year, with "
                "short pins: 20% or more.",
                "Both damp and alike: the whole roof is damp. Read again with insulated pins.",
                "Read the same marks again after rain, and after a dry week. The change tells more than the number.",
            ),
            heads=("From", "What it means"),
            rows=_band_rows(timber_bands),
        ),
        function=partial(timber_moisture, timber_bands),
        example=MappingProxyType(
            {
                **{"reading_percent": 24, "reference_percent": 15, "season": "cold", "depth": "surface"},
                "awl": "firm",
            }
        ),
        draw=draw_timber_moisture,
        tables=only(data, "timber-bands"),
    )
