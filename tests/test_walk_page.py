"""The walk's page as it is written, before any script: whole, in order, and with each caution before what it guards.

Order of cautions and their place before the step: MIL-STD-2106A, appendix B, c.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from xml.etree.ElementTree import Element

import html5lib
import pytest
from guides import ROOT, the_guide

from build_tools.formulas.definition import VERDICT_LINES
from build_tools.guide.views import StepView, TreeView
from build_tools.guide.walk import walk_data
from build_tools.guide.words import READING_RULES
from build_tools.model import Gate, Remedy
from build_tools.site.render import Renderer


@cache
def _page(tree_id: str) -> Element:
    drawings = {each.stem: each.read_text() for each in (ROOT / "guide" / "drawings").glob("*.svg")}
    renderer = Renderer(ROOT / "site_overrides", drawings, dict(the_guide().sources))
    tree = _tree(tree_id)
    text = renderer.page("walk.html", "../", guide=the_guide(), tree=tree, data=walk_data(the_guide(), tree))
    parser = html5lib.HTMLParser(namespaceHTMLElements=False, strict=False)
    document: Element = parser.parse(text.strip())
    assert parser.errors == []
    return document


def _tree(tree_id: str) -> TreeView:
    return next(each for each in the_guide().trees if each.id == tree_id)


TREES = [each.id for each in the_guide().trees]
STEPS = {(tree.id, step.id): step for tree in the_guide().trees for step in tree.steps}


def _each(kind: Callable[[StepView], object]) -> pytest.MarkDecorator:
    """Run a test for each step that is of a kind."""
    return pytest.mark.parametrize(("tree", "step"), [place for place, view in STEPS.items() if kind(view)])


def _section(tree: str, step: str) -> Element:
    return _sections(tree)[step]


@cache
def _sections(tree: str) -> dict[str | None, Element]:
    return {each.get("id"): each for each in _page(tree).iter("section")}


def _text(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def _classed(element: Element, name: str) -> list[Element]:
    return [each for each in element.iter() if name in each.get("class", "").split()]


def _place(section: Element, wanted: Element) -> int:
    return list(section.iter()).index(wanted)


@pytest.mark.parametrize("tree", TREES)
def test_steps_stand_in_walk_order_with_ids_that_stand_once(tree: str) -> None:
    page = _page(tree)
    steps = [each.get("id") for each in page.iter("section") if each.get("data-step")]
    assert steps == [each.id for each in _tree(tree).steps]
    ids = [each.get("id") for each in page.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    assert not [each for each in page.iter() if each.get("style") or any(name[:2] == "on" for name in each.attrib)]


@_each(lambda view: True)
def test_step_shows_all_it_has_and_links_each_answer(tree: str, step: str) -> None:
    view = STEPS[tree, step]
    section = _section(tree, step)
    links = {each.get("data-answer"): each.get("href") for each in section.iter("a") if each.get("data-answer")}
    assert links == {each.answer: f"#{each.target}" for each in view.exits}
    heading = section.find(".//h2")
    assert heading is not None and _text(heading) == view.title
    if view.guards:
        guards = [each.get("href") for each in _classed(section, "step__guard")[0].iter("a")]
        assert guards == [f"#{each}" for each in view.guards]
    if view.where in READING_RULES:
        assert READING_RULES[view.where] in _text(section)
    for work in view.remedy.work if view.remedy else ():
        if work.action and work.action.one_hand:
            assert f"With one hand: {work.action.one_hand}" in _text(section)


@_each(lambda view: view.kind in ("question", "measure", "gate"))
def test_cautions_stand_before_what_they_guard_the_gravest_first(tree: str, step: str) -> None:
    view = STEPS[tree, step]
    section = _section(tree, step)
    shown = _classed(section, "caution")
    wanted = view.gate.cautions if view.gate else (*view.cautions, *view.standing)
    assert {each.get("data-caution") for each in shown} == {each.id for each in wanted}
    graveness = ["danger", "warning", "caution", "notice"]
    signals = [next(n for n in graveness if f"caution--{n}" in each.get("class", "").split()) for each in shown]
    assert signals == sorted(signals, key=graveness.index)
    guarded = _classed(section, "ticks")[-1] if view.gate else _one(section, ".//*[@data-body]")
    assert all(_place(section, each) < _place(section, guarded) for each in shown)
    for each in wanted:
        full = next(one for one in shown if one.get("data-caution") == each.id)
        said = _text(full)
        for part in (each.caution.signal.upper(), each.caution.hazard, each.caution.consequence, each.caution.call):
            assert " ".join(part.split()) in said


def _one(section: Element, path: str) -> Element:
    found = section.find(path)
    assert found is not None
    return found


@_each(lambda view: view.gate)
def test_gate_lists_every_condition_to_tick(tree: str, step: str) -> None:
    view = STEPS[tree, step]
    section = _section(tree, step)
    assert view.gate is not None
    gate: Gate = view.gate.gate
    conditions = _one(section, ".//*[@data-conditions]")
    rows = [_text(each) for each in _classed(conditions, "tick") if each.find("input[@data-condition]") is not None]
    listed = [condition.holds for group in view.gate.groups for condition in group.conditions]
    assert sorted(listed) == sorted(condition.holds for condition in gate.all_of)
    assert all(row.startswith(holds) for row, holds in zip(rows, listed, strict=True))
    asked = [each.get("data-roof") for each in conditions.iter("input") if each.get("data-roof")]
    assert asked == ([*(each.roof for each in view.gate.picks), "any", "none"] if view.gate.picks else [])
    assert gate.if_not in _text(conditions)
    if view.before_going_up:
        going = [_text(each) for each in _classed(_one(section, ".//*[@data-going-up]"), "tick")]
        assert [title for _, title in view.before_going_up.look] == going[: len(view.before_going_up.look)]
        assert len(going) == len(view.before_going_up.look) + len(view.before_going_up.carry)


@_each(lambda view: view.remedy)
def test_remedy_stands_in_full_where_a_walk_ends(tree: str, step: str) -> None:
    view = STEPS[tree, step]
    section = _section(tree, step)
    assert view.remedy is not None
    remedy: Remedy = view.remedy.remedy
    assert len(_classed(section, "work")) == len(remedy.steps)
    said = _text(section)
    shown = [each.get("data-caution") for each in _classed(section, "caution")]
    assert set(shown) >= {each.id for each in view.remedy.cautions}
    assert all(material.item in said for material in remedy.materials)
    for work, done in zip(view.remedy.work, _classed(section, "work"), strict=True):
        for caution in work.cautions:
            first = next(each for each in _classed(section, "caution") if each.get("data-caution") == caution.id)
            assert _place(section, first) < _place(section, done)


@pytest.mark.parametrize("tree", TREES)
def test_stop_is_a_link_to_how_to_make_it_safe(tree: str) -> None:
    page = _page(tree)
    stop = _one(page, ".//nav[@aria-label='Emergency']/a")
    assert (stop.get("href"), _text(stop)) == ("#walk--stop", "Stop, come down")
    screen = _one(page, ".//section[@id='walk--stop']")
    assert screen.get("hidden") is None
    assert the_guide().make_safe.remedy.title in _text(screen)


@_each(lambda view: view.hand_over)
def test_hand_over_links_to_the_step_of_the_other_walk(tree: str, step: str) -> None:
    view = STEPS[tree, step]
    assert view.hand_over is not None
    link = _one(_section(tree, step), ".//*[@data-hand-over]")
    assert link.get("href") == f"{view.hand_over[0]}.html#{view.hand_over[1]}"


@pytest.mark.parametrize("tree", TREES)
def test_page_names_only_scripts_that_are_there(tree: str) -> None:
    sources = [each.get("src", "") for each in _page(tree).iter("script") if each.get("src")]
    assert len(sources) >= 20
    generated = {"../scripts/reckoning.js"}
    missing = [each for each in sources if each not in generated and not (ROOT / "site_overrides" / each[3:]).is_file()]
    assert missing == []


def test_verdicts_of_a_measure_have_lines_in_their_order() -> None:
    measures = [(tree.id, step) for tree in the_guide().trees for step in tree.steps if step.kind == "measure"]
    assert measures
    for tree, view in measures:
        links = [each for each in _section(tree, view.id).iter("a") if each.get("data-answer")]
        lines = [each.get("data-line") for each in links]
        assert lines == [*VERDICT_LINES[: len(lines) - 1], "unsure"]


def test_only_a_stopgap_done_in_passing_is_packed_for() -> None:
    """A cover strip is made to measure by a glazier; tape is laid on the same climb."""
    packed = {
        item
        for tree in the_guide().trees
        for step in tree.steps
        if step.before_going_up
        for item in step.before_going_up.carry
    }
    tools = {view.id: {*view.remedy.tools} for view in the_guide().remedies}
    others = set().union(*(tools[name] for name in tools if name != "seal-the-glass-edge-with-a-cover-strip"))
    assert tools["tape-for-now"] <= packed
    assert not (tools["seal-the-glass-edge-with-a-cover-strip"] - others) & packed
