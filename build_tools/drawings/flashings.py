"""Sheet and underlay round a light: turned up at its head, gathered above it, and laid on top at its foot."""

from __future__ import annotations

from build_tools.drawings.pen import (
    Drawing,
    Point,
    Slope,
    area,
    arrow,
    away,
    ball,
    box,
    legend,
    line,
    out_note,
    span,
    water,
    words,
)
from build_tools.drawings.tiles import Courses
from build_tools.formulas.back_gutters import USUAL_FALL
from build_tools.formulas.numbers import quantity
from build_tools.formulas.sheets import LEAST_LAP_MM
from build_tools.formulas.thermal import LONGEST_LEAD_MM

TURN_UP_MM = 100
"""Underlay at an upstand (underlay-turn-up)."""
SOLE_MM = 150
"""Flat floor of a back gutter (common practice, no source)."""


def underlay_turn_up() -> Drawing:
    """Draw the underlay at the head of a light in section, and its tray from above."""
    slope = Slope(26, 250, 22)
    text = f"{quantity(TURN_UP_MM, 'mm')} or more"
    return Drawing(
        name="underlay-turn-up",
        title="Underlay at the head of a light",
        desc="Above, a section up the slope over the head of a light, without tiles and back gutter. The underlay, 1, "
        "comes down over the upper edge of a tray, 2. The tray is a channel of underlay or sheet, its lower edge "
        "turned up over a batten, and it lies on the underlay below. It is longer than the light is wide, and falls to "
        f"both sides. The underlay below it, 3, is turned up {quantity(TURN_UP_MM, 'mm')} or more against the upstand, "
        "4; 5 is a rafter. Below, the same from above: water runs along the tray, past the corners of the light, and "
        "out on the underlay to the left and right. The 100 mm is said to stand in BS 5534, no public "
        "source seen; how the tray lies is common practice, no source.",
        height=410,
        sources=("underlay-turn-up", "common-practice"),
        shapes=(*_underlay_turn_up_parts(slope, text), *_underlay_turn_up_names(slope)),
    )


def _underlay_turn_up_parts(slope: Slope, text: str) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        area("edge", *slope.box(58, -30, 290, 26)),
        area("cut", *slope.box(34, -30, 20, 134)),
        area("cut", *slope.box(132, 1, 18, 11)),
        line("sheet", *slope.points((236, -1), (57, -1), (57, 76))),
        line("sheet", *slope.points((290, 2), (152, 2), (152, 16), (128, 16), (128, 3))),
        line("sheet", *slope.points((350, 5), (206, 5))),
        line("thin", *slope.points((60, 76), (90, 76))),
        span(*slope.points((80, 0), (80, 76))),
        words(*slope.at(90, 62), text),
        water(*slope.points((336, 11), (206, 11), (200, 8), (176, 8))),
        away(*slope.at(164, 9)),
    )


def _underlay_turn_up_names(slope: Slope) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (318, 176), slope.at(312, 5)),
        ball(2, slope.at(102, 24), slope.at(128, 10)),
        ball(3, (132, 240), slope.at(100, -1)),
        ball(4, (110, 272), slope.at(44, -14)),
        ball(5, (262, 230), slope.at(230, -18)),
        *_tray_plan(306),
        *legend(("underlay", "tray: slanting gutter", "underlay, turned up"), ("upstand", "rafter")),
        *out_note(84, "water runs to both sides of the light"),
        words(12, 106, "tiles and back gutter left out"),
    )


def _tray_plan(y: float) -> tuple[str, ...]:
    """Draw the tray from above, over the head of the light."""
    return (
        box("edge", 112, y + 44, 136, 52),
        words(180, y + 76, "light", "middle"),
        area("edge", (62, y + 24), (180, y + 14), (298, y + 24), (298, y + 38), (180, y + 28), (62, y + 38)),
        water((180, y - 8), (180, y + 20), (44, y + 32), (44, y + 84)),
        water((180, y - 8), (180, y + 20), (316, y + 32), (316, y + 84)),
        ball(2, (262, y + 4), (250, y + 26)),
        ball(1, (338, y + 20), (330, y + 60)),
    )


def back_gutter() -> Drawing:
    """Draw the gutter over the head of a light from above, with its falls and its sole."""
    wide = quantity(LONGEST_LEAD_MM / 1000, "m")
    fall = f"fall 1 in {USUAL_FALL}"
    return Drawing(
        name="back-gutter-plan",
        title="The back gutter from above",
        desc="Plan of the head of a light, up the slope at the top. Water runs off the tiles, 5, into the back gutter, "
        f"1. Its sole is about {quantity(SOLE_MM, 'mm')} wide. It falls about 1 in {USUAL_FALL} from its high line, 2, "
        "in the middle, to both sides. It reaches over both side gutters, 3, and they carry the water down beside the "
        "glass. The upper edge of its sheet, 4, dashed, lies up the slope under the tiles. Of lead, a back gutter "
        f"wider than {wide} is made in pieces with a wood-cored roll at the high line, never a lap, as a roofing "
        "consultancy says, no public source seen. Sole and fall are common practice, no source.",
        height=390,
        sources=("new-homes-weathering", "side-lap-guidance", "common-practice"),
        shapes=(*_back_gutter_parts(fall), *_back_gutter_names(wide)),
    )


def _back_gutter_parts(fall: str) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        *(line("thin", (8, y), (352, y)) for y in (130, 180)),
        *(line("thin", (x, 130), (x, 180)) for x in (30, 90, 150, 210, 270, 330)),
        *(line("thin", (x, 180), (x, 222)) for x in (60, 120, 180, 240, 300)),
        line("sheet", (8, 222), (352, 222)),
        line("hidden", (36, 222), (36, 150), (304, 150), (304, 222)),
        area("edge", (76, 272), (264, 272), (264, 380), (76, 380)),
        line("sheet", (84, 380), (84, 280), (256, 280), (256, 380)),
        area("edge", (42, 272), (76, 272), (76, 380), (42, 380)),
        area("edge", (264, 272), (298, 272), (298, 380), (264, 380)),
        area("edge", (36, 222), (304, 222), (304, 272), (36, 272)),
        line("limit", (170, 222), (170, 272)),
        line("thin", (304, 222), (338, 222)),
        line("thin", (304, 272), (338, 272)),
        span((330, 222), (330, 272)),
        words(356, 294, "sole", "end"),
        words(357, 312, quantity(SOLE_MM, "mm"), "end"),
        water((146, 136), (146, 240), (59, 252), (59, 372)),
        water((194, 136), (194, 240), (281, 252), (281, 372)),
        arrow((154, 265), (94, 265)),
        arrow((186, 265), (246, 265)),
        words(170, 306, fall + " each way", "middle"),
        words(170, 352, "glass", "middle"),
    )


def _back_gutter_names(wide: str) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (18, 262), (44, 250)),
        ball(2, (228, 204), (171, 230)),
        ball(3, (18, 320), (46, 320)),
        ball(4, (14, 158), (36, 168)),
        ball(5, (336, 112), (322, 150)),
        *legend(("back gutter", "its high line", "side gutter"), ("edge under the tiles", "tile")),
        words(12, 84, f"lead over {wide}: pieces with a wood-cored roll"),
        arrow((28, 118), (28, 96)),
        words(38, 110, "up the slope"),
    )


def head_section() -> Drawing:
    """Draw the back gutter at the head of a light in section, with what it lies on."""
    slope = Slope(26, 286, 22)
    laid = Courses(Slope(*slope.at(144, 23), 22), 92, 114, 6, 1)
    sole = quantity(SOLE_MM, "mm")
    return Drawing(
        name="head-section",
        title="The back gutter at the head, cut through",
        desc=f"Section up the slope at the head of a light. Boards, 1, make a sole about {sole} wide behind the "
        "upstand, 5, and a fillet, 2, lifts the upper edge of the gutter. The back gutter, 3, is one sheet: up the "
        "head of the upstand, over the sole, over the fillet and up the slope under the tiles, 6, where its edge is "
        "folded back. The underlay of the slope, 4, laps down over that edge. Under the boards more underlay, 7, is "
        "turned up against the upstand. Water from the tiles, and from the underlay, falls into the gutter and runs to "
        "both sides of the light. Sizes and build-up are common practice, no source.",
        height=360,
        sources=("common-practice",),
        shapes=(*_head_section_parts(slope, laid), *_head_section_names(slope, sole)),
    )


def _head_section_parts(slope: Slope, laid: Courses) -> tuple[str, ...]:
    """Draw upstand, boards and sheet, tiles over them, and the two ways of water."""
    level, edge = slope.at(58, 30), slope.at(126, 3)
    return (
        area("edge", *slope.box(58, -30, 280, 26)),
        area("cut", *slope.box(34, -30, 20, 130)),
        line("sheet", *slope.points((240, -1), (57, -1), (57, 62))),
        area("cut", *slope.points((60, 1), (124, 1), (60, 26))),
        area("cut", *slope.points((128, 1), (212, 1), (150, 12))),
        line("lead", slope.at(58, 84), level, edge, *slope.points((150, 15), (206, 5), (200, 9))),
        line("sheet", *slope.points((344, 2), (222, 2), (178, 14))),
        water(*slope.points((224, 9), (178, 21), (152, 22), (132, 12))),
        laid.tile(0),
        laid.tile(1),
        water(laid.top(1, 186, 6), laid.top(1, 89, 6), laid.top(0, 86, 6), laid.top(0, -4, 6), slope.at(112, 26)),
        away(level[0] + 40, level[1] - 10),
    )


def _head_section_names(slope: Slope, sole: str) -> tuple[str, ...]:
    """Number the parts and name them, and give the width of the sole."""
    level, edge = slope.at(58, 30), slope.at(126, 3)
    return (
        line("thin", (edge[0], edge[1] - 6), (edge[0], 122)),
        line("thin", (level[0] + 2, level[1] - 40), (level[0] + 2, 122)),
        span((level[0] + 2, 130), (edge[0], 130)),
        words(edge[0] + 8, 134, f"sole {sole}"),
        ball(1, (118, 312), slope.at(78, 8)),
        ball(2, (206, 282), slope.at(166, 8)),
        ball(3, (100, 160), slope.at(59, 62)),
        ball(4, (322, 224), slope.at(296, 2)),
        ball(5, (24, 318), slope.at(44, -20)),
        ball(6, (272, 124), (279, 151)),
        ball(7, (160, 322), slope.at(126, -1)),
        *legend(
            ("board", "fillet", "back gutter", "underlay of the slope"), ("upstand", "tile", "underlay, turned up")
        ),
        *out_note(106, "water runs to both sides of the light"),
    )


def apron_foot() -> Drawing:
    """Draw the foot of a light: the apron over the tiles in section, and a corner with its side gutter from above."""
    laid = Courses(Slope(44, 276, 22), 88, 112, 8, 2)
    slope = laid.slope
    cover = f"{quantity(LEAST_LAP_MM, 'mm')} or more"
    low, high = laid.top(0, 78, 3), laid.top(1, 178, 3)
    return Drawing(
        name="apron-foot",
        title="The apron at the foot",
        desc="Above, a section up the slope at the foot of a light. The apron, 2, is turned up against the upstand, 4, "
        f"and lies on top of the tiles, 1. It covers them by {quantity(LEAST_LAP_MM, 'mm')} or more: a flatter pitch "
        "asks for more. Behind it the underlay, 3, is turned up too. Water runs off the glass, 5, over the apron, on "
        "to the tiles, and on down the slope. Below, a corner of the foot from above: the side gutter, 6, ends on top "
        "of the apron and the tiles, so that its water comes out on the tile, and not under it. "
        "After articles of a roofing consultancy, no public source seen.",
        height=482,
        sources=("side-lap-guidance", "apron-guidance"),
        shapes=(*_apron_foot_parts(slope, laid, low, high, cover), *_apron_foot_names(slope)),
    )


def _apron_foot_parts(slope: Slope, laid: Courses, low: Point, high: Point, cover: str) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        line("sheet", *slope.points((-10, -16), (206, -16), (206, 44))),
        laid.tile(0),
        laid.tile(1),
        area("cut", *slope.box(210, -40, 20, 112)),
        line("lead", low, laid.top(0, 84, 3), laid.top(1, 85, 3), high, *slope.points((204, 20), (204, 62))),
        area("seal", *slope.box(208, 72, 22, 5)),
        area("edge", *slope.box(180, 77, 124, 5)),
        area("edge", *slope.box(180, 89, 124, 5)),
        area("seal", *slope.box(190, 82, 9, 7)),
        line("thin", low, slope.at(74, 64)),
        span(*slope.points((74, 58), (203, 58))),
        words(*slope.at(112, 65), cover, "middle", 22),
        water(*slope.points((296, 101), (175, 101), (175, 30), (78, 35), (72, 24), (-12, 30), (-26, 4))),
    )


def _apron_foot_names(slope: Slope) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (100, 296), slope.at(60, 20)),
        ball(2, (172, 270), slope.at(170, 20)),
        ball(3, (226, 270), slope.at(206, 6)),
        ball(4, (276, 248), slope.at(224, -12)),
        ball(5, (334, 148), slope.at(280, 80)),
        *_foot_corner(320),
        *legend(("tile", "apron, on the tiles", "underlay, turned up"), ("upstand", "glass", "side gutter")),
    )


def _foot_corner(y: float) -> tuple[str, ...]:
    """Draw the right-hand corner of the foot from above."""
    return (
        *(line("thin", (12, y + row), (348, y + row)) for row in (4, 56, 108, 150)),
        *(line("thin", (x, y + 56), (x, y + 108)) for x in (52, 124, 310)),
        *(line("thin", (x, y + 108), (x, y + 150)) for x in (88, 160, 232, 304)),
        *(line("thin", (x, y + 4), (x, y + 56)) for x in (274, 346)),
        area("edge", (12, y + 58), (256, y + 58), (256, y + 96), (12, y + 96)),
        box("edge", 12, y + 4, 158, 56),
        line("sheet", (12, y + 52), (160, y + 52), (160, y + 4)),
        area("edge", (170, y + 4), (206, y + 4), (206, y + 104), (178, y + 104), (178, y + 60), (170, y + 60)),
        water((188, y + 10), (188, y + 138)),
        words(84, y + 34, "glass", "middle"),
        ball(2, (60, y + 124), (70, y + 90)),
        ball(6, (238, y + 30), (204, y + 34)),
        ball(1, (330, y + 84), (296, y + 80)),
        words(212, y + 142, "out on top"),
    )
