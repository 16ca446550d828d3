"""What a covering has to spare: laws, and verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import COVERINGS, FORMULAS

from build_tools.formulas.covering.margin import covering_input, covering_margin

ORDER = ("below", "at-limit", "within")
kinds = st.sampled_from([each.value for each in covering_input(COVERINGS).choices])
exposures = st.sampled_from(("moderate", "severe"))
laps = st.none() | st.floats(0, 400)


def rank(verdict: str | None) -> int:
    """Give the place of a verdict; slates whose headlap is open are never called within: at the limit."""
    return ORDER.index(verdict or "at-limit")


@given(kinds, st.floats(0, 90), st.floats(0, 90), st.floats(0, 60), laps, laps, exposures, st.none() | st.floats(1, 40))
def test_steeper_roof_is_never_worse(
    kind: str,
    one: float,
    other: float,
    least: float,
    lap: float | None,
    asked: float | None,
    place: str,
    m: float | None,
) -> None:
    flat, steep = (covering_margin(COVERINGS, kind, each, least, lap, asked, place, m) for each in sorted((one, other)))
    assert rank(flat.verdict) <= rank(steep.verdict)


@given(kinds, st.floats(0, 90), st.floats(0, 60), st.floats(0, 400), st.floats(0, 400), laps, exposures)
def test_longer_headlap_is_never_worse(
    kind: str, pitch: float, least: float, one: float, other: float, asked: float | None, place: str
) -> None:
    short, long = (
        covering_margin(COVERINGS, kind, pitch, least, each, asked, place, None) for each in sorted((one, other))
    )
    assert rank(short.verdict) <= rank(long.verdict)


@given(kinds, st.floats(0, 90), st.floats(0, 60), laps, laps, st.floats(0.5, 40), st.floats(0.5, 40))
def test_exposure_and_longer_rafters_never_make_it_better(
    kind: str, pitch: float, least: float, lap: float | None, asked: float | None, one: float, other: float
) -> None:
    shorter, longer = sorted((one, other))
    mild = covering_margin(COVERINGS, kind, pitch, least, lap, asked, "moderate", shorter)
    assert rank(covering_margin(COVERINGS, kind, pitch, least, lap, asked, "severe", shorter).verdict) <= rank(
        mild.verdict
    )
    assert rank(covering_margin(COVERINGS, kind, pitch, least, lap, asked, "moderate", longer).verdict) <= rank(
        mild.verdict
    )


@pytest.mark.parametrize(
    ("pitch_deg", "verdict"),
    [(17.4, "below"), (17.5, "at-limit"), (19.5, "at-limit"), (19.59, "at-limit"), (19.6, "within")],
)
def test_verdict_by_pitch(pitch_deg: float, verdict: str) -> None:
    assert covering_margin(COVERINGS, "data-sheet", pitch_deg, 17.5, None, None, "moderate", None).verdict == verdict


def test_declared_numbers_go_before_the_table() -> None:
    assert covering_margin(COVERINGS, "plain-tiles", 28, None, None, None, "moderate", None).verdict == "below"
    assert covering_margin(COVERINGS, "interlocking-tiles", 22.5, 15, None, None, "moderate", None).verdict == "within"
    assert covering_margin(COVERINGS, "plain-tiles", 45, None, 65, None, "severe", None).verdict == "below"
    assert covering_margin(COVERINGS, "plain-tiles", 45, None, 65, 60, "severe", None).verdict == "within"


def test_a_kind_that_is_often_declared_for_less_calls_only_a_nearly_flat_roof_too_flat() -> None:
    by_kind = covering_margin(COVERINGS, "interlocking-tiles", 22.5, None, None, None, "severe", None)
    assert (by_kind.verdict, by_kind.outputs["pitch_margin_deg"]) == (None, -7.5)
    assert "declared for less" in by_kind.working[-1]
    assert not [each for each in by_kind.working if each.endswith("too flat.") and "data sheet" not in each]
    assert covering_margin(COVERINGS, "interlocking-tiles", 22.5, 25, None, None, "severe", None).verdict == "below"
    for pitch, verdict in ((4, "below"), (9.9, "below"), (10, None), (29.9, None)):
        assert (
            covering_margin(COVERINGS, "interlocking-tiles", pitch, None, None, None, "severe", None).verdict == verdict
        )
    seldom_deg = next(each.seldom_under_deg for each in COVERINGS if each.id == "interlocking-tiles")
    assert f"or under {seldom_deg:g}°" in " ".join(FORMULAS["covering-margin"].by_hand.rule)
    assert covering_margin(COVERINGS, "interlocking-tiles", 4, 3, None, None, "severe", None).verdict == "at-limit"
    assert covering_margin(COVERINGS, "interlocking-tiles", 22.5, None, 50, None, "severe", None).verdict == "below"


def test_too_flat_says_whether_it_was_declared_so() -> None:
    by_kind = covering_margin(COVERINGS, "plain-tiles", 28, None, None, None, "severe", None)
    declared = covering_margin(COVERINGS, "plain-tiles", 28, 30, None, None, "severe", None)
    assert by_kind.working[0].endswith("where nothing is declared.")
    assert declared.working[0].endswith("flatter than it is declared for.")
    assert "declared for this very tile goes before any table" in FORMULAS["covering-margin"].verdicts["below"]


def test_exposure_in_doubt_is_severe() -> None:
    for name in ("covering-margin", "slate-gauge"):
        exposure = next(each for each in FORMULAS[name].inputs if each.name == "exposure")
        assert exposure.default == "severe"


@pytest.mark.parametrize(
    ("length_m", "place", "pitch_deg", "verdict"),
    [(9, "moderate", 30, "within"), (9.1, "moderate", 30, "at-limit"), (9.1, "moderate", 30.1, "within"),
     (6, "severe", 30, "within"), (6.1, "severe", 30, "at-limit"), (None, "severe", 30, "within")],
)  # fmt: skip
def test_long_rafters(length_m: float | None, place: str, pitch_deg: float, verdict: str) -> None:
    assert covering_margin(COVERINGS, "data-sheet", pitch_deg, 15, 75, 75, place, length_m).verdict == verdict


def test_nothing_known_gives_no_verdict_and_slates_leave_the_headlap_open() -> None:
    found = covering_margin(COVERINGS, "data-sheet", 30, None, 75, None, "moderate", None)
    assert (found.verdict, set(found.outputs.values())) == (None, {None})
    slates = covering_margin(COVERINGS, "slates", 30, None, 75, None, "severe", None)
    assert (slates.verdict, slates.outputs["lap_margin_mm"]) == (None, None)
    assert covering_margin(COVERINGS, "slates", 19.9, None, 75, None, "severe", None).verdict == "below"
    assert covering_margin(COVERINGS, "slates", 30, None, 120, 120, "severe", None).verdict == "within"
