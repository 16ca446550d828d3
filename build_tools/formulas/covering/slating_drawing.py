"""Four courses of slates seen from the side, to scale along the slope; their tilt and thickness are only a sign."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.formulas.drawing import dimension, label, line, mark, picture, water
from build_tools.formulas.numbers import quantity

SLATE_TAIL_X = 30.0
SLATE_DECK_Y = 150.0
SLATE_TAIL_UP = 26.0
"""How far the tail of a slate stands off the deck, in the picture's units."""
SLATE_HEAD_UP = 5.0
SLATES_DRAWN = 4


def draw_slate_gauge(
    length_mm: float,
    headlap_mm: float,
    nailing: str,
    width_mm: float | None,
    rafter_pitch_deg: float | None,
    exposure: str,
    outputs: Mapping[str, float | None],
) -> str:
    """Draw slates lying on one another, the slope laid level, with the gauge, the headlap and the nail holes."""
    gauge_mm = outputs["gauge_mm"]
    hole_mm = outputs["hole_mm"]
    if gauge_mm is None or hole_mm is None:
        said = "no gauge: the lap is over a third of the slate"
        return picture(320, 224, said, label(160, 112, "middle", 0, said))
    scale = 264 / ((SLATES_DRAWN - 1) * gauge_mm + length_mm)
    shapes = line(SLATE_TAIL_X - 12, SLATE_DECK_Y, 306, SLATE_DECK_Y, "thin")
    for count in range(SLATES_DRAWN):
        shapes = shapes + _slate(SLATE_TAIL_X + count * gauge_mm * scale, length_mm * scale, hole_mm * scale)
    third_x = SLATE_TAIL_X + 2 * gauge_mm * scale
    lap_y = SLATE_DECK_Y + 24
    lap = headlap_mm * scale
    # Head-nailed slates count their lap from the nail hole of the slate two courses down.
    shapes = (
        shapes
        + line(third_x, SLATE_DECK_Y - SLATE_TAIL_UP, third_x, lap_y + 8, "thin")
        + line(third_x + lap, SLATE_DECK_Y - SLATE_HEAD_UP, third_x + lap, lap_y + 8, "thin")
        + dimension(third_x, lap_y, third_x + lap, lap_y)
        + label(third_x + lap / 2, lap_y + 22, "middle", 0, "headlap " + quantity(headlap_mm, "mm"))
        + _gauge(SLATE_TAIL_X, gauge_mm * scale, "gauge " + quantity(gauge_mm, "mm"))
        + water(
            (
                (302, SLATE_DECK_Y - SLATE_TAIL_UP - 30),
                (SLATE_TAIL_X + 3 * gauge_mm * scale, SLATE_DECK_Y - SLATE_TAIL_UP - 30),
            )
        )
        + label(302, SLATE_DECK_Y - SLATE_TAIL_UP - 38, "end", 0, "down the slope")
        + mark(20, 213)
        + label(32, 218, "start", 0, "nail hole " + quantity(hole_mm, "mm") + " from the tail")
    )
    return picture(320, 224, f"Gauge {quantity(gauge_mm, 'mm')} at a headlap of {quantity(headlap_mm, 'mm')}", shapes)


def _slate(tail_x: float, length: float, hole: float) -> str:
    """Draw one slate from its tail up to its head, with its nail hole."""
    fall = (SLATE_TAIL_UP - SLATE_HEAD_UP) / length
    return line(tail_x, SLATE_DECK_Y - SLATE_TAIL_UP, tail_x + length, SLATE_DECK_Y - SLATE_HEAD_UP, "edge") + mark(
        tail_x + hole, SLATE_DECK_Y - SLATE_TAIL_UP + hole * fall
    )


def _gauge(tail_x: float, gauge: float, text: str) -> str:
    """Draw the gauge from the tail of the first slate to that of the second."""
    y = SLATE_DECK_Y - SLATE_TAIL_UP - 26
    return (
        line(tail_x, SLATE_DECK_Y - SLATE_TAIL_UP, tail_x, y - 6, "thin")
        + line(tail_x + gauge, SLATE_DECK_Y - SLATE_TAIL_UP, tail_x + gauge, y - 6, "thin")
        + dimension(tail_x, y, tail_x + gauge, y)
        + label(tail_x, y - 12, "start", 0, text)
    )
