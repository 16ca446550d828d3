"""The guide's drawings: as the formulas write them, with no number of their own, and legible on a phone.

Sources of the numbers that no formula gives stand beside them in NUMBERS.
"""

import re
import xml.etree.ElementTree as ET

import pytest
from guides import ROOT, the_checked

from build_tools.drawings import FOLDER, drawing_files, drawings
from build_tools.formulas.back_gutters import back_gutter
from build_tools.formulas.covering import COVERINGS
from build_tools.formulas.hosing import hose_test_plan
from build_tools.formulas.numbers import quantity
from build_tools.formulas.outside import where_outside
from build_tools.formulas.sheets import sheet_lap
from build_tools.formulas.slating import slate_gauge
from build_tools.formulas.soakers import soakers
from build_tools.formulas.surfaces import surface_humidity

SVG = "{http://www.w3.org/2000/svg}"
MADE = {each.name: each for each in drawings()}
SHOWN = {path.stem: ET.parse(path).getroot() for path in sorted((ROOT / FOLDER).glob("*.svg"))}
NUMBER = re.compile(r"\d+(?:\.\d+)? ?(?:mm|m|min|°C|°)(?![a-z])|1 in \d+")
SIGN_WIDTH = 7.3
"""Pixels of a letter of 14 px, with some to spare for the wider system fonts."""


def headlap(covering):
    return next(each.headlap_mm for each in COVERINGS if each.id == covering)


def gauge():
    """Give the gauge of a plain tile, which BS 5534 has 265 mm long and 165 mm wide."""
    return slate_gauge(265, headlap("plain-tiles"), "centre", None, None, "moderate").outputs["gauge_mm"]


def mm(*lengths):
    return {quantity(each, "mm") for each in lengths}


def of_lap():
    rule = {sheet_lap(deg, None, "lead", None).outputs["lap_mm"] for deg in (15, 90)}
    return mm(75, *rule) | {"15°"}  # 75 mm upright: lead-lap-rule


def of_soaker():
    one = soakers("plain-tile", 1000, gauge(), headlap("plain-tiles"), 2, None, None, None).outputs
    sizes = (100, 75, 25)  # under, up and turned down: soaker-sizes
    assert one["width_mm"] == 100 + 75 and one["length_mm"] == gauge() + headlap("plain-tiles") + 25
    return mm(one["length_mm"], one["width_mm"], gauge(), headlap("plain-tiles"), *sizes)


def of_back_gutter():
    told = " ".join(back_gutter(30, 4, 2100, "both", 13.125, 150, 20, "lead", 0.021).working)
    assert "1 in 80." in told and "Over 1500 mm wide" in told
    return {"1 in 80", "1.5 m", "150 mm"}  # sole: common practice, no source


def of_hose():
    plan = hose_test_plan(1500, 0, 0, 0, 0, None).outputs
    return {quantity(plan["foot_min"], "min"), quantity(plan["wait_min"], "min"), "1.5 m"}


def of_strip():
    tiles = where_outside("level", 2000, 3000, 300, 300, 50, 300, 35, 320, 10).outputs
    return mm((tiles["last_count"] - tiles["column_count"]) * 10)


def of_reveal():
    warm = [
        surface_humidity(20, 60, 0, f"reveal-{each}", None, None).outputs["reached_c"] for each in ("bare", "insulated")
    ]
    return {quantity(each, "°C") for each in (0, 20, *warm)} | {"25 mm"}  # timber and board: reveal-working


NUMBERS = {
    "lap": of_lap,
    "side-gutter": lambda: mm(75, 50),  # side-lap-guidance; 38 to 50 mm: secret-gutter-guidance
    "double-lap-bond": lambda: mm(headlap("plain-tiles"), gauge(), 265, 55),  # 55 mm: plain-tile-side-lap
    "single-lap-joint": lambda: mm(headlap("interlocking-tiles")),
    "underlay-turn-up": lambda: mm(100),  # underlay-turn-up, no public source seen
    "back-gutter-plan": of_back_gutter,
    "head-section": lambda: mm(150),  # common practice, no source
    "apron-foot": lambda: mm(sheet_lap(35, None, "lead", None).outputs["lap_mm"]),
    "soaker-fold": of_soaker,
    "flat-roof-upstand": lambda: mm(150),  # BS 6229, as flat-roof-upstand reports it
    "cold-bridge-at-the-reveal": of_reveal,
    "rain-strip-uphill": of_strip,
    "hose-zones": of_hose,
}
"""What each drawing may show: every number in it, and no other."""


def texts(svg):
    return [each for each in svg.iter(f"{SVG}text")]


def balls(svg):
    return [each for each in texts(svg) if "mark" in each.get("class", "")]


def desc(svg):
    return svg.find(f"{SVG}desc").text


def frame(text):
    """Give left, right, top and bottom of a text that is not turned."""
    x, y, wide = float(text.get("x")), float(text.get("y")), SIGN_WIDTH * len(text.text)
    left = {"end": x - wide, "middle": x - wide / 2}.get(text.get("text-anchor"), x)
    return left, left + wide, y - 11, y + 3


def meet(one, other):
    return one[0] < other[1] and other[0] < one[1] and one[2] < other[3] and other[2] < one[3]


def ring(mark):
    x, y = float(mark.get("x")), float(mark.get("y")) - 5
    return x - 10, x + 10, y - 10, y + 10


def test_drawings_are_as_the_formulas_write_them():
    written = {path: (ROOT / path).read_text(encoding="utf-8") for path in drawing_files()}
    assert written == drawing_files(), "run `python -m build_tools drawings`"


@pytest.mark.parametrize("name", SHOWN)
def test_every_number_is_one_that_a_formula_or_a_source_gives(name):
    said = " ".join(each.text for each in texts(SHOWN[name])) + " " + desc(SHOWN[name])
    assert set(NUMBER.findall(said)) == NUMBERS.get(name, set)()


@pytest.mark.parametrize("name", MADE)
def test_sources_stand_in_the_table_and_are_told(name):
    table = the_checked().draft.sources
    kinds = {each: table[each] for each in MADE[name].sources}
    assert kinds
    told = desc(SHOWN[name])
    assert ("common practice, no source" in told) == ("common-practice" in kinds)
    unseen = {
        each
        for each, source in kinds.items()
        if source.seen == ("elsewhere" if source.kind == "practice" else "memory")
    }
    assert ("no public source seen" in told) == bool(unseen)
    assert ("of this guide" in told) == bool({"project-choice", "reveal-working"} & set(kinds))


@pytest.mark.parametrize("name", MADE)
def test_every_part_that_is_numbered_is_named_and_told(name):
    numbered = {each.text for each in balls(SHOWN[name])}
    named = [each.text for each in texts(SHOWN[name]) if re.match(r"\d [a-z]", each.text)]
    assert {each.split()[0] for each in named} == numbered
    assert numbered <= set(re.findall(r"\b\d\b", desc(SHOWN[name])))


@pytest.mark.parametrize("name", MADE)
def test_nothing_is_written_off_the_page_or_over_another(name):
    svg = SHOWN[name]
    width, height = (float(each) for each in svg.get("viewBox").split()[2:])
    words = [frame(each) for each in texts(svg) if each not in balls(svg) and each.get("transform") is None]
    rings = [ring(each) for each in balls(svg)]
    for box in (*words, *rings):
        assert box[0] >= 0 and box[1] <= width + 4 and box[2] >= 0 and box[3] <= height
    boxes = [*words, *rings]
    assert [(one, other) for at, one in enumerate(boxes) for other in boxes[:at] if meet(one, other)] == []


@pytest.mark.parametrize("name", SHOWN)
def test_water_is_seen_to_leave(name):
    svg = SHOWN[name]
    width, height = (float(each) for each in svg.get("viewBox").split()[2:])
    ways = [each for each in svg.iter(f"{SVG}path") if each.get("class") == "water"]
    assert ways and all(each.get("marker-end") for each in ways)
    for way in ways:
        ends = [float(each) for each in re.findall(r"-?[\d.]+", way.get("d"))]
        assert 0 <= ends[-1] <= height and 0 <= ends[-2] <= width, way.get("d")
