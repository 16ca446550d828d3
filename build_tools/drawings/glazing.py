"""Edges of glass in section: on an upstand, in a frame in the slope, under a cap on a lantern, over a flat roof."""

from __future__ import annotations

import math

from build_tools.drawings.pen import (
    Drawing,
    Point,
    Slope,
    area,
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
from build_tools.formulas.numbers import quantity

UPSTAND_MM = 150
"""Membrane at an upstand, above the finished roof (flat-roof-upstand)."""


def glass_edge() -> Drawing:
    """Draw the side edge of a sealed unit on its upstand, under a cover strip."""
    return Drawing(
        name="glass-edge",
        title="The edge of the glass on an upstand",
        desc="Section across the side of a light, looking up the slope. The sealed unit, 1, has a spacer, 2, and an "
        "edge seal, 3. It lies on a bed, 4, and on packers, 5, that keep it off the wood. The cover strip, 7, is "
        "sealed to the outer pane, covers the edge seal from sun and rain, and is turned down over the sheet beside "
        "the upstand. Between glass and strip the drainage gap, 6, is open all the way, and so is the strip at its "
        "foot, 8. Rain runs off the strip into the side gutter. What gets past the seal of the strip falls through the "
        "gap into the same gutter. Both run on to the foot of the light. "
        "Laid on packers like this is common practice, no source.",
        height=358,
        sources=("rooflight-glass-guidance", "common-practice"),
        shapes=(*_glass_edge_parts(), *_glass_edge_names()),
    )


def _glass_edge_parts() -> tuple[str, ...]:
    """Draw its parts."""
    return (
        box("cut", 168, 228, 52, 116),
        box("cut", 176, 216, 20, 12),
        box("seal", 200, 216, 14, 12),
        box("edge", 172, 208, 180, 8),
        box("edge", 172, 178, 180, 8),
        box("seal", 172, 186, 11, 22),
        box("edge", 183, 186, 13, 22),
        line("lead", (216, 171), (140, 171), (140, 266)),
        box("seal", 196, 173, 16, 5),
        line("sheet", (92, 306), (92, 316), (164, 316), (164, 242)),
        box("cut", 60, 316, 108, 12),
        water((320, 170), (226, 170), (217, 162), (131, 162), (131, 272), (120, 300)),
        away(118, 308),
        water((190, 174), (154, 180), (154, 300)),
        away(150, 308),
    )


def _glass_edge_names() -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (320, 144), (320, 180)),
        ball(2, (310, 238), (190, 200)),
        ball(3, (88, 186), (176, 196)),
        ball(4, (276, 260), (208, 223)),
        ball(5, (248, 288), (186, 223)),
        ball(6, (88, 236), (152, 236)),
        ball(7, (88, 142), (142, 172)),
        ball(8, (88, 278), (138, 262)),
        *legend(
            ("glass, sealed unit", "spacer", "edge seal, in shade", "bed"), ("packer", "drainage gap", "cover strip")
        ),
        words(196, 82, "8 its foot, open"),
        *out_note(108, "water runs on to the foot of the light"),
        words(14, 327, "board"),
        words(306, 332, "room"),
        words(228, 332, "upstand"),
    )


def roof_window() -> Drawing:
    """Draw a roof window that lies in the slope, from foot to head."""
    slope = Slope(26, 298, 24)
    below = Courses(Slope(*slope.at(6, 0), 24), 84, 108, 7, 1)
    over = Courses(Slope(*slope.at(286, 0), 24), 40, 58, 7, 1)
    return Drawing(
        name="roof-window-frame",
        title="A roof window in the slope",
        desc="Section up the slope through a roof window. The glass, 1, sits in a frame, 2, that lies in the slope. "
        "Above it the head flashing, 3, takes the water of the tiles and leads it round both sides. Water from the "
        "glass runs over the apron, 4, on to the tiles below, and on down the slope. Under the covering a collar of "
        "underlay, 5, is turned up against the frame all round. The underlay above, 6, ends in a channel, 7, that "
        "leads its water past both sides of the frame. The collar lies over the underlay below, 8. "
        "Its make-up is common practice, no source.",
        height=346,
        sources=("common-practice",),
        shapes=(*_roof_window_parts(slope, below, over), *_roof_window_names(slope)),
    )


def _roof_window_parts(slope: Slope, below: Courses, over: Courses) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        area("edge", *slope.box(-10, -42, 130, 26)),
        area("edge", *slope.box(238, -42, 108, 26)),
        area("cut", *slope.box(110, -42, 12, 26)),
        area("cut", *slope.box(238, -42, 12, 26)),
        line("sheet", *slope.points((-16, -14), (123, -14), (123, 14))),
        line("sheet", *slope.points((236, 16), (236, -12), (262, -12), (262, -4), (258, -4))),
        line("sheet", *slope.points((252, -14), (346, -14))),
        below.tile(0),
        over.tile(0),
        area("cut", *slope.box(126, -20, 14, 44)),
        area("cut", *slope.box(220, -20, 14, 44)),
        area("edge", *slope.box(122, 28, 106, 5)),
        area("edge", *slope.box(122, 39, 106, 5)),
        area("seal", *slope.box(126, 33, 7, 6)),
        area("seal", *slope.box(220, 33, 7, 6)),
        area("seal", *slope.box(127, 24, 12, 4)),
        area("seal", *slope.box(221, 24, 12, 4)),
        line("lead", *slope.points((214, 49), (240, 49), (240, 26))),
        line("lead", *slope.points((236, 22), (236, 6), (280, 2), (292, 6), (332, 4))),
        line("lead", *slope.points((123, 26), (123, 19), (52, 13), (50, 8))),
        water(*slope.points((340, 18), (283, 28), (272, 26), (266, 18))),
        away(*slope.at(264, 11)),
        water(*slope.points((314, -8), (288, -8))),
        away(*slope.at(279, -8)),
        water(*slope.points((204, 52), (114, 52), (112, 26), (48, 22), (44, 15), (-2, 20), (-14, 0))),
    )


def _roof_window_names(slope: Slope) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (148, 152), slope.at(170, 42)),
        ball(2, (196, 256), slope.at(227, -6), slope.at(133, -10)),
        ball(3, (232, 128), slope.at(248, 6)),
        ball(4, (64, 202), slope.at(82, 16)),
        ball(5, (284, 244), slope.at(250, -12)),
        ball(6, (322, 216), slope.at(320, -14)),
        ball(7, (236, 286), slope.at(261, -6)),
        ball(8, (96, 316), slope.at(60, -14)),
        *legend(
            ("glass", "frame", "head flashing", "apron"),
            ("collar of underlay", "underlay", "channel above", "underlay below"),
        ),
        *out_note(104, "water runs round both sides"),
    )


def lantern_joint() -> Drawing:
    """Draw the ridge of a lantern across its bar, and the foot of a bar with its weep."""
    left, right = Slope(26, 208, 18), Slope(334, 208, -18)
    return Drawing(
        name="lantern-joint",
        title="Hip or ridge of a lantern, and the foot of its bar",
        desc="Above, a section across the bar, 3, at the hip or ridge of a lantern. The glass, 1, lies on gaskets on "
        "both sides. The bar cap, 2, presses on the outer panes with gaskets of its own. Rain runs off the cap on to "
        "the glass and down it. What gets past a gasket falls beside the edge of the glass into the channel, 4, in the "
        "bar. Below, a section along the foot of a bar: the water in its channel runs out through the weep, 5, over "
        "the upstand, 6, and on to the flat roof. A blocked weep lets the channel fill, and run over into the room. "
        "Its make-up is common practice, no source.",
        height=440,
        sources=("common-practice",),
        shapes=(*_lantern_joint_parts(left, right), *_lantern_joint_names()),
    )


def _lantern_joint_parts(left: Slope, right: Slope) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        *_lantern_half(left, 1),
        *_lantern_half(Slope(*right.at(-150, 0), -18), -1),
        area(
            "cut",
            *((136, 178), (143, 176), (143, 204), (175, 204), (175, 146), (185, 146), (185, 204), (217, 204)),
            *((217, 176), (224, 178), (224, 212), (188, 212), (188, 246), (172, 246), (172, 212), (136, 212)),
        ),
        water(left.at(92, 30), left.at(146, 29), (168, 146), (168, 186)),
        line("lead", left.at(112, 31), (180, 119), Slope(*right.at(-150, 0), -18).at(38, 31)),
        water((186, 110), (244, 129), (252, 140), (338, 168)),
        away(160, 196),
    )


def _lantern_joint_names() -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (64, 136), (76, 170)),
        ball(2, (134, 104), (148, 130)),
        ball(3, (246, 232), (222, 208)),
        ball(4, (96, 226), (148, 201)),
        *_bar_foot(),
        *legend(("glass", "bar cap, on gaskets", "bar"), ("channel in the bar", "weep", "upstand")),
        *out_note(84, "water runs down the bar to the weep"),
    )


def _lantern_half(slope: Slope, side: int) -> tuple[str, ...]:
    """Draw the glass on one side of the bar: side 1 rises to it from the left, side -1 falls from it to the right."""
    edge, rest = (150.0, 118.0) if side > 0 else (0.0, 32.0)
    start = 0.0 if side > 0 else edge
    seal, gasket, cap = (edge - 8 * side, rest - 3, rest - 8) if side > 0 else (0.0, rest - 7, rest - 2)
    return (
        area("edge", *slope.box(start, 0, 150, 6)),
        area("edge", *slope.box(start, 18, 150, 6)),
        area("seal", *slope.box(seal, 6, 8, 12)),
        area("seal", *slope.box(gasket, -8, 10, 8)),
        area("seal", *slope.box(cap, 24, 10, 6)),
    )


def _bar_foot() -> tuple[str, ...]:
    """Draw the lower end of a bar, cut along its channel, over the upstand."""
    slope = Slope(84, 372, 18)
    return (
        box("cut", 92, 370, 26, 60),
        area("edge", *slope.box(8, 0, 256, 28)),
        line("lead", *slope.points((262, 0), (-14, 0), (-16, -7))),
        area("edge", *slope.box(-22, 30, 288, 6)),
        area("edge", *slope.box(-22, 48, 288, 6)),
        area("seal", *slope.box(-20, 36, 8, 12)),
        area("seal", *slope.box(0, 11, 8, 19)),
        line("lead", (12, 428), (84, 428), (88, 424), (88, 376)),
        water(*slope.points((240, 7), (-22, 7)), (56, 418), (16, 420)),
        ball(1, (300, 276), slope.at(236, 50)),
        ball(4, (252, 372), slope.at(200, 4)),
        ball(5, (30, 352), slope.at(-2, 6)),
        ball(6, (160, 404), (108, 408)),
        words(238, 420, "lantern, inside", "start"),
    )


def flat_roof_upstand() -> Drawing:
    """Draw the membrane of a flat roof at the upstand of a fixed unit or dome."""
    high = quantity(UPSTAND_MM, "mm")
    rise = tuple((216 + 8 * at, 139 - 44 * math.sin(math.radians(5 * at))) for at in range(18))
    inner = tuple((x + 12, y + 7) for x, y in rise[1:] if y < 132 and x < 342)
    return Drawing(
        name="flat-roof-upstand",
        title="Upstand on a flat roof",
        desc=f"Section through the edge of a unit or dome, 1, on a flat roof. The membrane, 3, is turned up {high} or "
        "more above the finished roof, and over the top of the upstand, 4. The frame of the unit has a drip, 2, that "
        "hangs over the turned-up membrane. Under the membrane lie insulation, 5, vapour control layer, 6, and deck, "
        "7; the vapour control layer is turned up at the upstand. Rain runs off the unit, falls from the drip on to "
        "the membrane, and runs away to the outlet. The height after BS 6229 as reported; the rest is common practice, "
        "no source.",
        height=386,
        sources=("flat-roof-upstand", "common-practice"),
        shapes=(*_flat_roof_upstand_parts(rise, inner, high), *_flat_roof_upstand_names()),
    )


def _flat_roof_upstand_parts(rise: tuple[Point, ...], inner: tuple[Point, ...], high: str) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        box("cut", 8, 330, 208, 14),
        box("wool", 8, 288, 206, 42),
        line("vapour", (8, 329), (210, 329), (210, 296)),
        box("cut", 216, 154, 26, 206),
        line("lead", (8, 286), (192, 286), (212, 266), (212, 151), (250, 151)),
        area("edge", (196, 140), (352, 140), (352, 148), (202, 148), (202, 182), (196, 182)),
        line("sheet", *rise),
        line("sheet", *inner),
        box("seal", 226, 148, 14, 4),
        line("thin", (28, 151), (208, 151)),
        span((36, 151), (36, 284)),
        words(46, 206, f"{high} or more"),
        words(46, 224, "above the roof"),
        water((318, 88), (270, 98), (216, 126), (190, 134), (190, 270), (170, 278), (14, 278)),
    )


def _flat_roof_upstand_names() -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (306, 126), (306, 106)),
        ball(2, (150, 170), (197, 172)),
        ball(3, (268, 190), (213, 210)),
        ball(4, (278, 250), (234, 250)),
        ball(5, (120, 366), (120, 312)),
        ball(6, (62, 366), (62, 330)),
        ball(7, (178, 366), (178, 338)),
        *legend(("unit or dome", "drip", "membrane", "upstand"), ("insulation", "vapour control", "deck")),
        words(290, 320, "room", "middle"),
        words(46, 268, "to the outlet"),
    )
