"""The ways to take a material off: by its edges, as whole pieces, counted, by its area, or along the slope."""

from __future__ import annotations

from typing import NamedTuple

from build_tools.formulas.covering.courses import courses
from build_tools.formulas.covering.underlay import SIDE_LAP_MM, underlay_lap
from build_tools.formulas.definition import Reckoned
from build_tools.formulas.numbers import at_least, figure, quantity, round_down, round_up, rounded
from build_tools.formulas.sheet.sheets import sheet_lap
from build_tools.formulas.sheet.soakers import courses_beside, soakers_in_all
from build_tools.formulas.take_off.inputs import (
    LIGHT_HEIGHT,
    LIGHT_WIDTH,
    TAKEN_AREA,
    TAKEN_COVER,
    TAKEN_GAUGE,
    TAKEN_LENGTH,
    TAKEN_PIECES,
    TAKEN_PITCH,
    TAKEN_REVEAL,
    TAKEN_SLOPE_LENGTH,
    TAKEN_SLOPE_WIDTH,
    TO_BUY,
)
from build_tools.formulas.take_off.runs import Run, sizes_for
from build_tools.model.data import UnderlayLap


class TakenSizes(NamedTuple):
    """The sizes of a light and its roof, each in the unit of its name; NOT_GIVEN where it was left out."""

    width_mm: float
    height_mm: float
    gauge_mm: float
    cover_mm: float
    pitch_deg: float
    slope_width_m: float
    slope_length_m: float
    reveal_mm: float


class TakenEdges(NamedTuple):
    """Edges of one length."""

    alike: int
    each_mm: float
    said: str
    """The length as it is measured, with what goes past its ends."""


NOT_GIVEN = -1.0
ROLL_MM = 250
"""Sheet in the roll between two pieces of a gutter, common practice."""


def still_wanted(row: Run, joint: str, sizes: TakenSizes) -> str:
    """Name the sizes that are not given and without which nothing can be taken off."""
    needs = sizes_for(row, joint)
    wanted = ""
    for name, label, value in (
        (LIGHT_WIDTH.name, LIGHT_WIDTH.label, sizes.width_mm),
        (LIGHT_HEIGHT.name, LIGHT_HEIGHT.label, sizes.height_mm),
        (TAKEN_GAUGE.name, TAKEN_GAUGE.label, sizes.gauge_mm),
        (TAKEN_COVER.name, TAKEN_COVER.label, sizes.cover_mm),
        (TAKEN_PITCH.name, TAKEN_PITCH.label, sizes.pitch_deg),
        (TAKEN_SLOPE_WIDTH.name, TAKEN_SLOPE_WIDTH.label, sizes.slope_width_m),
        (TAKEN_SLOPE_LENGTH.name, TAKEN_SLOPE_LENGTH.label, sizes.slope_length_m),
        (TAKEN_REVEAL.name, TAKEN_REVEAL.label, sizes.reveal_mm),
    ):
        if value == NOT_GIVEN and name in needs:
            wanted = wanted + ("" if wanted == "" else "; ") + label
    return wanted


def taken(
    length_mm: float | None, area_m2: float | None, pieces: float | None, sold: float | None, working: tuple[str, ...]
) -> Reckoned:
    """Sum up what was taken off; what does not apply is None."""
    outputs = {
        "length_m": None if length_mm is None else rounded(length_mm / 1000, TAKEN_LENGTH),
        "area_m2": None if area_m2 is None else rounded(area_m2, TAKEN_AREA),
        "pieces_count": None if pieces is None else rounded(pieces, TAKEN_PIECES),
        "sold_count": sold,
    }
    return Reckoned(outputs=outputs, verdict=None, working=working)


def taken_pieces(row: Run, sizes: TakenSizes, lights_count: int, waste_percent: float) -> Reckoned:
    """Count pieces: those beside a light by its courses, those across it by their width."""
    working: tuple[str, ...] = ()
    count = 0.0 if row.sides + row.ends > 0 else 1.0
    if row.sides > 0:
        a_side = courses_beside(sizes.height_mm, sizes.gauge_mm)
        beside = round_up(soakers_in_all(a_side, 1) / row.every, 1)
        count = count + row.sides * beside
        shared = "" if row.every == 1 else f", ÷ {row.every} and rounded up"
        working = (
            *working,
            f"{quantity(sizes.height_mm, 'mm')} ÷ {quantity(sizes.gauge_mm, 'mm')}: {figure(a_side, 0)} courses to a "
            f"side, and one more where they do not begin at the foot{shared}: {figure(beside, 0)}, × {row.sides}.",
        )
    if row.ends > 0:
        across = round_up(sizes.width_mm / sizes.cover_mm, 1) + 1
        count = count + row.ends * across
        working = (
            *working,
            f"{quantity(sizes.width_mm, 'mm')} ÷ {quantity(sizes.cover_mm, 'mm')}, rounded up, and one more where no "
            f"joint meets the corner: {figure(across, 0)}, × {row.ends}.",
        )
    total = count * lights_count
    pieces = total * (1 + waste_percent / 100)
    last = _said_with_waste(
        f"{figure(count, 0)} × {lights_count} = {figure(total, 0)}", waste_percent, figure(pieces, 2)
    )
    return taken(None, None, pieces, None, (*working, last))


def _said_with_waste(said: str, waste_percent: float, total: str) -> str:
    return f"{said}, and {quantity(waste_percent, '%')} waste: {total}, rounded up."


def taken_area(row: Run, sizes: TakenSizes, lights_count: int, waste_percent: float) -> Reckoned:
    """Take off an area: the light itself, the faces of its reveal, or the slope with nothing left out."""
    if row.id == "slope":
        area_m2 = sizes.slope_width_m * sizes.slope_length_m
        said = f"{quantity(sizes.slope_width_m, 'm')} × {quantity(sizes.slope_length_m, 'm')}"
    elif row.id == "reveal":
        round_mm = row.ends * sizes.width_mm + row.sides * sizes.height_mm
        area_m2 = round_mm * sizes.reveal_mm / 1000000 * lights_count
        said = f"{quantity(round_mm, 'mm')} round × {quantity(sizes.reveal_mm, 'mm')} deep × {lights_count}"
    else:
        area_m2 = sizes.width_mm * sizes.height_mm / 1000000 * lights_count
        said = f"{quantity(sizes.width_mm, 'mm')} × {quantity(sizes.height_mm, 'mm')} × {lights_count}"
    total_m2 = area_m2 * (1 + waste_percent / 100)
    said = f"{said} = {figure(area_m2, 3)} m²"
    return taken(None, total_m2, None, None, (_said_with_waste(said, waste_percent, figure(total_m2, 3) + " m²"),))


def taken_slope(
    underlay_laps: tuple[UnderlayLap, ...],
    row: Run,
    sizes: TakenSizes,
    strip_mm: float,
    waste_percent: float,
    sold_m: float | None,
) -> Reckoned:
    """Take off rows as long as the slope is wide: one at the eaves, a batten to each course, or strips of underlay."""
    rows = 1.0
    lap_mm = 0.0
    said = "One row along the eaves"
    if row.id == "battens":
        up = courses(sizes.slope_length_m, None, None, sizes.gauge_mm, None).outputs["courses_count"]
        rows = (0 if up is None else up) + 1
        said = f"{quantity(sizes.slope_length_m, 'm')} at {quantity(sizes.gauge_mm, 'mm')}: {figure(rows, 0)} battens"
    elif row.id == "strips":
        over_mm = underlay_lap(underlay_laps, sizes.pitch_deg, "draped", None).outputs["lap_mm"]
        if over_mm is None:
            return taken(None, None, None, None, (_no_lap_to_take(sizes.pitch_deg),))
        lap_mm = SIDE_LAP_MM
        rows = max(1, round_up((sizes.slope_length_m * 1000 - over_mm) / (strip_mm - over_mm), 1))
        said = (
            f"{quantity(sizes.slope_length_m, 'm')} in strips of {quantity(strip_mm, 'mm')}, each "
            f"{quantity(over_mm, 'mm')} over the next: {figure(rows, 0)} strips"
        )
    exact_mm = rows * sizes.slope_width_m * 1000
    total_mm = exact_mm * (1 + waste_percent / 100)
    said = f"{said} × {quantity(sizes.slope_width_m, 'm')} = {figure(exact_mm / 1000, 2)} m"
    working = (_said_with_waste(said, waste_percent, figure(total_mm / 1000, 2) + " m"),)
    return _taken_by_length(total_mm, lap_mm, sold_m, working)


def _edges_alike(alike: int, measured_mm: float, past_mm: float) -> TakenEdges:
    """Lengthen edges by what goes past both their ends."""
    past = "" if past_mm == 0 else f" + 2 × {quantity(past_mm, 'mm')}"
    return TakenEdges(alike=alike, each_mm=measured_mm + 2 * past_mm, said=quantity(measured_mm, "mm") + past)


def _as_factor(sum_text: str) -> str:
    """Put a sum in brackets, so that it can be multiplied."""
    return f"({sum_text})" if sum_text.find("+") >= 0 else sum_text


def taken_edges(
    underlay_laps: tuple[UnderlayLap, ...],
    row: Run,
    sizes: TakenSizes,
    lights_count: int,
    joint: str,
    past_mm: float,
    longest_mm: float | None,
    waste_percent: float,
    sold_m: float | None,
) -> Reckoned:
    """Take off what runs along edges, each piece with one lap where it is lapped, or a roll where two meet."""
    sides = _edges_alike(row.sides * lights_count, sizes.height_mm, past_mm)
    ends = _edges_alike(row.ends * lights_count, sizes.width_mm, past_mm)
    if joint == "whole":
        return _taken_whole(sides, ends, waste_percent, sold_m)
    if joint == "roll":
        return _taken_rolled(sides, ends, longest_mm, waste_percent, sold_m)
    lap_mm: float | None = 0.0
    if joint == "sheet":
        lap_mm = sheet_lap(sizes.pitch_deg, None, "lead", None).outputs["lap_mm"]
    elif joint == "underlay":
        lap_mm = underlay_lap(underlay_laps, sizes.pitch_deg, "draped", None).outputs["lap_mm"]
    if lap_mm is None:
        return taken(None, None, None, None, (_no_lap_to_take(sizes.pitch_deg),))
    exact_mm = 0.0
    working: tuple[str, ...] = ()
    for count, each_mm, each in (
        (sides.alike, sides.each_mm, sides.said),
        (ends.alike, ends.each_mm, ends.said),
    ):
        if count > 0:
            pieces = 1.0 if longest_mm is None else round_up(each_mm / (longest_mm - lap_mm), 1)
            edge_mm = each_mm + pieces * lap_mm
            exact_mm = exact_mm + count * edge_mm
            laps = "" if lap_mm == 0 else f" + {figure(pieces, 0)} × lap of {quantity(lap_mm, 'mm')}"
            working = (*working, f"{count} × {_as_factor(each + laps)} = {figure(count * edge_mm, 1)} mm.")
    total_mm = exact_mm * (1 + waste_percent / 100)
    last = _said_with_waste(f"{figure(exact_mm / 1000, 3)} m", waste_percent, figure(total_mm / 1000, 3) + " m")
    return _taken_by_length(total_mm, lap_mm, sold_m, (*working, last))


def _taken_rolled(
    sides: TakenEdges, ends: TakenEdges, longest_mm: float | None, waste_percent: float, sold_m: float | None
) -> Reckoned:
    """Take off a gutter in pieces that meet in wood-cored rolls, so that water standing in it finds no lap."""
    exact_mm = 0.0
    working: tuple[str, ...] = ()
    for count, each_mm, each in (
        (sides.alike, sides.each_mm, sides.said),
        (ends.alike, ends.each_mm, ends.said),
    ):
        if count > 0:
            pieces = 1.0 if longest_mm is None else round_up((each_mm - ROLL_MM) / (longest_mm - ROLL_MM), 1)
            rolls = max(pieces, 1.0) - 1
            edge_mm = each_mm + rolls * ROLL_MM
            exact_mm = exact_mm + count * edge_mm
            said = "" if rolls == 0 else f" + {figure(rolls, 0)} × roll of {quantity(ROLL_MM, 'mm')}"
            working = (*working, f"{count} × {_as_factor(each + said)} = {figure(count * edge_mm, 1)} mm.")
    total_mm = exact_mm * (1 + waste_percent / 100)
    last = _said_with_waste(f"{figure(exact_mm / 1000, 3)} m", waste_percent, figure(total_mm / 1000, 3) + " m")
    return _taken_by_length(total_mm, ROLL_MM, sold_m, (*working, last))


def _no_lap_to_take(pitch_deg: float) -> str:
    return f"At {quantity(pitch_deg, '°')} it lies too flat for any lap of the tables. Nothing is taken off."


def _taken_by_length(total_mm: float, lap_mm: float, sold_m: float | None, working: tuple[str, ...]) -> Reckoned:
    """Divide a length by that which is sold; where it is lapped, one piece sold laps over the next."""
    if sold_m is None:
        return taken(total_mm, None, None, None, working)
    sold = max(1, rounded((total_mm - lap_mm) / (sold_m * 1000 - lap_mm), TO_BUY))
    said = f"{figure(total_mm / 1000, 3)} m in lengths of {quantity(sold_m, 'm')}, rounded up: {figure(sold, 0)}."
    return taken(total_mm, None, None, sold, (*working, said))


def _taken_whole(sides: TakenEdges, ends: TakenEdges, waste_percent: float, sold_m: float | None) -> Reckoned:
    """Take off one whole piece to an edge: so many come out of each length sold, and the rest of it is waste."""
    exact_mm = sides.alike * sides.each_mm + ends.alike * ends.each_mm
    total_mm = exact_mm * (1 + waste_percent / 100)
    said = f"{sides.alike} × {_as_factor(sides.said)}" if sides.alike > 0 else ""
    if ends.alike > 0:
        said = said + ("" if said == "" else " + ") + f"{ends.alike} × {_as_factor(ends.said)}"
    said = f"{said} = {figure(exact_mm / 1000, 3)} m"
    working = (_said_with_waste(said, waste_percent, figure(total_mm / 1000, 3) + " m"),)
    if sold_m is None:
        return taken(total_mm, None, None, None, working)
    sold = 0.0
    for count, each_mm in ((sides.alike, sides.each_mm), (ends.alike, ends.each_mm)):
        out_of_one = round_down(sold_m * 1000 / each_mm, 1)
        if count > 0 and not at_least(out_of_one, 1):
            long = f"{quantity(each_mm, 'mm')} is longer than it is sold, {quantity(sold_m, 'm')}. Order it to length."
            return taken(total_mm, None, None, None, (*working, long))
        if count > 0:
            sold = sold + round_up(count / out_of_one, 1)
    sold = max(sold, rounded(total_mm / (sold_m * 1000), TO_BUY))
    last = f"Whole pieces out of lengths of {quantity(sold_m, 'm')}: {figure(sold, 0)}."
    return taken(total_mm, None, None, sold, (*working, last))
