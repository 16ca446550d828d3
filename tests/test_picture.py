"""The picture that stands in a page: named, described, linked, in the page's own colour, without inline style."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from flow_chart import triples_of, triples_of_graph

from build_tools import diagram, draw, picture
from build_tools.checks import check
from build_tools.pages import guide_view
from build_tools.views import GuideView

ROOT = Path(__file__).resolve().parent.parent
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def guide() -> GuideView:
    checked = check(ROOT)
    assert checked.guide
    return guide_view(checked.guide)


@pytest.fixture(scope="module")
def pictures(guide: GuideView, tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], ET.Element]:
    """Every diagram of the guide, dressed, by tree and part."""
    dots = {f"{tree.id} {part}": dot for tree in guide.trees for part, dot in diagram.diagrams(tree, "../").items()}
    drawn = draw.draw(dots, tmp_path_factory.mktemp("drawn"))
    dressed = {}
    for name, svg in drawn.items():
        tree, part = name.split()
        dressed[tree, part] = ET.fromstring(picture.inline(svg, f"Part {part}", "In words below.", f"{tree}-{part}"))
    return dressed


def groups(svg: ET.Element, kind: str) -> list[ET.Element]:
    return [each for each in svg.iter(f"{SVG}g") if kind in (each.get("class") or "").split()]


def test_the_lines_are_the_exits_of_the_graph(guide: GuideView, pictures: dict[tuple[str, str], ET.Element]) -> None:
    for tree in guide.trees:
        names = []
        for (home, part), svg in pictures.items():
            if home == tree.id:
                names += [(each.get("id") or "").removeprefix(f"{tree.id}-{part}.") for each in groups(svg, "edge")]
        assert triples_of(names) == triples_of_graph(tree)


def test_it_is_a_document_with_name_and_description(pictures: dict[tuple[str, str], ET.Element]) -> None:
    # WAI-ARIA Graphics Module, graphics-document; SVG-AAM, name and description.
    for svg in pictures.values():
        assert svg.get("role") == "graphics-document"
        title, text = svg[0], svg[1]
        assert (title.tag, title.get("id")) == (f"{SVG}title", svg.get("aria-labelledby")) and title.text
        assert (text.tag, text.get("id")) == (f"{SVG}desc", svg.get("aria-describedby")) and text.text


def test_no_element_carries_a_style_a_colour_or_an_outside_address(
    pictures: dict[tuple[str, str], ET.Element],
) -> None:
    for svg in pictures.values():
        for each in svg.iter():
            assert each.get("style") is None
            assert {each.get("fill"), each.get("stroke")} <= {None, "none", "currentColor"}
            assert not (each.get("href") or "").startswith(("http", "//"))


def test_ids_differ_over_all_diagrams_of_a_tree(guide: GuideView, pictures: dict[tuple[str, str], ET.Element]) -> None:
    for tree in guide.trees:
        drawn = [svg for (home, _), svg in pictures.items() if home == tree.id]
        ids = [each.get("id") for svg in drawn for each in svg.iter() if each.get("id")]
        assert len(ids) == len(set(ids))


def test_every_step_is_a_link_that_is_named_by_its_number_and_words(
    guide: GuideView, pictures: dict[tuple[str, str], ET.Element]
) -> None:
    for tree in guide.trees:
        for part in tree.parts:
            links = {each.get("href"): each.get("aria-label") for each in pictures[tree.id, part.id].iter(f"{SVG}a")}
            for step in part.steps:
                said = links[f"../walk/{tree.id}.html#{step.id}"]
                assert said and said.startswith(f"Step {step.number}. ") and said.endswith(step.title)


def test_each_answer_has_its_pattern(pictures: dict[tuple[str, str], ET.Element]) -> None:
    patterns: dict[str, set[str | None]] = {}
    for svg in pictures.values():
        for line in groups(svg, "edge"):
            path = next(line.iter(f"{SVG}path"))
            patterns.setdefault((line.get("class") or "").split()[1], set()).add(path.get("stroke-dasharray"))
    assert {len(each) for each in patterns.values()} == {1}
    assert patterns["yes"] == patterns["join"] == {None}
    dashes = {name: float(next(iter(patterns[name])).split()[0]) for name in ("no", "unsure", "third")}  # type: ignore[union-attr]
    assert dashes["unsure"] < 1 < 10 < dashes["no"], "a dot is shorter than it is wide, a long dash is long"
    assert patterns["third"] != patterns["no"]


def test_ends_are_stadiums_and_what_is_described_elsewhere_has_double_sides(
    pictures: dict[tuple[str, str], ET.Element],
) -> None:
    for svg in pictures.values():
        for end in groups(svg, "terminator"):
            box = next(end.iter(f"{SVG}rect"))
            assert float(box.get("rx") or 0) == pytest.approx(float(box.get("height") or 0) / 2, abs=0.01)
        for elsewhere in groups(svg, "predefined"):
            path = next(elsewhere.iter(f"{SVG}path"))
            assert len(re.findall("v", path.get("d") or "")) == 2


def test_nothing_of_the_engine_is_left(pictures: dict[tuple[str, str], ET.Element]) -> None:
    for svg in pictures.values():
        text = ET.tostring(svg, encoding="unicode")
        assert "Generated by" not in text and "xlink" not in text and "->" not in text


def test_the_same_drawing_gives_the_same_bytes(guide: GuideView, tmp_path: Path) -> None:
    dots = diagram.diagrams(guide.first_tree, "../")
    once = draw.draw(dots, tmp_path / "one")
    again = draw.draw(dict(reversed(dots.items())), tmp_path / "two")
    for part in dots:
        assert picture.inline(once[part], "t", "d", "p") == picture.inline(again[part], "t", "d", "p")
