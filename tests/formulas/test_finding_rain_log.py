"""The rain log: the test against scipy and the published cups of tea, the guard for picking, and its laws."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from own_tables import FORMULAS
from scipy.stats import fisher_exact

from build_tools.formulas.finding.fisher import (
    Tally,
    chance_percent,
    least_chance_percent,
    ways,
    ways_to_all,
    ways_to_more,
)
from build_tools.formulas.finding.spells import LEAST_DRIPS, LEAST_SPELLS, rain_log

ROSE = ("n", "ne", "e", "se", "s", "sw", "w", "nw")
WEATHER = ("dry", "calm", "unknown", *ROSE)
LINE = st.tuples(st.sampled_from(WEATHER), st.sampled_from(("yes", "no", "unseen")))
LOG = st.lists(LINE, min_size=1, max_size=30).map(tuple)
CLAIMS = {"follows-wind", "follows-rain", "not-rain"}
Log = tuple[tuple[str, str], ...]


def log_of(**weathers: str) -> Log:
    """Make a log from a letter a spell: y for a drip, n for none, u where nobody looked."""
    words = {"y": "yes", "n": "no", "u": "unseen"}
    return tuple((weather, words[letter]) for weather, letters in weathers.items() for letter in letters)


def leaning(draw: st.DrawFn) -> Log:
    """Make a log in which drips lean to one wind, so that verdicts other than too few come up."""
    wind = draw(st.sampled_from(ROSE))
    wet = [(wind, draw(st.sampled_from(("yes", "yes", "yes", "no")))) for _ in range(draw(st.integers(3, 9)))]
    rest = st.tuples(st.sampled_from((*WEATHER, "dry", "dry")), st.sampled_from(("no", "no", "no", "yes", "unseen")))
    return (*wet, *draw(st.lists(rest, min_size=3, max_size=20)))


LEANING = st.composite(leaning)()


def scipy_percent(there: Tally, rest: Tally) -> float:
    table = [[there.drips, there.spells - there.drips], [rest.drips, rest.spells - rest.drips]]
    return 100 * float(fisher_exact(table, alternative="greater").pvalue)


def tally(log: Log, weathers: Iterable[str]) -> Tally:
    seen = [drip for weather, drip in log if weather in weathers and drip != "unseen"]
    return Tally(len(seen), seen.count("yes"))


def up_to_a_tenth(percent: float) -> float:
    return math.ceil(percent * 10 - 1e-7) / 10


@pytest.mark.parametrize("there", range(1, 10))
@pytest.mark.parametrize("rest", range(1, 10))
def test_every_small_table_as_scipy_has_it(there: int, rest: int) -> None:
    for wet in range(there + 1):
        for late in range(rest + 1):
            groups = Tally(there, wet), Tally(rest, late)
            assert chance_percent(*groups) == pytest.approx(scipy_percent(*groups), rel=1e-9)


@given(st.data(), st.integers(0, 30))
def test_great_tables_are_counted_without_rounding(data: st.DataObject, there: int) -> None:
    # Whole numbers of any size, from Python's own; scipy beside them.
    rest = data.draw(st.integers(0, 30 - there))
    groups = Tally(there, data.draw(st.integers(0, there))), Tally(rest, data.draw(st.integers(0, rest)))
    drips = groups[0].drips + groups[1].drips
    more = sum(math.comb(there, n) * math.comb(rest, drips - n) for n in range(groups[0].drips, min(there, drips) + 1))
    assert (ways_to_more(*groups), ways_to_all(*groups)) == (more, math.comb(there + rest, drips))
    assert chance_percent(*groups) == pytest.approx(scipy_percent(*groups), rel=1e-9)


def test_ways_are_binomial_for_as_many_lines_as_a_log_has() -> None:
    most = int(FORMULAS["rain-log"].inputs[0].high)
    assert all(ways(n, k) == math.comb(n, k) for n in range(most + 1) for k in range(n + 1))


def test_cups_of_tea() -> None:
    # Fisher 1935: four of four. Agresti 1990, in the manual of R: three of four. See tests/published/rain-log.yaml.
    assert chance_percent(Tally(4, 4), Tally(4, 0)) == pytest.approx(100 / 70)
    assert chance_percent(Tally(4, 3), Tally(4, 1)) == pytest.approx(24.29, abs=0.005)
    assert ways_to_all(Tally(4, 4), Tally(4, 0)) == 70


@given(st.integers(1, 15), st.integers(1, 15), st.data())
def test_least_chance_is_the_least_of_all_outcomes(there: int, rest: int, data: st.DataObject) -> None:
    drips = data.draw(st.integers(0, there + rest))
    outcomes = [
        chance_percent(Tally(there, n), Tally(rest, drips - n))
        for n in range(max(0, drips - rest), min(there, drips) + 1)
    ]
    for n in range(max(0, drips - rest), min(there, drips) + 1):
        assert least_chance_percent(Tally(there, n), Tally(rest, drips - n)) == min(outcomes)


def reference(log: Log) -> tuple[float | None, float | None]:
    """Reckon both chances anew with scipy: sets of winds, each once, and the least chance times how many there are."""
    rain, dry = tally(log, set(WEATHER) - {"dry"}), tally(log, {"dry"})
    against_dry = scipy_percent(rain, dry) if rain.drips >= LEAST_DRIPS and dry.spells else None
    logged = {wind for wind, drip in log if wind in ROSE and drip != "unseen"}
    pairs = {frozenset((ROSE[n], ROSE[(n + 1) % 8])) for n in range(8)}
    arcs = {frozenset((wind,)) for wind in logged} | {pair for pair in pairs if pair <= logged}
    known = set(ROSE) | {"calm"}
    sets = [(tally(log, arc), tally(log, known - arc)) for arc in arcs]
    tried = [(there, rest) for there, rest in sets if rest.spells]
    chances = [scipy_percent(there, rest) for there, rest in tried if there.drips >= LEAST_DRIPS]
    return against_dry, min(100, len(tried) * min(chances)) if chances else None


@given(LOG | LEANING)
def test_both_chances_reckoned_anew(log: Log) -> None:
    found = rain_log(log).outputs
    expected = [None if each is None else up_to_a_tenth(each) for each in reference(log)]
    assert [found["rain_percent"], found["wind_percent"]] == expected


@given((LOG | LEANING).flatmap(lambda log: st.tuples(st.just(log), st.permutations(log).map(tuple))))
def test_order_of_the_spells_is_no_matter(logs: tuple[Log, Log]) -> None:
    assert rain_log(logs[0]) == rain_log(logs[1])


@given(LEANING, st.integers(1, 5))
def test_one_more_drip_in_the_clearest_quarter_never_weakens_it(log: Log, more: int) -> None:
    before = rain_log(log)
    assume(before.outputs["quarter_deg"] is not None and len(log) + more <= 30)
    deg = before.outputs["quarter_deg"]
    assert deg is not None
    after = rain_log((*log, *((ROSE[int(deg // 45)], "yes"),) * more))
    was, now = before.outputs["wind_percent"], after.outputs["wind_percent"]
    assert was is not None and now is not None and now <= was
    assert before.verdict != "follows-wind" or after.verdict == "follows-wind"


@given(LEANING, st.data())
def test_a_drip_where_there_was_none_never_weakens_rain(log: Log, data: st.DataObject) -> None:
    dry_looks = [n for n, (weather, drip) in enumerate(log) if weather != "dry" and drip == "no"]
    before = rain_log(log).outputs["rain_percent"]
    assume(dry_looks and before is not None)
    at = data.draw(st.sampled_from(dry_looks))
    after = rain_log((*log[:at], (log[at][0], "yes"), *log[at + 1 :])).outputs["rain_percent"]
    assert before is not None and after is not None and after <= before


@given(LOG)
def test_spells_in_which_nobody_looked_change_nothing(log: Log) -> None:
    seen = tuple(line for line in log if line[1] != "unseen")
    assume(seen)
    assert rain_log(log)[:2] == rain_log(seen)[:2]


@given(st.lists(LINE, min_size=1, max_size=LEAST_SPELLS - 1).map(tuple))
def test_too_few_spells_never_claim(log: Log) -> None:
    assert rain_log(log).verdict == "too-few"


@given(LOG | LEANING)
def test_too_few_drips_never_claim(log: Log) -> None:
    assume(sum(drip == "yes" for _, drip in log) < LEAST_DRIPS)
    assert rain_log(log).verdict not in {"follows-wind", "follows-rain", "no-pattern"}


@given(LOG | LEANING)
def test_too_few_drips_when_it_is_dry_never_clear_the_rain(log: Log) -> None:
    assume(log.count(("dry", "yes")) < 2)
    assert rain_log(log).verdict != "not-rain"


@given(st.lists(st.tuples(st.sampled_from(WEATHER), st.sampled_from(("no", "unseen"))), min_size=1, max_size=30))
def test_a_log_without_a_drip_tells_nothing(lines: list[tuple[str, str]]) -> None:
    assert rain_log(tuple(lines)).verdict == "too-few"


def test_no_verdict_clears_a_roof() -> None:
    text = " ".join(FORMULAS["rain-log"].verdicts.values())
    assert [before for before in re.findall(r"(\w+ \w+) cleared", text)] == ["place is", "is not"]
    assert "no other place is cleared" in text and not re.search(r"watertight|sound|tight", text)
    assert "No log clears a roof" in FORMULAS["rain-log"].limits


@pytest.mark.parametrize(
    ("log", "verdict"),
    [
        (log_of(sw="yyyy", n="nnnn"), "follows-wind"),
        (log_of(sw="yy", w="yy", n="nn", e="nn", calm="nnnn"), "follows-wind"),
        (log_of(n="yyy", calm="nnn"), "follows-wind"),
        (log_of(n="yyy", unknown="nnn"), "too-few"),
        (log_of(sw="yyyy"), "too-few"),
        (log_of(sw="yyyyyyyyy"), "too-few"),
        (log_of(sw="yyyyyy", dry="nn"), "follows-rain"),
        (log_of(sw="yyy", dry="nnn"), "follows-rain"),
        (log_of(sw="yyy", dry="nn"), "too-few"),
        (log_of(sw="y", dry="n" * 19), "too-few"),
        (log_of(n="yy", calm="n" * 18), "too-few"),
        (log_of(sw="nnn", dry="yy"), "too-few"),
        (log_of(sw="yyyy", n="yyyy", dry="yyyy"), "not-rain"),
        (log_of(sw="nnnn", dry="yy"), "not-rain"),
        (log_of(sw="nnnn", dry="yn"), "too-few"),
        (log_of(sw="yyyy", n="yyyy", dry="nnn"), "follows-rain"),
        (log_of(sw="yyyy", calm="nnnn", dry="yyyy"), "follows-wind"),
        (log_of(sw="yynn", n="yynn", dry="ynnn"), "no-pattern"),
        (log_of(sw="nnnnnnnn", dry="nnnn"), "too-few"),
        (log_of(sw="uuuuuuu", dry="uuu"), "too-few"),
        (log_of(dry="n"), "too-few"),
    ],
)
def test_rain_log_verdict(log: Log, verdict: str) -> None:
    assert rain_log(log).verdict == verdict


def test_picking_the_clearest_is_paid_for() -> None:
    # The same drips, but the other rain has one wind, or four that are no neighbours of each other.
    one = rain_log(log_of(sw="yyyy", calm="nnnn")).outputs["wind_percent"]
    four = rain_log(log_of(sw="yyyy", n="n", ne="n", se="n", calm="n")).outputs["wind_percent"]
    assert (one, four) == (up_to_a_tenth(100 / 70), up_to_a_tenth(5 * 100 / 70))


@pytest.mark.parametrize("drips", [3, 4, 5, 6])
def test_chance_alone_names_a_quarter_once_in_twenty_logs_at_most(drips: int) -> None:
    # Every way to deal so many drips on twelve spells of rain, each as likely as the others where wind does nothing.
    winds = ("sw",) * 5 + ("w",) * 3 + ("n",) * 2 + ("calm",) * 2
    dealt = [set(each) for each in itertools.combinations(range(len(winds)), drips)]
    logs = (tuple((wind, "yes" if n in wet else "no") for n, wind in enumerate(winds)) for wet in dealt)
    named = sum(rain_log(log).verdict == "follows-wind" for log in logs)
    assert 0 < named / len(dealt) <= 0.05


def test_a_dry_drip_is_told_beside_any_verdict() -> None:
    lines = rain_log(log_of(sw="yyyy", calm="nnnn", dry="y")).working
    assert any(line.startswith("It dripped in dry spells too") for line in lines)


def test_every_wind_is_told_so_that_a_second_quarter_is_seen() -> None:
    found = rain_log(log_of(n="yyyy", sw="yyyy", calm="n" * 10, unknown="u"))
    assert found.verdict == "follows-wind" and found.outputs["quarter_deg"] == 0
    line = "Rain by wind, dripped of looked at: North 4 of 4; South-west 4 of 4; hardly any 0 of 10."
    assert line in found.working
