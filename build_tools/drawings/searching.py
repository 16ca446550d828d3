"""Where to look and where to wet: the strip of roof uphill of a mark, and the zones of a hose test."""

from __future__ import annotations

from build_tools.drawings.pen import Drawing, area, arrow, ball, box, legend, line, span, water, words
from build_tools.formulas.hosing import HOSE_LENGTH_MM, UNKNOWN_WAIT_MIN, hose_flow_min
from build_tools.formulas.numbers import quantity
from build_tools.formulas.outside_drawing import STRIP_MM


def rain_strip() -> Drawing:
    """Draw a slope from above, with the mark of a drip and the three bays uphill of it."""
    top, foot = 108.0, 388.0
    rafters = tuple(18.0 + 54 * at for at in range(7))
    mark_x, mark_y = 153.0, 322.0
    each_way = f"{quantity(STRIP_MM, 'mm')} or more"
    return Drawing(
        name="rain-strip-uphill",
        title="The strip to search uphill of a mark",
        desc="A slope seen square on, the ridge at the top. The mark inside, 1, is carried straight out through the "
        "roof. Rafters, 2, are dashed. Search the strip, 3, from the mark up to the ridge: the bay of the mark and one "
        f"bay on each side, {each_way} to each side. Here rain gets in at a cracked tile, 4, near the ridge, runs down "
        "inside, over into the next bay at a batten, and on down to the mark, where it leaves into the room. "
        "The width is a choice of this guide.",
        height=414,
        sources=("project-choice",),
        shapes=(
            *_rain_strip_parts(top, rafters, foot, mark_y, mark_x),
            *_rain_strip_more(mark_x, mark_y, rafters, each_way),
            *_rain_strip_names(mark_x, mark_y),
        ),
    )


def _rain_strip_parts(
    top: float, rafters: tuple[float, ...], foot: float, mark_y: float, mark_x: float
) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        *(line("thin", (18, top + 28 * row), (342, top + 28 * row)) for row in range(1, 10)),
        *(line("hidden", (x, top), (x, foot)) for x in rafters),
        line("lead", (18, top), (342, top)),
        line("sheet", (18, foot), (342, foot)),
        line("sheet", (18, top), (18, foot)),
        line("sheet", (342, top), (342, foot)),
        line("limit", (rafters[1], mark_y), (rafters[1], top)),
        line("limit", (rafters[4], mark_y), (rafters[4], top)),
        line("limit", (rafters[1], mark_y), (rafters[4], mark_y)),
        area("edge", (192, 150), (218, 144), (224, 170), (198, 176)),
        area("seal", (190, 142), (216, 136), (217, 140), (191, 146)),
        water((205, 178), (206, 210), (160, 240), (156, mark_y - 10)),
        area(
            "seal",
            (mark_x - 7, mark_y - 7),
            (mark_x + 7, mark_y - 7),
            (mark_x + 7, mark_y + 7),
            (mark_x - 7, mark_y + 7),
        ),
    )


def _rain_strip_more(mark_x: float, mark_y: float, rafters: tuple[float, ...], each_way: str) -> tuple[str, ...]:
    """Draw its other parts, over the first."""
    return (
        line("thin", (mark_x, mark_y + 8), (mark_x, 360)),
        line("thin", (rafters[1], mark_y), (rafters[1], 360)),
        line("thin", (rafters[4], mark_y), (rafters[4], 360)),
        span((rafters[1], 352), (mark_x, 352)),
        span((mark_x, 352), (rafters[4], 352)),
        words(mark_x, 376, f"each way {each_way}", "middle"),
        words(180, 102, "ridge", "middle"),
        words(180, 406, "eaves", "middle"),
        arrow((36, 300), (36, 220)),
        words(52, 260, "up the slope", "middle", 90),
    )


def _rain_strip_names(mark_x: float, mark_y: float) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (270, 330), (mark_x + 8, mark_y + 1)),
        ball(2, (316, 196), (288, 216)),
        ball(3, (100, 200), (100, 200)),
        ball(3, (208, 290), (208, 290)),
        ball(4, (262, 142), (222, 158)),
        *legend(("the mark inside", "rafter, under the tiles"), ("strip to search", "way in: cracked tile")),
        words(12, 78, "three bays: that of the mark, one each side"),
    )


def hose_zones() -> Drawing:
    """Draw the zones of a hose test round a light, numbered in their order."""
    length, flow = quantity(HOSE_LENGTH_MM / 1000, "m"), quantity(hose_flow_min(HOSE_LENGTH_MM), "min")
    wait = quantity(UNKNOWN_WAIT_MIN, "min")
    return Drawing(
        name="hose-zones",
        title="Zones of a hose test, from the foot up",
        desc="Plan of a light in a slope, up the slope at the top, with six zones numbered in the order in which they "
        "are wetted: 1, the foot with its apron; 2 and 3, the sides; 4, the head with its back gutter; 5, the edge of "
        f"the glass; 6, the slope above. Each zone gets a soft flow, {flow} to each {length} or part of it, and then a "
        f"wait of {wait}, or of twice the delay that was seen in rain. The water of each zone runs down past the light "
        "and out over the tiles below. Stop at the first drop inside. The hose is never held up the slope. "
        "Minutes to a length after AAMA 501.2 as reported; the wait is a choice of this guide.",
        height=440,
        sources=("hose-test-method", "project-choice"),
        shapes=(*_hose_zones_parts(), *_hose_zones_names(flow, length, wait)),
    )


def _hose_zones_parts() -> tuple[str, ...]:
    """Draw its parts."""
    return (
        *(line("thin", (8, y), (352, y)) for y in range(134, 440, 50)),
        *(box("edge", *each) for each in _ZONES),
        box("edge", 124, 230, 112, 104),
        words(180, 288, "glass", "middle"),
        water((180, 370), (180, 430)),
        water((92, 336), (92, 388), (112, 430)),
        water((268, 336), (268, 388), (248, 430)),
    )


def _hose_zones_names(flow: str, length: str, wait: str) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (216, 361), (216, 361)),
        ball(2, (92, 276), (92, 276)),
        ball(3, (268, 276), (268, 276)),
        ball(4, (180, 195), (180, 195)),
        ball(5, (217, 249), (230, 234)),
        ball(6, (180, 154), (180, 154)),
        arrow((30, 390), (30, 150)),
        words(46, 270, "from the foot up", "middle", 90),
        *legend(
            ("foot, with the apron", "one side", "other side"),
            ("head, back gutter", "edge of the glass", "slope above"),
        ),
        words(12, 90, f"soft flow, {flow} to each {length} or part of it"),
        words(12, 110, f"then wait {wait}, or twice the delay in rain"),
    )


_ZONES = (
    (112, 346, 136, 30),
    (72, 218, 40, 118),
    (248, 218, 40, 118),
    (72, 176, 216, 38),
    (72, 136, 216, 36),
    (112, 218, 136, 124),
)
"""Left, top, width and height of each zone in the drawing."""
