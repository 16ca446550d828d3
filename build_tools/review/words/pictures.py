"""Both versions of a tree in one flow chart, as DOT text: kept, added, removed and changed.

What came and went is told by a word and by a line, so that it can be read without colours: an added step
has a thick outline, a removed one a dashed outline and struck-out words, a changed one a double outline;
an added exit is a thick line, a removed one a thin line with an open head. The pattern of an exit's line
is that of its answer, as everywhere in the guide.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import graphviz

from build_tools.formulas.definition import VERDICT_LINES
from build_tools.model import ANSWERS, Measure, Tree
from build_tools.proof.graph import exits_of
from build_tools.review.differences.tree_content import step_title
from build_tools.review.versions.matching import Match, content_of
from build_tools.site.fitting import FONT_SIZE

LETTERS = 24
"""In a line of a step's words."""
MARGIN = "0.4,0.1"
"""Inches beside and above the words: the engine measures them regular, and the page shows the first line bold."""


class _Exit(NamedTuple):
    tail: str
    answer: str
    head: str


def pictures(match: Match) -> Mapping[str, str]:
    """Give the DOT text of each tree of which a step or an exit is not the same in both versions, by its id."""
    names = dict.fromkeys((*match.before.trees, *match.after.trees))
    shown = {name: _Picture(match, name) for name in names}
    return {name: picture.dot() for name, picture in shown.items() if picture.differs}


class _Step(NamedTuple):
    state: str
    lines: tuple[str, ...]


class _Picture:
    """Both versions of one tree; steps are named by their ids in the first version, where it has them."""

    def __init__(self, match: Match, tree_id: str) -> None:
        before, after = match.before.trees.get(tree_id), match.after.trees.get(tree_id)
        old_ids = {there.step: node.step for node, there in match.nodes.items() if node.home == tree_id}
        self.name = tree_id
        self.steps = dict(_steps(match, before, after, old_ids))
        self.before = dict(_exits(before, {})) if before else {}
        self.after = dict(_exits(after, old_ids)) if after else {}

    @property
    def differs(self) -> bool:
        """Tell whether anything came, went or changed."""
        return self.before != self.after or any(each.state != "kept" for each in self.steps.values())

    def dot(self) -> str:
        """Write the picture; what is how is told by class."""
        graph = graphviz.Digraph(self.name)
        graph.attr(rankdir="LR", bgcolor="transparent", nodesep="0.3", ranksep="0.4")
        graph.attr("node", fontname="Arial", fontsize=str(FONT_SIZE), shape="box", margin=MARGIN)
        graph.attr("edge", fontname="Arial", fontsize=str(FONT_SIZE), arrowsize="0.8")
        for name, step in self.steps.items():
            double = {"peripheries": "2"} if step.state == "changed" else {}
            label = "\\n".join(map(graphviz.escape, step.lines))
            graph.node(name, label, _attributes={"class": step.state, **double})
        for each, line in {**self.before, **self.after}.items():
            state = "added" if each not in self.before else "removed" if each not in self.after else "kept"
            word = each.answer.replace("-", " ") + ("" if state == "kept" else f" ({state})")
            graph.edge(each.tail, each.head, label=word, _attributes={"class": f"{state} {line}"})
        return str(graph.source)


def _steps(
    match: Match, before: Tree | None, after: Tree | None, old_ids: Mapping[str, str]
) -> Iterator[tuple[str, _Step]]:
    old, new = (tree.steps if tree else {} for tree in (before, after))
    for name, step in old.items():
        if name not in old_ids.values():
            yield name, _Step("removed", _lines(f"REMOVED {name}", step_title(match.before, step)))
    for name, step in new.items():
        title = step_title(match.after, step)
        if name not in old_ids:
            yield name, _Step("added", _lines(f"ADDED {name}", title))
            continue
        was = old_ids[name]
        same = content_of(old[was]) == content_of(step) and step_title(match.before, old[was]) == title
        named = was if was == name else f"{was}, now {name}"
        yield was, _Step("kept", _lines(named, title)) if same else _Step("changed", _lines(f"CHANGED {named}", title))


def _lines(first: str, title: str) -> tuple[str, ...]:
    return (first, *textwrap.wrap(title, LETTERS))


def _exits(tree: Tree, old_ids: Mapping[str, str]) -> Iterator[tuple[_Exit, str]]:
    """Give each exit by the ids of the first version, with the line it is drawn in."""
    for name, step in tree.steps.items():
        for place, (answer, target) in enumerate(exits_of(step).items()):
            is_verdict = isinstance(step, Measure) and answer not in ANSWERS
            line = VERDICT_LINES[min(place, len(VERDICT_LINES) - 1)] if is_verdict else answer
            if target in tree.steps:
                yield _Exit(old_ids.get(name, name), answer, old_ids.get(target, target)), line
