"""Cold surfaces and readings of timber: a reference library, laws, and verdicts at the edges."""

from __future__ import annotations

import psychrolib
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from own_tables import COLD_SURFACES, FORMULAS, TIMBER_BANDS

from build_tools.formulas.moisture.surfaces import surface_humidity, surface_share
from build_tools.formulas.moisture.timber import timber_band, timber_moisture

AIR = st.floats(-20, 50)
PERCENT = st.floats(5, 100)
COLD = st.floats(-30, 45)
SURFACES = st.sampled_from([row.id for row in COLD_SURFACES])
WETNESS = {"wets": 3, "damp-room": 2, "mould-risk": 1, "no-test": 0, "dry": 0}
DAMPNESS = {"no-reference": 0, "watch": 1, "all-damp": 2, "local-wet": 3, "wet": 4}


def test_humidity_at_the_surface_agrees_with_a_reference_library() -> None:
    """Within 0.3 points and the rounding of 0.1: the saturation pressures differ by up to 0.13 per cent (ASHRAE)."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for air_c in (10, 15, 20, 25):
        held_pa = psychrolib.GetVapPresFromRelHum(air_c, 0.5)
        for surface_c in (5, 8, 12, 16, 20):
            found = surface_humidity(COLD_SURFACES, air_c, 50, 0, "reveal-bare", None, surface_c).outputs[
                "surface_humidity_percent"
            ]
            expected = min(100 * held_pa / psychrolib.GetSatVapPres(surface_c), 100)
            assert found == pytest.approx(expected, abs=0.4)


@pytest.mark.parametrize(
    ("surface", "share", "at_0", "at_minus_5"),
    [("reveal-bare", 0.5375, 10.7, 8.4), ("reveal-insulated", 0.85, 17.0, 16.2), ("strip-missing", 0.51, 10.2, 7.7),
     ("single-glass", 0.259, 5.1, 1.4), ("double-coated", 0.818, 16.3, 15.4), ("triple-flat", 0.883, 17.6, 17.0)],
)  # fmt: skip
def test_surfaces_by_their_series_of_resistances(surface: str, share: float, at_0: float, at_minus_5: float) -> None:
    """In closed form, 1 − Rsi / R; the temperatures are rounded down."""
    row = next(each for each in COLD_SURFACES if each.id == surface)
    assert surface_share(COLD_SURFACES, surface, None) == pytest.approx(1 - row.rsi_m2k_w / (1 / row.u_w_m2k))
    assert surface_share(COLD_SURFACES, surface, None) == pytest.approx(share, abs=0.0006)
    assert surface_humidity(COLD_SURFACES, 20, 50, 0, surface, None, None).outputs["reached_c"] == at_0
    assert surface_humidity(COLD_SURFACES, 20, 50, -5, surface, None, None).outputs["reached_c"] == at_minus_5


@given(AIR, PERCENT, COLD, SURFACES, st.floats(0.05, 7), st.floats(0.05, 7))
def test_better_insulation_is_never_wetter(
    air_c: float, percent: float, outside_c: float, surface: str, one: float, other: float
) -> None:
    assume(air_c >= outside_c)
    good, poor = (
        surface_humidity(COLD_SURFACES, air_c, percent, outside_c, surface, u, None) for u in sorted((one, other))
    )
    assert WETNESS[str(good.verdict)] <= WETNESS[str(poor.verdict)]
    assert good.outputs["surface_humidity_percent"] <= poor.outputs["surface_humidity_percent"]  # type: ignore[operator]


@given(AIR, PERCENT, PERCENT, COLD, SURFACES, st.none() | st.floats(-30, 60))
def test_damper_air_is_never_drier(
    air_c: float, one: float, other: float, outside_c: float, surface: str, measured: float | None
) -> None:
    dry, damp = (
        surface_humidity(COLD_SURFACES, air_c, p, outside_c, surface, None, measured) for p in sorted((one, other))
    )
    assert WETNESS[str(dry.verdict)] <= WETNESS[str(damp.verdict)]
    assert dry.outputs["needed_c"] <= damp.outputs["needed_c"]  # type: ignore[operator]


@given(AIR, PERCENT, COLD, SURFACES, st.floats(0.05, 7))
def test_a_reckoned_surface_lies_between_room_and_outside(
    air_c: float, percent: float, outside_c: float, surface: str, u_w_m2k: float
) -> None:
    found = surface_humidity(COLD_SURFACES, air_c, percent, outside_c, surface, u_w_m2k, None).outputs
    low, high = sorted((air_c, outside_c))
    assert low - 0.1 - 1e-6 <= found["reached_c"] <= high + 1e-6  # type: ignore[operator]
    assert found["reached_factor"] is None or 0 <= found["reached_factor"] <= 1


@given(st.floats(0, 30), st.floats(20, 79), st.floats(-20, 10), SURFACES, st.floats(0.05, 7))
def test_dry_has_the_factor_that_is_needed(
    air_c: float, percent: float, outside_c: float, surface: str, u_w_m2k: float
) -> None:
    found = surface_humidity(COLD_SURFACES, air_c, percent, outside_c, surface, u_w_m2k, None)
    assume(found.verdict == "dry")
    reached, needed = found.outputs["reached_factor"], found.outputs["needed_factor"]
    assert reached is not None and needed is not None and reached >= needed - 0.002


@pytest.mark.parametrize(
    ("given_values", "verdict"),
    [((20, 50, 0, "reveal-insulated", None, None), "dry"), ((20, 50, 0, "reveal-bare", None, None), "mould-risk"),
     ((20, 60, 0, "reveal-bare", None, None), "wets"), ((20, 85, 0, "slope-insulated", None, None), "damp-room"),
     ((20, 50, 15, "reveal-bare", None, None), "no-test"), ((20, 50, 0, "reveal-bare", None, 35), "no-test"),
     ((20, 50, 30, "reveal-bare", None, None), "no-test"), ((20, 100, 20, "reveal-bare", None, 20), "wets"),
     ((20, 50, 0, "reveal-bare", None, -10), "wets")],
)  # fmt: skip
def test_verdicts_on_surfaces(
    given_values: tuple[float, float, float, str, float | None, float | None], verdict: str
) -> None:
    assert surface_humidity(COLD_SURFACES, *given_values).verdict == verdict


def test_a_reading_colder_than_both_sides_is_doubted_in_words() -> None:
    assert "measure it again" in surface_humidity(COLD_SURFACES, 20, 50, 0, "reveal-bare", None, -10).working[-1]


@given(
    st.floats(5, 100), st.floats(5, 100), st.floats(5, 100),
    st.sampled_from(("warm", "cold")), st.sampled_from(("surface", "deep")),
)  # fmt: skip
def test_wetter_timber_is_never_taken_for_drier(
    one: float, other: float, reference: float, season: str, depth: str
) -> None:
    dry, wet = (
        timber_moisture(TIMBER_BANDS, each, reference, season, depth, "firm").verdict for each in sorted((one, other))
    )
    assert DAMPNESS[str(dry)] <= DAMPNESS[str(wet)]


@given(st.floats(5, 27.9), st.sampled_from(("warm", "cold")), st.sampled_from(("surface", "deep")))
def test_one_number_below_rot_never_decides(reading: float, season: str, depth: str) -> None:
    assert timber_moisture(TIMBER_BANDS, reading, None, season, depth, "firm").verdict == "no-reference"
    assert timber_moisture(TIMBER_BANDS, reading, reading, season, depth, "firm").verdict in ("watch", "all-damp")


@given(
    st.floats(28, 100), st.none() | st.floats(5, 100),
    st.sampled_from(("warm", "cold")), st.sampled_from(("surface", "deep")),
)  # fmt: skip
def test_wet_enough_to_rot_needs_no_other_reading(
    reading: float, reference: float | None, season: str, depth: str
) -> None:
    """Free water, which rot needs, is found from 25 to 30 per cent up (MO-312, United States Navy)."""
    assert timber_moisture(TIMBER_BANDS, reading, reference, season, depth, "firm").verdict == "wet"


@given(
    st.floats(5, 100), st.none() | st.floats(5, 100),
    st.sampled_from(("warm", "cold")), st.sampled_from(("surface", "deep")),
)  # fmt: skip
def test_soft_timber_is_judged_at_any_reading(reading: float, reference: float | None, season: str, depth: str) -> None:
    found = timber_moisture(TIMBER_BANDS, reading, reference, season, depth, "soft")
    assert found.verdict == "wet"
    assert "Soft under an awl" in " ".join(found.working)


@given(
    st.floats(5, 100), st.none() | st.floats(5, 100),
    st.sampled_from(("warm", "cold")), st.sampled_from(("surface", "deep")),
)  # fmt: skip
def test_an_awl_that_was_not_tried_never_counts_as_hard(
    reading: float, reference: float | None, season: str, depth: str
) -> None:
    awl = next(each for each in FORMULAS["timber-moisture"].inputs if each.name == "awl")
    assert awl.default == "untried"
    found, hard = (
        timber_moisture(TIMBER_BANDS, reading, reference, season, depth, each) for each in ("untried", "firm")
    )
    assert [each for each in found.working if each not in hard.working] == [
        "No awl was tried, so nothing is known of rot."
    ]


def test_no_band_below_what_is_opened_up_says_that_it_rots() -> None:
    assert timber_band(TIMBER_BANDS, 27.9) == "wet; wet rot can begin"
    found = timber_moisture(TIMBER_BANDS, 35, None, "cold", "deep", "firm")
    assert sum("wet" in each for each in found.working) == 0


@pytest.mark.parametrize(
    ("reading", "reference", "season", "depth", "verdict"),
    [(16, 16, "warm", "surface", "watch"), (21, 20.5, "cold", "surface", "all-damp"),
     (19, 18, "cold", "surface", "watch"), (19, 18, "warm", "surface", "all-damp"),
     (19, 17, "warm", "surface", "watch"), (17, 12, "warm", "surface", "watch"),
     (22, 18, "cold", "surface", "local-wet"), (21.8, 18, "cold", "surface", "watch"),
     (18, 14, "cold", "deep", "local-wet"), (18, 14, "cold", "surface", "watch"),
     (15, 19, "warm", "surface", "no-reference"), (27.9, 27, "cold", "surface", "all-damp"),
     (28, 27, "cold", "surface", "wet"), (27.9, None, "warm", "deep", "no-reference"),
     (28, None, "warm", "deep", "wet"), (28, None, "cold", "surface", "wet"), (45, 50, "cold", "surface", "wet")],
)  # fmt: skip
def test_verdicts_on_timber(reading: float, reference: float | None, season: str, depth: str, verdict: str) -> None:
    """The first two are the published rafter in summer and in winter, with no fault in the roof."""
    assert timber_moisture(TIMBER_BANDS, reading, reference, season, depth, "firm").verdict == verdict


def test_every_band_is_named_from_its_first_number() -> None:
    limits = [row.from_percent for row in TIMBER_BANDS]
    assert limits == sorted(limits) and limits[0] == 0
    assert [timber_band(TIMBER_BANDS, row.from_percent) for row in TIMBER_BANDS] == [row.label for row in TIMBER_BANDS]
