"""The lap of sheet up the slope, by the rule for lead."""

from __future__ import annotations

import math

from build_tools.drawings.pen import Drawing, Slope, area, ball, legend, line, span, water, words
from build_tools.formulas.numbers import quantity
from build_tools.formulas.sheets import LEAST_LAP_MM, lap_needed
from build_tools.formulas.sheets_drawing import VERTICAL_MM

PITCH_DEG = 15
FOOT = 58.0
"""Where the upper piece ends, and where the lower one does, in pixels up the board."""
HEAD = 278.0


def lap() -> Drawing:
    """Draw one piece of sheet over another, with the lap along the slope and what it makes upright."""
    slope = Slope(8, 216, PITCH_DEG)
    upright, least = quantity(VERTICAL_MM, "mm"), quantity(LEAST_LAP_MM, "mm")
    along = f"{quantity(lap_needed(PITCH_DEG), 'mm')} at {quantity(PITCH_DEG, '°')}"
    return Drawing(
        name="lap",
        title="The lap of sheet up the slope",
        desc="Section up the slope through two pieces of sheet on a board, 3. The upper piece, 1, lies over the lower "
        f"one, 2. The lap is long enough when the top of the lower piece stands {upright}, measured upright, above the "
        f"lower end of the upper piece. Along the slope that takes {along}. On a roof slope no lap is under {least}. "
        "Water runs down the upper piece, over its end on to the lower piece, and on down the slope. The rule is for "
        "lead, as a roofing consultancy quotes the manual of the lead trade, no public source seen.",
        height=330,
        sources=("lead-lap-rule",),
        shapes=(
            *_pieces(slope),
            *_sizes(slope, upright, along),
            *legend(("upper piece", "lower piece"), ("board",)),
            words(12, 298, f"lap = {upright} ÷ sine of the pitch,"),
            words(12, 318, f"and never under {least} on a roof slope"),
        ),
    )


def _pieces(slope: Slope) -> tuple[str, ...]:
    return (
        area("cut", *slope.box(0, -13, 344, 13)),
        line("lead", *slope.points((0, 3), (HEAD, 3))),
        line("lead", *slope.points((FOOT, 9), (344, 9))),
        water(*slope.points((342, 18), (FOOT - 6, 18), (FOOT - 10, 10), (2, 10))),
        ball(1, (318, 84), slope.at(326, 9)),
        ball(2, (22, 252), slope.at(26, 3)),
        ball(3, (232, 208), slope.at(212, -7)),
    )


def _sizes(slope: Slope, upright: str, along: str) -> tuple[str, ...]:
    """Draw the lap along the slope, its height, and the angle between them."""
    foot, head = slope.at(FOOT, 9), slope.at(HEAD, 3)
    turn = math.radians(PITCH_DEG)
    arc = tuple((foot[0] + 96 * math.cos(turn * at / 6), foot[1] - 96 * math.sin(turn * at / 6)) for at in range(7))
    return (
        line("thin", foot, (350, foot[1])),
        line("thin", head, (350, head[1])),
        span((334, foot[1]), (334, head[1])),
        words(328, (foot[1] + head[1]) / 2 + 22, upright, "end"),
        line("thin", *slope.points((FOOT, 20), (FOOT, 42))),
        line("thin", *slope.points((HEAD, 6), (HEAD, 42))),
        span(*slope.points((FOOT, 36), (HEAD, 36))),
        words(*slope.at((FOOT + HEAD) / 2, 44), f"lap: {along}", "middle", PITCH_DEG),
        line("thin", *arc),
        line("thin", arc[3], (arc[3][0] + 4, 222)),
        words(arc[3][0] - 10, 237, "pitch"),
    )
