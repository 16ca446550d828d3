"""Condensation inside a roof: a published wall, computed years, another way of reckoning, and laws.

The years called computed were worked out for this guide by other programs and are not published anywhere: no published
year of months with all its numbers could be seen. What is published stands in the tests of the wall.
"""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from own_tables import CLIMATES, DATA, ROOF, ROOF_BUILD_UPS, ROOF_LAYERS, ROOM_CLASSES
from scipy.optimize import linprog

from build_tools.formulas.moisture.condensation import (
    FLOW_G_DAY,
    LEAST_G_M2,
    Cut,
    Month,
    cut_build_up,
    full_pressures,
    held_after,
    string_bends,
    string_pressures,
    sum_of,
    tied_pressures,
    year_of_condensate,
)
from build_tools.formulas.moisture.interstitial import interstitial, max_of, year_told
from build_tools.formulas.moisture.interstitial_drawing import draw_interstitial
from build_tools.formulas.moisture.roof_layers import cut_layers, layer_takes_g_m2
from build_tools.formulas.moisture.room_air import MONTH_DAYS, added_pa, months_of

Layers = tuple[tuple[float, float], ...]
Laid = tuple[tuple[str, float], ...]

WALL: Layers = ((0.019 / 0.127, 0.95), (0.0, 2.0), (4.0, 0.16), (0.019 / 0.127, 1.9))
"""The published wall: R in m²K/W and metres of still air, from the room outwards."""
PLANE = 3.0
"""Three layers lie before its wet plane."""
BLOCK_DAYS = 90
A_SECOND = 1 / (86400 * 1000)
"""Grams in a day as kilograms in a second."""


def dry(cut: Cut) -> tuple[float, ...]:
    return tuple(0.0 for _ in cut.shares)


# The published wall, in the block climate of DIN 4108-3 (notes on chapter 13 of a textbook of building physics).


def test_published_wall_has_its_temperatures_and_pressures() -> None:
    """Printed to 0.1 K; ours are not rounded on the way, so half a step and what it makes in Pa (30 Pa/K at −5 °C)."""
    cut = cut_build_up(WALL)
    full = full_pressures(cut, Month(-5, 321, 20, 1168, BLOCK_DAYS))
    faces = [cut.places.index(place) for place in (0.0, 1.0, 3.0, 4.0)]
    assert [20 - 25 * cut.shares[i] for i in faces] == pytest.approx([18.6, 17.8, -4.0, -4.8], abs=0.06)
    assert [full[i] for i in faces] == pytest.approx([2142, 2037, 437, 408], abs=9)
    assert 1 / cut.resistance == pytest.approx(0.218, abs=0.0005)
    assert 25 / cut.resistance == pytest.approx(5.447, abs=0.003)


def test_published_wall_gains_its_water() -> None:
    """Printed gc 3.48e-8 kg/(m²s), Mc 0.27 kg/m²; one per cent, since the example rounds −3.97 to −4.0 °C."""
    month = Month(-5, 321, 20, 1168, BLOCK_DAYS)
    cut = cut_build_up(WALL)
    tied = tied_pressures(full_pressures(cut, month), month)
    bends = string_bends(cut.depths, tied, dry(cut))
    assert [place for place, bend in zip(cut.places, bends, strict=True) if bend > 0] == [PLANE]
    assert sum(bends) * FLOW_G_DAY * A_SECOND == pytest.approx(3.48e-8, rel=0.01)
    held = held_after(cut.depths, tied, dry(cut), BLOCK_DAYS)
    assert sum(held) == pytest.approx(270, abs=5)


def test_published_wall_gives_its_water_off() -> None:
    """Printed gev 8.48e-8 kg/(m²s), Mev 0.659 kg/m²; 1200 Pa on both sides, 1700 Pa at the wet plane."""
    cut = cut_build_up(WALL)
    wet = cut.places.index(PLANE)
    tied = tuple(1200.0 if i in (0, len(cut.places) - 1) else 1700.0 for i in range(len(cut.places)))
    held = tuple(1000.0 if i == wet else 0.0 for i in range(len(cut.places)))
    bends = string_bends(cut.depths, tied, held)
    assert -bends[wet] * FLOW_G_DAY * A_SECOND == pytest.approx(8.48e-8, rel=0.001)
    assert 1000 - sum(held_after(cut.depths, tied, held, BLOCK_DAYS)) == pytest.approx(659, abs=1)
    once = tuple(270.0 if i == wet else 0.0 for i in range(len(cut.places)))
    assert sum(held_after(cut.depths, tied, once, BLOCK_DAYS)) == 0, "the wall passes: all of it dries"


# Years computed for this guide by two other programs (convex hull; linear programme). Not published.

POTSDAM = (
    *((1.02, 605.6), (1.88, 633.1), (4.66, 657.0), (9.17, 746.1), (14.14, 1120.5), (16.69, 1349.8), (19.03, 1550.6)),
    *((18.59, 1622.7), (14.26, 1341.7), (9.51, 993.5), (4.11, 753.9), (0.92, 612.9)),
)
GARMISCH = (
    *((-2.28, 446.0), (-0.46, 479.2), (3.18, 633.2), (7.01, 728.9), (11.79, 984.2), (14.84, 1237.7), (16.63, 1429.0)),
    *((16.40, 1465.4), (12.27, 1206.3), (8.40, 860.0), (1.92, 593.3), (-1.77, 493.1)),
)
HAMBURG = (
    *((2.45, 652.6), (2.65, 662.7), (4.91, 702.3), (8.50, 813.5), (12.81, 1018.9), (15.54, 1309.6), (17.80, 1526.8)),
    *((17.76, 1388.5), (14.06, 1317.5), (9.79, 1013.8), (5.12, 788.1), (2.33, 655.7)),
)
COMPUTED_WALL: Layers = ((0.1496, 0.95), (0.0, 2.0), (4.0, 0.16), (0.1496, 1.9))
OPEN_ROOF: Layers = ((0.05, 0.125), (5.0, 0.2), (0.0, 0.05))
SEALED_ROOF: Layers = ((0.05, 0.125), (0.0, 50.0), (5.0, 0.2), (0.0, 20.0))
COMPUTED = [
    (COMPUTED_WALL, POTSDAM, 810, 10, (61.62, 159.39, 250.97, 322.25, 323.48, 198.76, 4.70)),
    (COMPUTED_WALL, POTSDAM, 810 * 1.1, 10, (72.35, 183.42, 288.25, 370.95, 382.88, 265.47, 75.50)),
    (COMPUTED_WALL, GARMISCH, 1080, 10, (98.41, 250.36, 391.20, 498.25, 576.34, 556.72, 437.97, 276.71, 90.28)),
    (OPEN_ROOF, HAMBURG, 810, 11, (273.81, 424.48, 544.52)),
    (SEALED_ROOF, HAMBURG, 810, 10, (2.66, 7.54, 12.01, 15.96, 16.07, 9.92)),
    (SEALED_ROOF, GARMISCH, 1080, 10, (5.90, 15.85, 24.87, 31.33, 35.73, 32.82, 22.42, 8.86)),
]


def year_outside(climate: tuple[tuple[float, float], ...], supply_pa: float) -> tuple[Month, ...]:
    air = zip(climate, MONTH_DAYS, strict=True)
    return tuple(Month(out_c, out_pa, 20, out_pa + added_pa(supply_pa, out_c), days) for (out_c, out_pa), days in air)


@pytest.mark.parametrize(("layers", "climate", "supply_pa", "start", "totals"), COMPUTED)
def test_years_computed_for_this_guide(
    layers: Layers, climate: tuple[tuple[float, float], ...], supply_pa: float, start: int, totals: tuple[float, ...]
) -> None:
    """Within 0.1 g/m²: the vapour of the climates is given to 0.1 Pa."""
    found = year_of_condensate(cut_build_up(layers), year_outside(climate, supply_pa))
    assert found.start == start
    assert found.totals == pytest.approx((*totals, *(0.0 for _ in range(12 - len(totals)))), abs=0.1)


# Another way of reckoning: no string and no parting of months, but one linear programme a month.


def month_by_programme(cut: Cut, month: Month, held: np.ndarray) -> np.ndarray:
    """Find the greatest mean vapour pressures that are nowhere over full and take off no more than is held."""
    tied = np.array(tied_pressures(full_pressures(cut, month), month))
    gaps = np.diff(np.array(cut.depths))
    count = len(tied)
    bend = np.zeros((count - 2, count))
    for i in range(1, count - 1):
        bend[i - 1, i - 1 : i + 2] = (1 / gaps[i - 1], -1 / gaps[i - 1] - 1 / gaps[i], 1 / gaps[i])
    passed = FLOW_G_DAY * month.days
    bounds = [(tied[0], tied[0]), *((None, each) for each in tied[1:-1]), (tied[-1], tied[-1])]
    found = linprog(-np.ones(count), A_ub=-bend, b_ub=held[1:-1] / passed, bounds=bounds, method="highs")
    assert found.status == 0
    grown = held.copy()
    grown[1:-1] = np.maximum(held[1:-1] + passed * bend @ found.x, 0)
    return grown


LAYER = st.tuples(st.floats(0, 1.5), st.sampled_from((0.02, 0.1, 0.5, 2.0, 10.0)) | st.floats(0.02, 20))
BUILT = st.lists(LAYER, min_size=1, max_size=6).map(tuple)
CLIMATE_IDS = st.sampled_from([row.id for row in CLIMATES])
COLD_CLIMATE_IDS = st.sampled_from([row.id for row in CLIMATES if max(each.outside_c for each in row.months) < 20.5])
CLASS_IDS = st.sampled_from([row.id for row in ROOM_CLASSES])


@given(BUILT, CLIMATE_IDS, CLASS_IDS, st.none() | st.floats(30, 90), st.floats(10, 28))
@settings(max_examples=60, deadline=None)
def test_a_year_agrees_with_linear_programmes(
    layers: Layers, climate: str, room: str, percent: float | None, room_c: float
) -> None:
    """Within a thousandth and 0.05 g/m²: the solver keeps its limits to about 1e-7."""
    cut = cut_build_up(layers)
    months = months_of(CLIMATES, ROOM_CLASSES, climate, room, room_c, percent)
    found = year_of_condensate(cut, months)
    assume(found.wet)
    held = np.zeros(len(cut.shares))
    for step in range(12):
        held = month_by_programme(cut, months[(found.start + step) % 12], held)
        assert found.totals[step] == pytest.approx(held.sum(), rel=1e-3, abs=0.05)


@given(BUILT, CLIMATE_IDS, CLASS_IDS, st.integers(0, 11))
@settings(deadline=None)
def test_one_month_is_a_tight_string(layers: Layers, climate: str, room: str, number: int) -> None:
    """The vapour is nowhere over full, its line bends only upwards, and only where it is full."""
    cut = cut_build_up(layers)
    month = months_of(CLIMATES, ROOM_CLASSES, climate, room, 20, None)[number]
    tied = tied_pressures(full_pressures(cut, month), month)
    bends = string_bends(cut.depths, tied, dry(cut))
    vapour = string_pressures(cut.depths, tied, bends)
    for i in range(len(tied)):
        assert vapour[i] <= tied[i] * (1 + 1e-9)
        assert bends[i] >= -1e-6
        assert bends[i] < 1e-6 or vapour[i] == pytest.approx(tied[i], rel=1e-9)
    assert vapour[-1] == pytest.approx(tied[-1], rel=1e-9)


# Reference libraries.


def test_full_pressures_agree_with_reference_libraries() -> None:
    """From 0 °C up within 0.15 per cent, below within 0.6: the formula of the standard is that much lower."""
    # Here, since loading it takes three seconds: every process that runs tests reads all their files.
    import CoolProp.CoolProp

    psychrolib.SetUnitSystem(psychrolib.SI)
    cut = cut_build_up(((0.5, 0.1), (2.0, 1.0), (0.1, 5.0)))
    for outside_c in (-15.0, -5.0, 0.0, 8.0):
        month = Month(outside_c, 300, 20, 1200, 31)
        for share, found in zip(cut.shares, full_pressures(cut, month), strict=True):
            at_c = 20 + share * (outside_c - 20)
            assert found == pytest.approx(psychrolib.GetSatVapPres(at_c), rel=0.0015 if at_c >= 0 else 0.006)
            if at_c > 0.02:
                expected = CoolProp.CoolProp.PropsSI("P", "T", at_c + 273.15, "Q", 1, "Water")
                assert found == pytest.approx(expected, rel=0.0015)


# Laws.


@given(BUILT, CLIMATE_IDS, CLASS_IDS, st.floats(5, 35), st.data())
@settings(deadline=None)
def test_water_balance_closes(layers: Layers, climate: str, room: str, room_c: float, data: st.DataObject) -> None:
    """What is stored is what came in at one face less what went out at the other, as long as no plane dries up."""
    cut = cut_build_up(layers)
    month = data.draw(st.sampled_from(months_of(CLIMATES, ROOM_CLASSES, climate, room, room_c, None)))
    tied = tied_pressures(full_pressures(cut, month), month)
    inner = [data.draw(st.sampled_from((0.0, 0.0, 500.0, 50000.0))) for _ in cut.shares[1:-1]]
    held = (0.0, *inner, 0.0)
    bends = string_bends(cut.depths, tied, held)
    vapour = string_pressures(cut.depths, tied, bends)
    came = (vapour[0] - vapour[1]) / cut.depths[1]
    went = (vapour[-2] - vapour[-1]) / (cut.depths[-1] - cut.depths[-2])
    after = held_after(cut.depths, tied, held, 0.001)
    assume(all(after[i] > 0 for i in range(len(held)) if held[i] > 0))
    scale = max(abs(came), abs(went), 1)
    assert sum(after) - sum(held) == pytest.approx(0.001 * FLOW_G_DAY * (came - went), abs=1e-6 * scale + 1e-6)


@given(BUILT, CLIMATE_IDS, CLASS_IDS, st.floats(0.1, 30), st.floats(0.1, 300))
@settings(deadline=None)
def test_two_spells_are_one_long_one(layers: Layers, climate: str, room: str, one: float, other: float) -> None:
    """No water is lost or made where a plane dries up on the way."""
    cut = cut_build_up(layers)
    months = months_of(CLIMATES, ROOM_CLASSES, climate, room, 20, None)
    winter = tied_pressures(full_pressures(cut, months[0]), months[0])
    summer = tied_pressures(full_pressures(cut, months[6]), months[6])
    held = held_after(cut.depths, winter, dry(cut), 90)
    in_two = held_after(cut.depths, summer, held_after(cut.depths, summer, held, one), other)
    assert held_after(cut.depths, summer, held, one + other) == pytest.approx(in_two, rel=1e-6, abs=1e-6)
    assert all(each >= 0 for each in in_two)


@given(BUILT, COLD_CLIMATE_IDS, st.floats(10, 100), st.floats(10, 100), st.floats(20.5, 30))
@settings(deadline=None)
def test_a_moister_room_never_has_less(layers: Layers, climate: str, one: float, other: float, room_c: float) -> None:
    """Where there is one wet season, as in a room that is warmer than outside in every month.

    With a second one, in summer, the year may begin in the other season, and then it ends before what it carries over.
    """
    cut = cut_build_up(layers)
    drier, moister = (
        year_of_condensate(cut, months_of(CLIMATES, ROOM_CLASSES, climate, "class-1", room_c, each))
        for each in sorted((one, other))
    )
    assert max_of(drier.totals) <= max_of(moister.totals) + 2 * LEAST_G_M2 + 1e-6 * max_of(moister.totals)


@given(BUILT, CLIMATE_IDS, CLASS_IDS, st.floats(0.1, 100))
@settings(deadline=None)
def test_a_tighter_vapour_check_never_has_more(layers: Layers, climate: str, room: str, sd_m: float) -> None:
    """Where the room is at least as warm as it is outside in every month, so that vapour goes outwards."""
    months = tuple(
        each._replace(room_c=28, room_pa=each.room_pa)
        for each in months_of(CLIMATES, ROOM_CLASSES, climate, room, 20, None)
    )
    bare = max_of(year_of_condensate(cut_build_up(((0.05, 0.1), *layers)), months).totals)
    checked = max_of(year_of_condensate(cut_build_up(((0.05, 0.1 + sd_m), *layers)), months).totals)
    assert checked <= bare + 2 * LEAST_G_M2 + 1e-6 * bare


@given(st.sampled_from([row.id for row in ROOF_BUILD_UPS]), CLIMATE_IDS, CLASS_IDS, st.none() | st.floats(10, 100))
def test_numbers_of_a_year_agree_with_one_another(
    build_up: str, climate: str, room: str, percent: float | None
) -> None:
    found = interstitial(*ROOF, build_up, (("wool", 100),), climate, room, 20, percent)
    peak, left, wet = (found.outputs[name] or 0 for name in ("peak_g_m2", "left_g_m2", "wet_months_count"))
    assert left <= peak
    assert (peak == 0) == (found.outputs["peak_month"] is None)
    assert (found.verdict in ("slow", "never-dries")) <= (left > 0)
    assert (found.verdict == "dries") <= (left == 0)
    assert wet <= 11 or left > 0


def test_more_use_of_the_room_is_never_a_better_verdict() -> None:
    order = ("dries", "slow", "too-much", "never-dries")
    for build_up in ROOF_BUILD_UPS:
        ranks = [
            order.index(
                str(
                    interstitial(
                        *ROOF,
                        build_up.id,
                        (("wool", 100),),
                        "england",
                        row.id,
                        20,
                        None,
                    ).verdict
                )
            )
            for row in ROOM_CLASSES
        ]
        assert ranks == sorted(ranks), build_up.id


@given(CLIMATE_IDS, CLASS_IDS, st.floats(5, 35), st.none() | st.floats(10, 100))
def test_a_room_is_never_drier_than_outside_nor_more_than_full(
    climate: str, room: str, room_c: float, percent: float | None
) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    for month in months_of(CLIMATES, ROOM_CLASSES, climate, room, room_c, percent):
        full_pa = psychrolib.GetSatVapPres(room_c)
        assert min(month.outside_pa, 0.998 * full_pa) <= month.room_pa <= full_pa


# Parts of a layer, start of the year, verdicts, tables.


def test_parts_of_a_layer_change_nothing_where_the_plane_is_at_a_face() -> None:
    months = year_outside(POTSDAM, 810)
    whole = year_of_condensate(Cut(*coarse(COMPUTED_WALL)), months)
    assert year_of_condensate(cut_build_up(COMPUTED_WALL), months).totals == pytest.approx(whole.totals, rel=1e-9)


def test_water_forms_inside_a_layer_too() -> None:
    """In very damp air a layer without parts would be told to gather less than it does."""
    layers: Layers = ((0.05, 0.075), (5.0, 0.2), (0.0, 20.0))
    months = months_of(CLIMATES, ROOM_CLASSES, "upland", "class-1", 20, 95)
    found = year_of_condensate(cut_build_up(layers), months)
    places = [place for place, held in zip(cut_build_up(layers).places, found.peak_held, strict=True) if held > 1]
    assert any(1 < place < 2 for place in places) and 2.0 in places
    assert found.totals[0] > 1.03 * year_of_condensate(Cut(*coarse(layers)), months).totals[0]


def coarse(layers: Layers) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...], float]:
    """Give the planes of layers that are not cut into parts."""
    total = 0.29 + sum(r for r, _ in layers)
    shares = tuple((0.25 + sum(r for r, _ in layers[:i])) / total for i in range(len(layers) + 1))
    depths = tuple(sum(sd for _, sd in layers[:i]) for i in range(len(layers) + 1))
    return shares, depths, tuple(float(i) for i in range(len(layers) + 1)), total


def test_the_year_begins_after_the_longest_dry_spell() -> None:
    """A wet October, a dry November and a wet winter: the year begins in October, and not in the middle of it."""
    cut = cut_build_up(OPEN_ROOF)
    mild, cold = Month(18, 1200, 20, 1200, 30), Month(-2, 450, 20, 1400, 30)
    months = (*(cold for _ in range(3)), *(mild for _ in range(6)), cold, mild, cold)
    assert year_of_condensate(cut, months).start == 9
    assert year_of_condensate(cut, tuple(cold for _ in range(12))).start == 0
    assert not year_of_condensate(cut, tuple(mild for _ in range(12))).wet


@pytest.mark.parametrize(
    ("build_up", "climate", "room", "percent", "verdict"),
    [("felt-open", "england", "class-3", None, "never-dries"),
     ("felt-sealed", "england", "class-3", None, "dries"),
     ("rafters-sealed", "england", "class-3", None, "dries"), ("rafters-open", "england", "class-4", None, "too-much"),
     ("rafters-open", "upland", "class-2", None, "too-much"), ("rafters-open", "england", "class-3", None, "dries"),
     ("felt-open", "england", "class-5", 30, "dries"), ("flat-cold", "coast", "class-3", None, "never-dries"),
     ("flat-warm", "england", "class-4", None, "slow"), ("metal-boards", "england", "class-3", None, "slow"),
     ("felt-lapped", "england", "class-4", None, "never-dries")],
)  # fmt: skip
def test_verdicts_on_common_roofs(build_up: str, climate: str, room: str, percent: float | None, verdict: str) -> None:
    assert interstitial(*ROOF, build_up, (("wool", 100),), climate, room, 20, percent).verdict == verdict


@pytest.mark.parametrize(
    ("peak", "allowed", "left", "verdict"),
    [(500, 500, 0, "dries"), (501, 500, 0, "too-much"), (500, 500, 1, "slow"), (500, 500, 49, "slow"),
     (500, 500, 50, "never-dries"), (100, 351, 35, "slow"), (100, 351, 36, "never-dries"), (501, 500, 20, "too-much"),
     (501, 500, 50, "never-dries"), (30, 5, 1, "never-dries")],
)  # fmt: skip
def test_what_stays_is_blamed_only_from_a_tenth_or_50_g_m2(
    peak: float, allowed: float, left: float, verdict: str
) -> None:
    assert year_told(peak, allowed, left) == verdict


def test_what_stays_a_little_is_told_with_its_years() -> None:
    found = interstitial(
        *ROOF,
        "flat-warm",
        (("wool", 100),),
        "england",
        "class-4",
        20,
        None,
    )
    assert found.outputs["left_g_m2"] == 8
    assert "by itself it would take about 61 years" in found.working[-1]


@pytest.mark.parametrize("build_up", ["loft", "flat-vented"])
def test_no_number_is_given_where_air_blows_through(build_up: str) -> None:
    """Reckoning by layers does not apply to cold pitched roofs (IP 4/06, abstract)."""
    values = (build_up, (("wool", 100.0),), "upland", "class-5", 20.0, None)
    found = interstitial(*ROOF, *values)
    assert found.verdict == "not-this"
    assert set(found.outputs.values()) == {None}
    assert "no number by layers" in draw_interstitial(*ROOF, *values, found.outputs)


def test_wet_wood_may_hold_less() -> None:
    """3 per cent of 18 mm of strand board of 650 kg/m³ is 351 g/m²; of 40 mm it would be over the limit of a face."""
    assert layer_takes_g_m2(ROOF_LAYERS, "osb", 18) == pytest.approx(351)
    assert layer_takes_g_m2(ROOF_LAYERS, "osb", 40) == 500
    assert layer_takes_g_m2(ROOF_LAYERS, "wool", 18) == 500
    assert (
        interstitial(
            *ROOF,
            "flat-cold",
            (("wool", 100),),
            "england",
            "class-3",
            20,
            None,
        ).outputs["allowed_g_m2"]
        == 351
    )


def test_a_range_is_taken_open_inside_and_tight_outside() -> None:
    cut = cut_layers(ROOF_LAYERS, (("plywood", 10), ("wool", 100), ("plywood", 10)))
    faces = [cut.depths[cut.places.index(place)] for place in (1.0, 2.0, 3.0)]
    assert faces == pytest.approx([0.3, 0.4, 4.4])


def test_own_layers_are_those_of_a_common_roof_when_listed() -> None:
    row = next(each for each in ROOF_BUILD_UPS if each.id == "felt-open")
    listed: Laid = tuple((each.material, each.thickness_mm) for each in row.layers)
    given_values = ("england", "class-4", 20.0, None)
    assert interstitial(*ROOF, "own", listed, *given_values) == interstitial(
        *ROOF, "felt-open", (("wool", 50),), *given_values
    )


def test_tables_name_each_other_and_fit_the_drawing() -> None:
    materials = {row.id for row in ROOF_LAYERS}
    assert all(layer.material in materials for row in ROOF_BUILD_UPS for layer in row.layers)
    assert all(len(row.label) <= 30 for row in (*ROOF_LAYERS, *ROOF_BUILD_UPS, *CLIMATES)), "a phone shows 30 letters"
    for row in DATA["roof-layers"].values():
        mu, sd_m = row.mu, row.sd_m  # type: ignore[attr-defined]
        assert (len(mu) == 0) != (len(sd_m) == 0), f"{row.label}: either μ or sd"
        assert list(mu) == sorted(mu) and list(sd_m) == sorted(sd_m) and min((*mu, *sd_m)) > 0, row.label


def test_drawing_rings_the_planes_where_water_forms() -> None:
    values = ("felt-open", (("wool", 100.0),), "england", "class-3", 20.0, None)
    wet = draw_interstitial(
        *ROOF,
        *values,
        interstitial(*ROOF, *values).outputs,
    )
    assert wet.count("<circle") == 3, "one on the line, one in the key, one in the list"
    assert "December: room 20 °C" in wet and "2 Mineral wool" in wet
    still = ("rafters-sealed", *values[1:])
    assert (
        draw_interstitial(
            *ROOF,
            *still,
            interstitial(*ROOF, *still).outputs,
        ).count("<circle")
        == 0
    )
    assert sum_of(()) == 0
