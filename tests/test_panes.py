"""Nobody tries a pane by hand before it is looked at and stopped at its foot, and nobody pushes one up the slope.

A bare pane may lie on glue that has let go: pushed, it slides on to whoever stands below. What is read as a try, a
stop and a look stands in `pane_words.yaml`. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

import networkx as nx
import pytest
import yaml
from guides import ROOT, draft_of, question, remedy, the_checked, tree

from build_tools.model import Action, Tree
from build_tools.proof.graph import tree_graph
from build_tools.proof.reading import sentences
from build_tools.proof.rules.sense import passages
from build_tools.sources.term_links import plain_words

WORDS = yaml.safe_load((ROOT / "tests" / "pane_words.yaml").read_text(encoding="utf-8"))
DRAFT = the_checked().draft
CHAPTERS = sorted((ROOT / "guide").glob("*.md"))


class Does(NamedTuple):
    """What one sentence has somebody do with a pane."""

    tries: bool
    stops: bool
    looks: bool
    up: bool
    down: bool


def does(sentence: str) -> Does:
    said = " ".join(plain_words(sentence).split())
    if re.search(WORDS["forbids"], said, re.IGNORECASE):
        return Does(False, False, False, False, False)
    return Does(*(bool(re.search(WORDS[name].strip(), said, re.IGNORECASE)) for name in Does._fields))


def faults(texts: Sequence[str]) -> Iterator[str]:
    """Find in texts, in the order in which they are done, each try that comes too early or goes up the slope."""
    looked = stopped = False
    for sentence in (each for text in texts for each in sentences(text)):
        done = does(sentence)
        if done.tries:
            yield from (f"not looked at first: {sentence}",) if not looked else ()
            yield from (f"not stopped first: {sentence}",) if not stopped else ()
            yield from (f"up the slope: {sentence}",) if done.up or not done.down else ()
        looked |= done.looks
        stopped |= done.stops and looked


def work_of(name: str) -> list[str]:
    return [f"{each.do} {each.right or ''}" for each in DRAFT.remedies[name].steps if isinstance(each, Action)]


def ways_to_tries(tree_id: str, tree: Tree) -> Iterator[list[str]]:
    """Give for each step of a tree that tries a pane every way to it, as the texts read on it."""
    graph = nx.DiGraph(tree_graph(tree_id, tree))
    by_id = {node.step: node for node in graph}
    for name, step in tree.steps.items():
        said = [text for _, text in passages(step)]
        if any(does(sentence).tries for text in said for sentence in sentences(text)):
            ways = nx.all_simple_paths(graph, by_id[tree.starts_at], by_id[name])
            for way in ways if name != tree.starts_at else ([by_id[name]],):
                yield [text for node in way for _, text in passages(tree.steps[node.step])]


@pytest.mark.parametrize("name", DRAFT.remedies)
def test_work_looks_and_stops_a_pane_before_it_is_tried(name: str) -> None:
    assert list(faults(work_of(name))) == []


@pytest.mark.parametrize("name", DRAFT.trees)
def test_no_way_through_a_tree_tries_a_pane_that_nothing_stops(name: str) -> None:
    assert [fault for texts in ways_to_tries(name, DRAFT.trees[name]) for fault in faults(texts)] == []


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.stem)
def test_no_chapter_tries_a_pane_that_nothing_stops(path: Path) -> None:
    assert list(faults([path.read_text(encoding="utf-8")])) == []


def test_the_work_at_the_edge_of_a_pane_tries_it() -> None:
    trying = {
        name for name in DRAFT.remedies if any(does(each).tries for text in work_of(name) for each in sentences(text))
    }
    assert trying == {
        *("side-gutter-under-the-tiles", "soakers-beside-the-upstand", "back-gutter-at-the-head"),
        *(
            "widen-the-back-gutter",
            "seal-the-glass-edge-with-a-cover-strip",
            "renew-the-gasket",
            "re-seal-a-lantern-joint",
        ),
    }


LOOK = "Look at bed, edge and seal of the glass."
STOP = "Fix padded clips at its foot."
FEEL = "Feel each corner of the glass for movement, downhill and sideways only."


@pytest.mark.parametrize(
    ("texts", "found"),
    [
        ([LOOK, STOP, FEEL], []),
        ([STOP, LOOK, FEEL], ["not stopped first"]),
        ([LOOK, FEEL, STOP], ["not stopped first"]),
        ([STOP, FEEL], ["not looked at first", "not stopped first"]),
        (
            [LOOK, STOP, "Push gently at each corner of the glass, sideways and upward, with flat gloved hands."],
            ["up the slope"],
        ),
        ([LOOK, STOP, "Press gently at both lower corners with flat gloved hands."], ["up the slope"]),
        ([LOOK, STOP, "With nobody below, press each corner of the pane with a flat hand."], ["up the slope"]),
        ([LOOK, STOP, "Push at each corner of the pane, sideways and upward."], ["up the slope"]),
        ([LOOK, STOP, "Feel the pane for movement, downhill and uphill."], ["up the slope"]),
        (["Do not push at the pane to see whether it moves.", "Nobody rocks the glass by hand."], []),
        (["Push the new gasket in with soapy water.", "Press the tape down with the roller."], []),
    ],
)
def test_a_try_out_of_its_order_is_found(texts: list[str], found: list[str]) -> None:
    assert [fault.partition(":")[0] for fault in faults(texts)] == found


@pytest.mark.parametrize(("round_it", "found"), [("look", []), ("feel", ["not looked at first", "not stopped first"])])
def test_a_way_round_the_stop_is_found(round_it: str, found: list[str]) -> None:
    steps = {
        "first": question("first", "look", round_it, "look"),
        "look": question("look", "feel", "feel", "feel", look=f"{LOOK} {STOP}"),
        "feel": question("feel", "end", "end", "end", look=FEEL),
        "end": {"remedy": "r"},
    }
    draft = draft_of({"a": tree(steps)}, {"r": remedy({"do": "Go.", "where": "inside"})})
    told = {fault for texts in ways_to_tries("a", draft.trees["a"]) for fault in faults(texts)}
    assert sorted(fault.partition(":")[0] for fault in told) == found
