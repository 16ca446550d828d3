"""Diagrams tell what the graph tells: the same exits, in symbols of ISO 5807.

ISO 5807:1985 was not read; its symbols are taken as reported (terminator: stadium; decision: rhombus;
predefined process: double sides; connector: circle, both ends with one label), from memory, not checked.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from flow_chart import Statement, statements, triples_of, triples_of_graph
from guides import ROOT

from build_tools.guide.views import GuideView
from build_tools.site.diagram import diagrams
from build_tools.site.render import Renderer


@pytest.fixture(scope="module")
def drawn(guide: GuideView) -> Mapping[str, Mapping[str, str]]:
    """The DOT texts of every tree, by tree and part."""
    return {tree.id: diagrams(tree, "../") for tree in guide.trees}


@pytest.fixture(scope="module")
def read(drawn: Mapping[str, Mapping[str, str]]) -> Mapping[str, list[Statement]]:
    """Every node and line of every tree, by tree."""
    return {tree: [each for dot in dots.values() for each in statements(dot)] for tree, dots in drawn.items()}


def test_the_lines_are_the_exits_of_the_graph(guide: GuideView, read: Mapping[str, list[Statement]]) -> None:
    for tree in guide.trees:
        assert triples_of([each.attributes["id"] for each in read[tree.id] if each.head]) == triples_of_graph(tree)


def test_a_line_joins_what_its_name_says_or_breaks_at_a_circle_with_the_number(
    guide: GuideView, read: Mapping[str, list[Statement]]
) -> None:
    for tree in guide.trees:
        labels = {each.tail: each.attributes["label"] for each in read[tree.id] if not each.head}
        for line in read[tree.id]:
            if line.head and line.attributes["class"] != "join":
                step, _, target = line.attributes["id"].split(".")
                assert line.tail == step
                assert line.head == target or line.head == f"out.{step}.{target}"
                assert line.head == target or labels[line.head] == str(tree.step(target).number)


def test_every_broken_line_comes_in_again_where_its_step_stands(
    guide: GuideView, drawn: Mapping[str, Mapping[str, str]]
) -> None:
    for tree in guide.trees:
        home = {step.id: part.id for part in tree.parts for step in part.steps}
        for dot in drawn[tree.id].values():
            for circle in re.findall(r'"out\.[a-z0-9-]+\.([a-z0-9-]+)" \[', dot):
                joins = [
                    each
                    for each in statements(drawn[tree.id][home[circle]])
                    if each.tail == f"in.{circle}" and each.head
                ]
                assert [each.head for each in joins] == [circle]


def test_answers_differ_by_word_and_by_line(guide: GuideView, read: Mapping[str, list[Statement]]) -> None:
    for tree in guide.trees:
        for step in tree.steps:
            lines = [each.attributes for each in read[tree.id] if each.head and each.tail == step.id]
            assert len({each["label"] for each in lines}) == len({each["class"] for each in lines}) == len(step.exits)
            if step.kind in ("question", "gate"):
                assert {(each["label"], each["class"]) for each in lines} == {
                    ("Yes", "yes"),
                    ("No", "no"),
                    ("Can't tell", "unsure"),
                }


def test_each_kind_of_step_has_its_symbol(guide: GuideView, read: Mapping[str, list[Statement]]) -> None:
    symbols = {
        "question": ("diamond", "decision"),
        "gate": ("diamond", "decision gate"),
        "measure": ("box", "predefined"),
        "go-to": ("box", "predefined"),
        "remedy": ("box", "terminator"),
    }
    for tree in guide.trees:
        nodes = {each.tail: each.attributes for each in read[tree.id] if not each.head}
        for step in tree.steps:
            assert (nodes[step.id]["shape"], nodes[step.id]["class"]) == symbols[step.kind]
        assert nodes["start."]["class"] == "terminator"
        assert all(each["shape"] == "circle" for name, each in nodes.items() if name.startswith(("in.", "out.")))


def test_every_node_leads_to_its_step_in_the_walk(guide: GuideView, read: Mapping[str, list[Statement]]) -> None:
    tree = guide.first_tree
    for node in read[tree.id]:
        if not node.head and node.tail != "start.":
            assert node.attributes["URL"] == f"../walk/{tree.id}.html#{node.tail.rpartition('.')[2]}"


def test_the_start_stands_in_one_part_alone(guide: GuideView, read: Mapping[str, list[Statement]]) -> None:
    for tree in guide.trees:
        starts = [each.head for each in read[tree.id] if each.tail == "start." and each.head]
        assert starts == [tree.tree.starts_at]


def test_no_colour_is_named(drawn: Mapping[str, Mapping[str, str]]) -> None:
    for dots in drawn.values():
        for dot in dots.values():
            assert not re.search(r"color=(?!transparent)", dot)


def test_the_words_below_a_diagram_tell_the_same_exits(guide: GuideView) -> None:
    renderer = Renderer(ROOT / "site_overrides", {}, {})
    for tree in guide.trees:
        empty = {part.id: "" for part in tree.parts}
        html = renderer.page("overview.html", "../", guide=guide, tree=tree, pictures=empty)
        by_number = {step.number: step.id for step in tree.steps}
        said = []
        for step, exits in re.findall(r'<li id="([a-z0-9-]+)" value="\d+">(.*?)(?=<li id=|</ol>)', html, re.S):
            words = {each.words: each.answer for each in tree.step(step).exits}
            for word, target, number in re.findall(
                r'<li data-exit="[^"]*">([^<]*?):?\s*<a href="#([a-z0-9-]+)">go to step (\d+)</a>', exits
            ):
                assert by_number[int(number)] == target
                said.append((step, words[word.replace("&#39;", "'").strip()], target))
        assert sorted(said) == triples_of_graph(tree)
