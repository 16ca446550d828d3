"""Soakers: one flat and folded, and several beside an upstand."""

from __future__ import annotations

from build_tools.drawings.pen import Drawing, Slope, area, away, ball, box, legend, line, out_note, span, water, words
from build_tools.drawings.tiles import headlap_of, plain_gauge_mm
from build_tools.formulas.numbers import quantity
from build_tools.formulas.soakers import UNDER_MM, UP_MM, soakers
from build_tools.formulas.soakers_drawing import TURN_DOWN_MM


def soaker_fold() -> Drawing:
    """Draw one soaker flat and folded, and how soakers lie on each other beside an upstand."""
    lap_mm = headlap_of("plain-tiles")
    gauge_mm = plain_gauge_mm(lap_mm)
    outputs = soakers("plain-tile", 1180, gauge_mm, lap_mm, 2, None, None, None).outputs
    long_mm, wide_mm = outputs["length_mm"] or 0, outputs["width_mm"] or 0
    shapes = (
        *_flat_soaker(84, 102, long_mm, wide_mm),
        *_soaker_across(222, 226),
        *_soakers_up(40, 470, gauge_mm, lap_mm),
        *legend(("soaker", "fold"), ("tile", "upstand")),
        *out_note(64, "water runs on down the slope"),
    )
    return Drawing(
        name="soaker-fold",
        title="A soaker, and how soakers lie",
        desc=f"Top left, one soaker, 1, flat, for plain tiles: {quantity(long_mm, 'mm')} long, which is gauge "
        f"{quantity(gauge_mm, 'mm')}, lap {quantity(lap_mm, 'mm')} and {quantity(TURN_DOWN_MM, 'mm')} to turn down "
        f"over the head; {quantity(wide_mm, 'mm')} wide, which is {quantity(UNDER_MM, 'mm')} under the tile and "
        f"{quantity(UP_MM, 'mm')} turned up at the fold, 2. Top right, a section across the slope: the soaker lies "
        "under the tile, 3, and stands up against the upstand, 4. At the bottom, seen from the side: one soaker to "
        "each course, each lying over the one below by the lap. Water runs down them and off at the foot. "
        "Sizes as tables of the trade give them, no public source seen; a handbook of about 1900 has nearly the same.",
        height=484,
        sources=("soaker-sizes", "soaker-book", "soaker-guidance"),
        shapes=shapes,
    )


def _flat_soaker(x: float, y: float, long_mm: float, wide_mm: float) -> tuple[str, ...]:
    """Draw one soaker flat, its head at the top, folds dashed, sizes beside it."""
    scale = 0.68
    wide, high, fold, down = wide_mm * scale, long_mm * scale, UNDER_MM * scale, TURN_DOWN_MM * scale
    return (
        box("edge", x, y, wide, high),
        line("hidden", (x + fold, y), (x + fold, y + high)),
        line("hidden", (x, y + down), (x + fold, y + down)),
        line("thin", (x, y), (x - 18, y)),
        line("thin", (x, y + high), (x - 18, y + high)),
        line("thin", (x, y + down), (x - 6, y + down)),
        span((x - 12, y), (x - 12, y + high)),
        words(x - 16, y + high / 2 + 12, quantity(long_mm, "mm"), "end"),
        words(x + 6, y + 13, f"{quantity(TURN_DOWN_MM, 'mm')}"),
        *(line("thin", (at, y + high), (at, y + high + 18)) for at in (x, x + fold, x + wide)),
        span((x, y + high + 12), (x + fold, y + high + 12)),
        span((x + fold, y + high + 12), (x + wide, y + high + 12)),
        words(x + fold / 2, y + high + 34, quantity(UNDER_MM, "mm"), "middle"),
        words(x + fold + (wide - fold) / 2, y + high + 34, quantity(UP_MM, "mm"), "middle"),
        words(x + fold / 2, y + 68, "under", "middle"),
        words(x + fold + (wide - fold) / 2, y + 68, "up", "middle"),
        ball(1, (x + 30, y + 104), (x + 30, y + 104)),
        ball(2, (x + wide + 14, y + 30), (x + fold, y + 36)),
    )


def _soaker_across(x: float, y: float) -> tuple[str, ...]:
    """Draw the soaker across the slope, between two thicknesses of tile, against the upstand."""
    return (
        area("cut", (x + 104, y - 92), (x + 126, y - 92), (x + 126, y + 24), (x + 104, y + 24)),
        area("cut", (x + 8, y + 3), (x + 100, y + 3), (x + 100, y + 12), (x + 8, y + 12)),
        line("lead", (x + 28, y), (x + 100, y), (x + 100, y - 54)),
        area("cut", (x + 8, y - 12), (x + 88, y - 12), (x + 88, y - 3), (x + 8, y - 3)),
        water((x + 40, y - 20), (x + 84, y - 20), (x + 93, y - 16), (x + 93, y - 10)),
        away(x + 93, y - 5),
        ball(1, (x + 70, y - 48), (x + 98, y - 40)),
        ball(3, (x + 20, y - 44), (x + 20, y - 8)),
        ball(4, (x + 114, y + 42), (x + 114, y + 16)),
    )


def _soakers_up(x: float, y: float, gauge_mm: float, lap_mm: float) -> tuple[str, ...]:
    """Draw three soakers along the upstand, seen square to the slope's side, the tiles left out."""
    slope = Slope(x, y - 26, 20)
    scale = 0.72
    gauge, lap, up = gauge_mm * scale, lap_mm * scale, UP_MM * scale
    laid = tuple(area("edge", *slope.box(course * gauge, 0, gauge + lap, up)) for course in range(3))
    foot, head = 2 * gauge, gauge + gauge + lap
    return (
        area("edge", *slope.box(-8, 0, 308, up + 26)),
        *laid,
        line("hidden", *slope.points((gauge + lap, 2), (gauge + lap, up))),
        line("hidden", *slope.points((head, 2), (head, up))),
        line("thin", *slope.points((foot, 0), (foot, -24))),
        line("thin", *slope.points((head, 0), (head, -24))),
        span(*slope.points((foot, -18), (head, -18))),
        words(*slope.at(head - 4, -40), f"lap {quantity(lap_mm, 'mm')}"),
        water(*slope.points((286, 8), (-10, 8), (-22, -10))),
        ball(1, slope.at(gauge - 20, up * 0.6), slope.at(gauge - 20, up * 0.6)),
        ball(1, slope.at(2 * gauge - 20, up * 0.6), slope.at(2 * gauge - 20, up * 0.6)),
        ball(1, slope.at(3 * gauge - 20, up * 0.6), slope.at(3 * gauge - 20, up * 0.6)),
        ball(4, slope.at(270, up + 6), slope.at(270, up + 6)),
    )
