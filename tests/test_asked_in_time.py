"""What is asked before what: the plain look before the numbers, the kind of light early, a danger first.

Each order here was once the other way round, and readers stumbled over it. Common practice of the trade, no source.
"""

from __future__ import annotations

import networkx as nx
from guides import ROOT
from own_tables import FORMULAS

from build_tools.model import Measure, Question, RemedyStep
from build_tools.proof.graph import Node, tree_graph
from build_tools.sources.library import read_library

DRAFT = read_library(ROOT)[0]


def question(tree: str, name: str) -> Question:
    step = DRAFT.trees[tree].steps[name]
    assert isinstance(step, Question)
    return step


def on_every_way(tree: str, first: str, then: str) -> bool:
    """Say whether nobody comes to one step of a tree but past another."""
    graph = tree_graph(tree, DRAFT.trees[tree])
    graph.remove_node(Node(tree, first))
    start = Node(tree, DRAFT.trees[tree].starts_at)
    return start not in graph or not nx.has_path(graph, start, Node(tree, then))


def test_a_patch_in_line_with_a_light_is_told_by_one_tape_before_ten_numbers() -> None:
    tree = "patch-away-from-the-light"
    step = DRAFT.trees[tree].steps["strip-outside"]
    assert isinstance(step, Measure)
    assert len(FORMULAS[step.measure].inputs) == 10
    assert on_every_way(tree, "in-line", "strip-outside")
    assert {answer for answer, to in question(tree, "in-line").exits.items() if to == "strip-outside"} == {"unsure"}


def test_panels_that_hide_the_tiles_lead_to_whoever_takes_them_off() -> None:
    tree = "patch-away-from-the-light"
    asked = question(tree, "fixed-through")
    assert "panels hide its tiles" in asked.if_so
    fitter = DRAFT.trees[tree].steps[asked.exits["yes"]]
    assert getattr(fitter, "remedy", "") == "call-back-whoever-worked-on-the-roof"
    assert "takes them off first" in str(getattr(fitter, "note", ""))
    assert on_every_way(tree, "fixed-through", "tile-out")


def test_a_light_on_a_flat_roof_is_told_before_its_edges_are_looked_at() -> None:
    tree = DRAFT.trees["wet-at-one-side-of-the-light"]
    asked = question("wet-at-one-side-of-the-light", tree.starts_at)
    assert asked.establishes["yes"]["covering"] == ("membrane", "metal-sheet")
    assert asked.exits["yes"] == "small-roof"


def test_whoever_is_up_in_bad_weather_is_called_down_before_anything_else() -> None:
    tree = DRAFT.trees["start-here"]
    asked = question("start-here", tree.starts_at)
    assert "ladder" in asked.if_so
    assert "sheets in waves or ribs, in any weather" in asked.if_so
    called = tree.steps[asked.exits["yes"]]
    assert isinstance(called, RemedyStep)
    assert called.note is not None
    assert called.note.startswith("Call them down now")
    assert asked.exits["unsure"] == asked.exits["yes"]
    assert called.then == asked.exits["no"]
