"""The printed checklist as HTML: all that the tree says, in walk order, and nothing that needs a script."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
from flow_chart import triples_of_graph

from build_tools.guide.views import GuideView, StepView, TreeView
from build_tools.model import Question
from build_tools.site import qr
from build_tools.site.render import Renderer, prose

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def renderer(guide: GuideView) -> Renderer:
    names = [each.stem for each in (ROOT / "guide" / "drawings").glob("*.svg")]
    return Renderer(
        ROOT / "site_overrides",
        dict.fromkeys(names, '<svg viewBox="0 0 40 30" aria-label="A drawing"></svg>'),
        dict(guide.sources),
    )


def paper(renderer: Renderer, guide: GuideView, tree: TreeView, address: str = "") -> str:
    views = {"guide": guide, "tree": tree, "address": address, "qr": qr.code(address)}
    return renderer.page("paper.html", "../", **views)


@pytest.fixture(scope="module")
def sheets(renderer: Renderer, guide: GuideView) -> dict[str, Element]:
    """Every checklist, read as strictly as HTML allows."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return {tree.id: parser.parse(paper(renderer, guide, tree)) for tree in guide.trees}


def block(sheet: Element, step: str) -> Element:
    found = sheet.find(f".//section[@id='{step}']")
    assert found is not None
    return found


def words(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def said(text: str) -> str:
    return " ".join(re.sub("<[^>]*>", "", str(prose(text, ""))).split()).replace("&#39;", "'").replace("&#34;", '"')


def cautions(element: Element) -> list[str]:
    full = [each for each in element.iter("div") if "caution" in each.get("class", "").split()]
    return [each.get("data-caution", "") for each in full if "again" not in each.get("class", "").split()]


def every(guide: GuideView) -> list[tuple[TreeView, StepView]]:
    return [(tree, step) for tree in guide.trees for step in tree.steps]


def test_the_boxes_send_where_the_graph_does(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree in guide.trees:
        read = []
        for step in tree.steps:
            answers = [each for each in block(sheets[tree.id], step.id).iter("li") if each.get("class") == "answer"]
            assert len(answers) == len(step.exits)
            for answer, leaving in zip(answers, step.exits, strict=True):
                word = {"yes": "Yes.", "no": "No.", "unsure": "Can't tell.", "done": "Done, go on."}.get(leaving.answer)
                word = word or leaving.answer.replace("-", " ").capitalize() + "."
                link = answer.find("./span[@class='goto']/a")
                assert link is not None and words(answer).startswith(word)
                target = link.get("href", "").removeprefix("#")
                assert f"go to step {tree.step(target).number}" in words(answer).replace("\xa0", " ")
                read.append((step.id, leaving.answer, target))
        assert sorted(read) == triples_of_graph(tree)


def test_steps_are_numbered_in_walk_order_and_say_where_they_come_from(
    guide: GuideView, sheets: dict[str, Element]
) -> None:
    for tree in guide.trees:
        tails = {step.id: step for step in tree.steps}
        shown = [each.get("id") for each in sheets[tree.id].iter("section") if each.get("id") in tails]
        assert shown == [step.id for step in tree.steps]
        for step in tree.steps:
            line = words(next(iter(block(sheets[tree.id], step.id).iter("p"))))
            inverse = {(tails[tail].number, answer) for tail, answer, head in triples_of_graph(tree) if head == step.id}
            read = set(re.findall(r"(\d+) ([a-z' ]+?)(?:,|$)", line.partition(", from ")[2]))
            spoken = {"unsure": "can't tell"}
            assert read == {(str(n), spoken.get(answer, answer.replace("-", " "))) for n, answer in inverse}
            assert line.startswith(f"{tree.id}/{step.id} {tree.tree.version}Step {step.number}")


def test_a_question_has_how_to_look_and_what_each_answer_looks_like(
    guide: GuideView, sheets: dict[str, Element]
) -> None:
    for tree, step in every(guide):
        if isinstance(step.step, Question):
            text = words(block(sheets[tree.id], step.id))
            for part in (step.step.question, step.step.look, step.step.if_so, step.step.if_not, step.step.find_out):
                assert said(part or "") in text
            assert "What I saw:" in text and "Who:" in text


def test_cautions_stand_before_what_to_do(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree, step in every(guide):
        section = block(sheets[tree.id], step.id)
        sections = list(sheets[tree.id].iter("section"))
        # With more than one, those of a measure are a block of their own before it.
        apart = [sections[sections.index(section) - 1]] if step.formula and len(step.cautions) > 1 else []
        if step.gate is None and step.remedy is None:
            assert [each for one in (*apart, section) for each in cautions(one)] == [each.id for each in step.cautions]
        if step.cautions:
            caution = step.cautions[0].caution
            text = " ".join(words(one) for one in (*apart, section))
            for part in (caution.hazard, caution.consequence, caution.avoidance, caution.stop_when, caution.call):
                assert text.index(said(part)) < text.index(said(step.step.look))


def test_a_standing_caution_is_told_again_with_the_step_where_it_is_in_full(
    guide: GuideView, sheets: dict[str, Element]
) -> None:
    seen = 0
    for tree, step in every(guide):
        text = words(block(sheets[tree.id], step.id)).replace("\xa0", " ")
        for view in step.standing:
            seen += 1
            again = f"{view.caution.signal.upper()} {said(view.caution.hazard)}. {said(view.caution.avoidance)}"
            assert again in text
            gates = [tree.step(each) for each in step.guards]
            fitting = [each.number for each in gates if view.id in [one.id for one in each.gate.cautions]]  # type: ignore[union-attr]
            assert re.search(rf"In full before you went there, at .*step {fitting[0]}\b", text)
    assert seen


def test_a_gate_has_a_box_for_each_condition_and_its_cautions_once_in_full(
    guide: GuideView, sheets: dict[str, Element]
) -> None:
    for tree in guide.trees:
        first: dict[str, int] = {}
        for step in tree.steps:
            if step.gate is None:
                continue
            section = block(sheets[tree.id], step.id)
            sections = list(sheets[tree.id].iter("section"))
            number = sections.index(section)
            parts = [section]
            if words(sections[number - 1]).startswith(f"Step {step.number}, first conditions"):
                number -= 1
                parts.insert(0, sections[number])
            lists = [each for part in parts for each in part.iter("ul") if each.get("class") == "conditions"]
            boxes = sum(each.tag.endswith("rect") for conditions in lists for each in conditions.iter())
            assert boxes == len(step.gate.gate.all_of)
            text = " ".join(map(words, lists))
            for condition in step.gate.gate.all_of:
                assert said(condition.holds) in text and said(condition.tell or "") in text
            before = sections[number - 1]
            if first.setdefault(step.gate.id, step.number) == step.number:
                assert words(before).startswith(f"Step {step.number}, cautions") and "data-keep" in before.attrib
                assert cautions(before) == [each.id for each in step.gate.cautions]
            else:
                assert f"cautions at step {first[step.gate.id]}" in words(section).replace("\xa0", " ")


def test_an_end_says_enough_to_serve_without_the_guide(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree in guide.trees:
        whole = cautions(sheets[tree.id])
        first: dict[str, int] = {}
        for step in tree.steps:
            if step.remedy is None:
                continue
            text = words(block(sheets[tree.id], step.id)).replace("\xa0", " ")
            assert said(step.remedy.remedy.title) in text
            if first.setdefault(step.remedy.id, step.number) != step.number:
                assert f"stands at step {first[step.remedy.id]}" in text
                continue
            remedy = step.remedy.remedy
            glass = {"stays-in": "The glass stays in", "comes-out": "The glass comes out"}
            materials = [part for each in remedy.materials for part in (each.item, each.quantity)]
            for part in (step.remedy.address, remedy.who, glass.get(remedy.glass, "not touched"), remedy.prove):
                assert said(part) in text
            assert all(said(part) in text for part in materials)
            for view in step.remedy.cautions:
                assert said(view.caution.hazard) in text and view.id in whole
            if remedy.lasts == "stopgap" and not remedy.urgent:
                assert f"it may stand {remedy.stands_months} month" in text


def test_a_hand_over_names_the_other_checklist_and_its_step(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree, step in every(guide):
        if step.hand_over:
            other, target, title = step.hand_over
            number = next(each for each in guide.trees if each.id == other).step(target).number
            assert f"“{title}” ({other}), and begin it at its step {number}:" in words(block(sheets[tree.id], step.id))


def test_the_first_block_has_the_blanks_of_the_site(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree in guide.trees:
        top = next(each for each in sheets[tree.id].iter("header"))
        for blank in ("Site:", "Date and time:", "Weather now:", "Weather in the last 48 hours:", "Who:", "Initials:"):
            assert blank in words(top)
        assert "Rooflight, number or letter:" in words(top) and "sketch the roof" in words(top)
        assert f"open the guide at Walk, {tree.tree.title}." in words(top)


def test_where_the_site_has_an_address_it_is_there_as_code_and_in_words(renderer: Renderer, guide: GuideView) -> None:
    address = f"https://guide.example/walk/{guide.first_tree.id}.html?v=1.0.0"
    html = paper(renderer, guide, guide.first_tree, address)
    assert f'<span class="address">{address}</span>' in html and 'class="qr"' in html


def test_every_page_of_paper_is_headed_with_id_title_version_and_day(renderer: Renderer, guide: GuideView) -> None:
    tree = guide.first_tree
    head = paper(renderer, guide, tree).partition("</style>")[0]
    assert f'@top-left {{ content: "{tree.id}: {tree.tree.title}"; }}' in head
    day = f"{tree.tree.revised.day} {tree.tree.revised:%B %Y}"
    assert f'"version {tree.tree.version}, {day}, page " counter(page) " of " counter(pages)' in head


def test_a_title_cannot_break_out_of_the_style(renderer: Renderer, guide: GuideView) -> None:
    tree = guide.first_tree
    odd = replace(tree, tree=tree.tree.model_copy(update={"title": 'A "wet" </style> \\ & dry'}))
    style = paper(renderer, guide, odd).partition("<style>")[2].partition("</style>")[0]
    assert '"start-here: A \\22 wet\\22  \\3c /style> \\5c  & dry"' in style


def test_no_style_attribute_no_handler_no_outside_file(renderer: Renderer, guide: GuideView) -> None:
    for tree in guide.trees:
        html = paper(renderer, guide, tree)
        assert not re.search(r"<[^>]+\s(style|on[a-z]+)=", html)
        assert not re.search(r'(src|href)="(https?:)?//', html)
        ids = re.findall(r'\sid="([^"]*)"', html)
        assert len(ids) == len(set(ids))


def test_without_a_script_no_page_is_named_and_no_button_is_shown(guide: GuideView, sheets: dict[str, Element]) -> None:
    for tree in guide.trees:
        sheet = sheets[tree.id]
        assert all(not words(each) for each in sheet.iter("span") if each.get("data-page-of"))
        assert [each.get("hidden") for each in sheet.iter("button")] == [""]
        targets = {each.get("data-page-of") for each in sheet.iter("span")} - {None}
        assert targets <= {each.get("id") for each in sheet.iter()}
