"""A log of spells: whether drips follow rain, and whether they follow one quarter of the wind."""

from __future__ import annotations

from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, output, rows_input
from build_tools.formulas.finding.fisher import Tally, chance_percent, least_chance_percent, ways_to_all, ways_to_more
from build_tools.formulas.finding.spell_counts import (
    CHANCE_PERCENT,
    LEAST_DRIPS,
    POINTS_OF_EIGHT,
    Quarter,
    clearest_of,
    could_stand_out,
    quarters_of,
    rain_of,
    spells_with,
)
from build_tools.formulas.finding.spells_drawing import draw_rain_log
from build_tools.formulas.numbers import at_least, figure, rounded
from build_tools.model.data import Data

LEAST_SPELLS = 6
"""Fewer say nothing (project choice): three drips in three spells of rain, and three dry spells, are the least."""
LEAST_DRY_DRIPS = 2
"""One drip in a dry spell may be the end of a wet one (project choice)."""
WEATHER = choice(
    "weather",
    "Weather",
    choices=(
        Choice("dry", "Dry spell, no rain"),
        *(Choice(point.id, f"Rain from {point.label.lower()}") for point in POINTS_OF_EIGHT),
        Choice("calm", "Rain, hardly any wind"),
        Choice("unknown", "Rain, wind not known"),
    ),
    hint="Where the wind blew from in the hardest rain, by smoke, a flag or the weather record; not known where it "
    "turned. Snow thawing on the roof counts as rain with hardly any wind.",
)
DRIP = choice(
    "drip",
    "Drip",
    choices=(
        Choice("yes", "Drip, or fresh wet"),
        Choice("no", "Looked, and no drip"),
        Choice("unseen", "Nobody looked"),
    ),
    hint="Look as carefully in dry spells as in wet ones. A late drip belongs to the rain before it.",
)
SPELLS = rows_input(
    "spells",
    "Spells, wet and dry",
    columns=(WEATHER, DRIP),
    low=1,
    high=30,
    hint="Spells and not days. A spell of rain lasts until a whole day has stayed dry; what is dry after that is a "
    "dry spell, however long.",
    default=((None, None), ("dry", None)),
)
SEEN = output("spells_count", "Spells with a look", step=1, rounds="down")
DRIPPED = output("drips_count", "Spells with a drip", step=1, rounds="down")
RAIN_CHANCE = output("rain_percent", "By chance alone: rain against dry", step=0.1, rounds="up")
WIND_CHANCE = output("wind_percent", "By chance alone: clearest quarter against the rest", step=0.1, rounds="up")
QUARTER = output("quarter_deg", "Clearest quarter, clockwise from north", step=0.5, rounds="nearest")


def rain_log(spells: tuple[tuple[str, str], ...]) -> Reckoned:
    """Find whether drips follow rain, and whether they follow one quarter of the wind, more than chance explains.

    Fisher's exact test: ways to deal the drips that put so many or more there / all ways to deal them;
    for the clearest quarter, times the number of quarters tried

    Args:
        spells: [rows] weather of each spell, and whether it dripped.

    Returns:
        spells_count: [count] spells in which somebody looked.
        drips_count: [count] those of them that dripped.
        rain_percent: [percent] chance alone puts so many drips on rain, rounded up; None if it cannot be told.
        wind_percent: [percent] the same for the clearest quarter of all that were tried; None if it cannot be told.
        quarter_deg: [deg] the middle of that quarter; None as above.

    Source:
        tea-tasting: the test, on four cups picked of eight.
        once-in-twenty: the line at 5 per cent.
        picked-of-several: the chance of the one picked, times how many were tried.
        project-choice: six spells and three drips at least; each point of eight, and each two neighbours, is tried.

    Limits:
        It tells what to look at first. No log clears a roof, and a small chance is no proof of a cause.
        It takes spells as apart from each other; water that lies in a roof for days ties them together.
        How hard it rained is not weighed: the quarter that brings the heaviest rain may only seem to be the cause.
        Settle beforehand how many spells to log. Who reckons after each one until something stands out finds chance.
        If the wet grows, or a ceiling sags, stop logging and have it seen to.

    Example:
        >>> log = (("sw", "yes"),) * 4 + (("n", "no"),) * 4 + (("dry", "no"),) * 3
        >>> rain_log(log).outputs["wind_percent"]
        2.9
        >>> rain_log(log).verdict
        'follows-wind'
    """
    dry = spells_with(spells, "dry")
    rain = rain_of(spells)
    quarters = quarters_of(spells)
    clearest = clearest_of(quarters)
    rain_chance = chance_percent(rain, dry) if rain.drips >= LEAST_DRIPS and dry.spells > 0 else None
    wind_chance = None if clearest is None else min(100, len(quarters) * chance_percent(clearest.there, clearest.rest))
    outputs = {
        "spells_count": rounded(rain.spells + dry.spells, SEEN),
        "drips_count": rounded(rain.drips + dry.drips, DRIPPED),
        "rain_percent": None if rain_chance is None else rounded(rain_chance, RAIN_CHANCE),
        "wind_percent": None if wind_chance is None else rounded(wind_chance, WIND_CHANCE),
        "quarter_deg": None if clearest is None else rounded(clearest.deg, QUARTER),
    }
    counted = f"{len(spells)} {'spell' if len(spells) == 1 else 'spells'}, {rain.spells + dry.spells} with a look."
    working = (counted, *_rain_lines(rain, dry), *_by_wind(spells), *_wind_lines(clearest, len(quarters)))
    if dry.drips > 0:
        working = (*working, "It dripped in dry spells too: the end of a wet one, or something else than rain.")
    working = (*working, f"Up to {CHANCE_PERCENT}% counts as more than chance explains.")
    verdict = _log_verdict(rain, dry, outputs["rain_percent"], outputs["wind_percent"], could_stand_out(quarters))
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def _rain_lines(rain: Tally, dry: Tally) -> tuple[str, ...]:
    counted = f"Dripped: in rain {rain.drips} of {rain.spells}, in dry spells {dry.drips} of {dry.spells}."
    if rain.drips < LEAST_DRIPS or dry.spells == 0:
        return (counted, f"Rain against dry takes {LEAST_DRIPS} drips in rain, and a look in dry spells.")
    return (counted, f"{_dealt(rain, dry)} or more on rain: {_dealt_share(rain, dry)}.")


def _by_wind(spells: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    """Tell the drips of every wind, so that a second quarter is seen beside the one that is picked."""
    said = ""
    for point in POINTS_OF_EIGHT:
        said = _with_wind(said, point.label, spells_with(spells, point.id))
    said = _with_wind(said, "hardly any", spells_with(spells, "calm"))
    said = _with_wind(said, "not known", spells_with(spells, "unknown"))
    return () if said == "" else (f"Rain by wind, dripped of looked at: {said}.",)


def _with_wind(said: str, name: str, tally: Tally) -> str:
    if tally.spells == 0:
        return said
    return said + ("" if said == "" else "; ") + f"{name} {tally.drips} of {tally.spells}"


def _wind_lines(clearest: Quarter | None, tried: int) -> tuple[str, ...]:
    if clearest is None:
        return (f"A quarter takes {LEAST_DRIPS} drips with its wind, and a look in rain with other wind or none.",)
    there = clearest.there
    rest = clearest.rest
    said = (
        f"{clearest.name}: {there.drips} of {there.spells} dripped. Other rain of known wind: {rest.drips} of "
        f"{rest.spells}.",
        f"{_dealt(there, rest)} or more on that quarter: {_dealt_share(there, rest)}.",
    )
    if tried == 1:
        return said
    percent = figure(min(100, tried * chance_percent(there, rest)), 2)
    return (
        *said,
        f"{tried} were tried, each wind and each two neighbours, and the clearest was picked. Of so many, one stands "
        f"out by chance more easily, so times {tried}: {percent}%.",
    )


def _dealt(there: Tally, rest: Tally) -> str:
    """Say in how many ways the drips can fall, up to how many they put on the first group."""
    drips = there.drips + rest.drips
    all_ways = figure(ways_to_all(there, rest), 0)
    return (
        f"{drips} drips can fall on {there.spells + rest.spells} spells in {all_ways} ways, "
        f"{figure(ways_to_more(there, rest), 0)} of them with {there.drips}"
    )


def _dealt_share(there: Tally, rest: Tally) -> str:
    return f"{figure(chance_percent(there, rest), 2)}%"


def _log_verdict(
    rain: Tally, dry: Tally, rain_percent: float | None, wind_percent: float | None, wind_could: bool
) -> str:
    """Judge by what is shown, so that rounding never makes a log say more."""
    if rain.spells + dry.spells < LEAST_SPELLS:
        return "too-few"
    if wind_percent is not None and at_least(CHANCE_PERCENT, wind_percent):
        return "follows-wind"
    if rain_percent is not None and at_least(CHANCE_PERCENT, rain_percent):
        return "follows-rain"
    if dry.drips >= LEAST_DRY_DRIPS:
        return "not-rain"
    rain_could = min(rain.spells, rain.drips + dry.drips) >= LEAST_DRIPS and dry.spells > 0
    rain_could = rain_could and at_least(CHANCE_PERCENT, least_chance_percent(rain, dry))
    return "no-pattern" if wind_could or rain_could else "too-few"


def _log_rows() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: chance for drips that fall all in one of two groups of spells of the same number."""
    return tuple(
        (
            f"{drips}",
            *(
                f"{figure(rounded(chance_percent(Tally(spells, drips), Tally(spells, 0)), RAIN_CHANCE), 1)}%"
                if drips <= spells
                else "–"
                for spells in (3, 4, 6, 8)
            ),
        )
        for drips in (3, 4, 5, 6)
    )


def formula(_: Data) -> Formula:
    """Make the formula."""
    return Formula(
        id="rain-log",
        title="What a log of rain and drips shows",
        subject="finding",
        inputs=(SPELLS,),
        outputs=(SEEN, DRIPPED, RAIN_CHANCE, WIND_CHANCE, QUARTER),
        verdicts=MappingProxyType(
            {
                "follows-wind": "It drips with rain from one quarter more than chance explains. Look first at the "
                "joints that this wind blows into; no other place is cleared by that.",
                "follows-rain": "It drips in rain more than chance explains, and no quarter stands out. Look for water "
                "that runs down from above, and at gutters and laps.",
                "not-rain": "It drips in dry spells too, and rain does not stand out. Look first indoors, at pipes and "
                "moist air; the roof is not cleared by that.",
                "no-pattern": "There was enough to show a clear pattern, and none shows. That clears nothing: log on, "
                "and find it by opening up or with a hose.",
                "too-few": "Too few to tell. Log on, dry spells too, with the wind of each rain; a log without a drip "
                "clears nothing.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Count the spells in which somebody looked: wet and dry, or those of one quarter and those of all "
                "other rain. Log until both are about as many.",
                "If all drips fall in one of the two groups, read from the table how often chance does that. "
                "Up to 5% counts as more than chance explains.",
                "If the quarter was picked after the log, multiply by the number of quarters that had rain.",
            ),
            heads=("Drips", "3 and 3 spells", "4 and 4", "6 and 6", "8 and 8"),
            rows=_log_rows(),
        ),
        function=rain_log,
        example=MappingProxyType(
            {
                "spells": (
                    *(("sw", "yes"), ("w", "no"), ("sw", "yes"), ("dry", "no"), ("n", "no"), ("sw", "yes")),
                    *(("calm", "no"), ("dry", "no"), ("w", "no"), ("e", "no"), ("sw", "yes"), ("n", "unseen")),
                )
            }
        ),
        draw=draw_rain_log,
    )
