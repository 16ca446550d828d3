"""The guide's drawings: their numbers and sources, and that they are legible on a phone.

`check` holds each number to what its metadata names; what no single output gives is held here.
"""

import re
import shutil
import xml.etree.ElementTree as ET

import pytest
from guides import ROOT, the_checked
from own_tables import LININGS

from build_tools.formulas.finding.hosing import HOSE_LENGTH_MM
from build_tools.formulas.finding.outside_drawing import STRIP_MM
from build_tools.formulas.sheet.sheets_drawing import VERTICAL_MM
from build_tools.formulas.sheet.soakers import UNDER_MM, UP_MM
from build_tools.formulas.sheet.soakers_drawing import TURN_DOWN_MM
from build_tools.formulas.sheet.thermal import LONGEST_LEAD_MM
from build_tools.formulas.water.back_gutters import back_gutter
from build_tools.proof.checks import check
from build_tools.proof.drawing_numbers import drawing_numbers, sources_of
from build_tools.sources.guide_files import drawings_of, guide_texts
from build_tools.sources.source import SourceFile

FOLDER = ROOT / "guide" / "drawings"
SVG = "{http://www.w3.org/2000/svg}"
FILES = {each.path.rpartition("/")[2].removesuffix(".svg"): each for each in drawings_of(guide_texts(ROOT))}
SHOWN = {name: ET.fromstring(each.text) for name, each in FILES.items()}
RESTING = [name for name, each in FILES.items() if sources_of(each)]
"""Drawings that name what they rest on."""
SIGN_WIDTH = 7.3
"""Pixels of a letter of 14 px, with some to spare for the wider system fonts."""


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


def test_constants_of_the_formulas_are_what_the_drawings_show():
    shown = {name: " ".join(each.text for each in texts(svg)) for name, svg in SHOWN.items()}
    assert f"{LONGEST_LEAD_MM / 1000:g} m" in shown["back-gutter-plan"]
    assert "1 in 80." in " ".join(back_gutter(LININGS, 30, 4, 2100, "both", 13.125, 150, 20, "lead", 0.021).working)
    assert f"{HOSE_LENGTH_MM / 1000:g} m" in shown["hose-zones"]
    assert f"{STRIP_MM} mm" in shown["rain-strip-uphill"]
    assert f"{VERTICAL_MM} mm" in shown["lap"]
    assert all(f"{each} mm" in shown["soaker-fold"] for each in (UNDER_MM, UP_MM, TURN_DOWN_MM))


def test_every_number_is_seen():
    """A drawing without its metadata has every number told, once each, in words or in its description."""
    draft = the_checked().draft
    for name, numbers in {"lap": 4, "soaker-fold": 6, "cold-bridge-at-the-reveal": 5, "glass-edge": 0}.items():
        bare = re.sub(r"<metadata>.*</metadata>", "", FILES[name].text, flags=re.S)
        told = list(drawing_numbers(SourceFile(FILES[name].path, bare), draft))
        assert len(told) == numbers and {each.code for each in told} <= {"drawing-number"}


def test_a_formula_that_gives_another_number_is_told_at_its_drawing(tmp_path):
    for folder in ("guide", "trees"):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    table = tmp_path / "trees/tables/coverings.yaml"
    text = table.read_text(encoding="utf-8")
    assert text.count("headlap-mm: 65\n") >= 1
    table.write_text(text.replace("headlap-mm: 65\n", "headlap-mm: 70\n"), encoding="utf-8")
    told = {each.place.path: each.what for each in check(tmp_path).problems if each.code == "drawing-number"}
    assert told["guide/drawings/double-lap-bond.svg"].endswith('plain-tiles gives "70 mm"')
    assert "guide/drawings/soaker-fold.svg" in told


@pytest.mark.parametrize("name", RESTING)
def test_sources_are_told_by_their_kind(name):
    table = the_checked().draft.sources
    kinds = {each: table[each] for each in sources_of(FILES[name])}
    told = desc(SHOWN[name])
    assert ("common practice, no source" in told) == ("common-practice" in kinds)
    unseen = {
        each
        for each, source in kinds.items()
        if source.seen == ("elsewhere" if source.kind == "practice" else "memory")
    }
    assert ("no public source seen" in told) == bool(unseen)
    assert ("of this guide" in told) == bool({"project-choice", "reveal-working"} & set(kinds))


@pytest.mark.parametrize("name", RESTING)
def test_every_part_that_is_numbered_is_named_and_told(name):
    numbered = {each.text for each in balls(SHOWN[name])}
    named = [each.text for each in texts(SHOWN[name]) if re.match(r"\d [a-z]", each.text)]
    assert {each.split()[0] for each in named} == numbered
    assert numbered <= set(re.findall(r"\b\d\b", desc(SHOWN[name])))


@pytest.mark.parametrize("name", RESTING)
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
