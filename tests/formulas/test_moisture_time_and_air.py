"""Openings of a cold roof and drying of wet work: laws, a reference library, and verdicts at the edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_tables import DRYING_MATERIALS, FORMULAS, ROOF_OPENINGS
from scipy.interpolate import make_interp_spline

from build_tools.formulas.moisture.drying import drying_days, drying_time
from build_tools.formulas.moisture.ventilation import roof_ventilation

KINDS = st.sampled_from([row.id for row in ROOF_OPENINGS])
PITCH = st.floats(10, 75)
SPAN = st.floats(0.5, 40)
GAP = st.floats(0, 300)
SHORTNESS = {"eaves-short": 2, "high-short": 1, "enough": 0}
MATERIALS = st.sampled_from([row.id for row in DRYING_MATERIALS])
AIRS = ("aired", "unheated", "shut")


@given(KINDS, PITCH, SPAN, st.floats(0.3, 200), st.floats(0.3, 200))
def test_longer_eaves_never_need_less(kind: str, pitch: float, span_m: float, one: float, other: float) -> None:
    short, long = (
        roof_ventilation(ROOF_OPENINGS, kind, pitch, "two", span_m, m, None, None).outputs for m in sorted((one, other))
    )
    assert short["eaves_mm2"] <= long["eaves_mm2"] and short["ridge_mm2"] <= long["ridge_mm2"]  # type: ignore[operator]


@given(KINDS, PITCH, PITCH, SPAN, SPAN)
def test_flatter_never_needs_less_at_the_eaves_and_wider_or_steeper_never_less_high_up(
    kind: str, one: float, other: float, narrow_m: float, wide_m: float
) -> None:
    flat, steep = sorted((one, other))
    narrow, wide = sorted((narrow_m, wide_m))
    low, high = (
        roof_ventilation(ROOF_OPENINGS, kind, each, "two", narrow, 10, None, None).outputs for each in (flat, steep)
    )
    assert low["eaves_mm"] >= high["eaves_mm"] and low["ridge_mm"] <= high["ridge_mm"]  # type: ignore[operator]
    broad = roof_ventilation(ROOF_OPENINGS, kind, flat, "two", wide, 10, None, None).outputs
    lean = roof_ventilation(ROOF_OPENINGS, kind, flat, "lean-to", narrow, 10, None, None).outputs
    assert low["ridge_mm"] <= min(broad["ridge_mm"], lean["ridge_mm"])  # type: ignore[type-var, operator]


@given(KINDS, PITCH, SPAN, GAP, GAP, GAP)
def test_more_opening_is_never_a_worse_verdict(
    kind: str, pitch: float, span_m: float, one: float, other: float, ridge: float
) -> None:
    less, more = (
        roof_ventilation(ROOF_OPENINGS, kind, pitch, "two", span_m, 9, gap, ridge).verdict
        for gap in sorted((one, other))
    )
    assert SHORTNESS[str(less)] >= SHORTNESS[str(more)]


@pytest.mark.parametrize(
    ("kind", "pitch", "shape", "span_m", "found", "verdict"),
    [("ceiling-dense", 30, "two", 8, (10, None), "enough"), ("ceiling-dense", 30, "two", 8, (9.9, None), "eaves-short"),
     ("ceiling-dense", 35, "two", 8, (10, None), "enough"), ("ceiling-dense", 35.1, "two", 8, (10, None), None),
     ("ceiling-dense", 35.1, "two", 8, (10, 5), "enough"), ("ceiling-dense", 35.1, "two", 8, (None, 0), "high-short"),
     ("ceiling-dense", 30, "lean-to", 3, (10, 0), "high-short"),
     ("ceiling-dense", 30, "two", 10.1, (10, 4), "high-short"),
     ("ceiling-dense", 15, "two", 8, (10, None), "eaves-short"), ("ceiling-dense", 10, "two", 8, (25, None), "enough"),
     ("ceiling-open", 15, "two", 8, (7, 5), "eaves-short"), ("ceiling-open-sealed", 30, "two", 8, (3, 5), "enough"),
     ("slope-dense", 30, "two", 8, (25, None), None), ("slope-dense", 30, "two", 8, (0, None), "eaves-short"),
     ("ceiling-dense", 9.9, "two", 8, (100, 100), "too-flat"), ("ceiling-dense", 0, "two", 8, (None, None), "too-flat"),
     ("ceiling-dense", 75, "two", 8, (None, None), None)],
)  # fmt: skip
def test_verdicts_on_openings(
    kind: str, pitch: float, shape: str, span_m: float, found: tuple[float | None, float | None], verdict: str | None
) -> None:
    assert roof_ventilation(ROOF_OPENINGS, kind, pitch, shape, span_m, 10, *found).verdict == verdict


@given(MATERIALS, st.floats(0, 400))
def test_days_are_those_of_a_straight_line_by_the_reference_library(material: str, thickness_mm: float) -> None:
    """To the last digits, for both go in a straight line from nought through the points (scipy)."""
    row = next(each for each in DRYING_MATERIALS if each.id == material)
    last_mm = row.times[-1].thickness_mm
    line = make_interp_spline([0, *(p.thickness_mm for p in row.times)], [0, *(p.days_count for p in row.times)], k=1)
    expected = float(line(min(thickness_mm, last_mm)))
    assert drying_days(row, min(thickness_mm, last_mm)) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@given(MATERIALS, st.floats(1, 50), st.floats(1, 50))
def test_thicker_or_damper_never_dries_sooner(material: str, one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    weeks = [drying_time(DRYING_MATERIALS, material, thin, air, None).outputs["drying_weeks"] for air in AIRS]
    thicker = [drying_time(DRYING_MATERIALS, material, thick, air, None).outputs["drying_weeks"] for air in AIRS]
    assert weeks == sorted(weeks)  # type: ignore[type-var]
    assert all(a <= b for a, b in zip(weeks, thicker, strict=True))  # type: ignore[operator]


@given(st.floats(1, 400), st.sampled_from(AIRS))
def test_one_face_never_dries_sooner_than_two(thickness_mm: float, air: str) -> None:
    one, two = (
        drying_time(DRYING_MATERIALS, each, thickness_mm, air, None).outputs["drying_weeks"]
        for each in ("concrete-one-face", "concrete-two-faces")
    )
    assert one is not None and two is not None and one >= two


@pytest.mark.parametrize(
    ("material", "thick", "age", "weeks", "left", "verdict"),
    [("plaster", 25, 5, 5, 0, "time-over"), ("plaster", 25, 4.9, 5, 1, "still-wet"),
     ("plaster", 25, 0, 5, 5, "still-wet"),
     ("plaster", 25, None, 5, None, None), ("plaster", 50, 10, 10, 0, "time-over"),
     ("plaster", 51, 99, None, None, "too-thick"),
     ("screed-cement", 75, 3, 15, 12, "still-wet"), ("screed-gypsum", 40, 6, 6, 0, "time-over"),
     ("concrete-one-face", 401, None, None, None, "too-thick")],
)  # fmt: skip
def test_verdicts_on_drying(
    material: str, thick: float, age: float | None, weeks: float | None, left: float | None, verdict: str | None
) -> None:
    found = drying_time(DRYING_MATERIALS, material, thick, "aired", age)
    assert (found.outputs["drying_weeks"], found.outputs["left_weeks"], found.verdict) == (weeks, left, verdict)


def test_a_dry_layer_does_not_clear_a_new_house_before_two_years() -> None:
    """A research body says up to two years where a provider of warranties says nine to twelve months: both are told."""
    formula = FORMULAS["drying-time"]
    assert {"new-home-drying", "first-heating-season"} <= set(formula.sources)
    assert "nine months to two years" in formula.verdicts["time-over"]
