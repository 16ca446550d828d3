"""A tree to flow charts, one for each of its parts, as DOT text. Nothing is drawn here.

Symbols as in ISO 5807: a rhombus decides, a rectangle with double sides is described elsewhere, a
stadium starts or ends, a circle breaks a line that goes on in another part. The names of things in the
DOT text tell what they are: a step by its id, an exit by "step.answer.target".
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

import graphviz

from build_tools.fitting import FONT_SIZE, in_rhombus
from build_tools.model import ANSWERS
from build_tools.views import ExitView, PartView, StepView, TreeView

LINES: Mapping[str, str] = {"yes": "solid", "no": "dashed", "unsure": "dotted"}
"""One line pattern for each answer, the same in every medium."""
VERDICT_LINES = ("yes", "no", "third")
"""A measure's verdicts in their order: solid, long dashes, dash and dot."""
_BOX_LETTERS = 22
_POINTS_AN_INCH = 72


def diagrams(tree: TreeView, root: str) -> Mapping[str, str]:
    """Give each part's DOT text by the part's id; `root` is the way from the page to the site's root."""
    return {part.id: _part(tree, part, f"{root}walk/{tree.id}.html#") for part in tree.parts}


def _part(tree: TreeView, part: PartView, walk: str) -> str:
    graph = graphviz.Digraph(part.id)
    graph.attr(rankdir="LR", bgcolor="transparent", nodesep="0.3", ranksep="0.5")
    graph.attr("node", fontname="Arial", fontsize=str(FONT_SIZE), margin="0.15,0.1")
    graph.attr("edge", fontname="Arial", fontsize=str(FONT_SIZE))
    here = {step.id for step in part.steps}
    if tree.tree.starts_at in here:
        graph.node("start.", "Start", shape="box", **{"class": "terminator"})
        graph.edge("start.", tree.tree.starts_at)
    for step in part.steps:
        _step(graph, tree, step, here, walk)
    return str(graph.source)
