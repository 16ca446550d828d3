"""A tree to flow charts, one for each of its parts, as DOT text. Nothing is drawn here.

Symbols as in ISO 5807: a rhombus decides, a box with double sides is described elsewhere, a stadium
starts or ends, a circle breaks a line that goes on elsewhere, with the number of the step it leads to.
Names in the DOT text tell what is what: a step has its id, an exit is "step.answer.target" (no id holds
a point), and the class is the symbol or the line that `picture` draws.
"""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from dataclasses import dataclass

import graphviz

from build_tools.guide.views import PartView, StepView, TreeView
from build_tools.model import ANSWERS
from build_tools.site.fitting import FONT_SIZE, in_rhombus
from build_tools.sources.term_links import plain_words

_SYMBOLS = {
    "question": "decision",
    "gate": "decision gate",
    "measure": "predefined",
    "go-to": "predefined",
    "remedy": "terminator",
}
"""Kind of step to symbol."""
_MOST_TAILS = 2
"""So many steps share an end before the lines to it are broken, since more of them cross and merge."""
_BOX_LETTERS = 22
_INCH = 72
"""Units of the drawing in the inch that the engine takes sizes in."""


def diagrams(tree: TreeView, root: str) -> Mapping[str, str]:
    """Give each part's DOT text by the part's id; `root` is the way from the page to the root of the site."""
    return {part.id: _dot(tree, part, f"{root}walk/{tree.id}.html#") for part in tree.parts}


def _dot(tree: TreeView, part: PartView, walk: str) -> str:
    graph = graphviz.Digraph(part.id)
    graph.attr(rankdir="LR", bgcolor="transparent", nodesep="0.3", ranksep="0.4")
    graph.attr("node", fontname="Arial", fontsize=str(FONT_SIZE))
    graph.attr("edge", fontname="Arial", fontsize=str(FONT_SIZE), arrowsize="0.8")
    chart = _Chart(graph, tree, part, walk)
    for step in part.steps:
        chart.add_step(step)
    for step in part.steps:
        chart.add_exits(step)
    return str(graph.source)


@dataclass(frozen=True, slots=True)
class _Chart:
    graph: graphviz.Digraph
    tree: TreeView
    part: PartView
    walk: str

    def add_step(self, step: StepView) -> None:
        """Add a step, with where the walk begins and where broken lines come in."""
        if step.id == self.tree.tree.starts_at:
            self._add_node("start.", "Start", {"class": "terminator", "shape": "box"})
            self._add_join("start.", step)
        if any(self._is_broken(tail, step) for _, tail, _ in step.reached_from):
            self._add_circle(f"in.{step.id}", step)
            self._add_join(f"in.{step.id}", step)
        label, shape = _shape(step)
        self._add_node(step.id, label, {"class": _SYMBOLS[step.kind], **shape, **self._link(step)})

    def add_exits(self, step: StepView) -> None:
        """Add the lines that leave a step, each to the step it leads to or to a circle that stands for it."""
        for leaving in step.exits:
            target, head = self.tree.step(leaving.target), leaving.target
            if self._is_broken(step.id, target):
                head = f"out.{step.id}.{target.id}"
                self._add_circle(head, target)
            word = leaving.words if leaving.answer in ANSWERS else leaving.answer.replace("-", " ")
            name = f"{step.id}.{leaving.answer}.{target.id}"
            self._add_edge(step.id, head, {"label": word, "class": leaving.line, "id": name})

    def _is_broken(self, tail: str, head: StepView) -> bool:
        here = {step.id for step in self.part.steps}
        tails = {each for _, each, _ in head.reached_from} & here
        return tail not in here or head.id not in here or (not head.exits and len(tails) > _MOST_TAILS)

    def _link(self, step: StepView) -> Mapping[str, str]:
        return {"URL": f"{self.walk}{step.id}", "tooltip": f"Step {step.number}. {_said(step)}"}

    def _add_circle(self, name: str, step: StepView) -> None:
        shape = {"class": "connector", "shape": "circle", "margin": "0.04"}
        self._add_node(name, str(step.number), {**shape, **self._link(step)})

    def _add_node(self, name: str, label: str, attributes: Mapping[str, str]) -> None:
        self.graph.node(name, label, _attributes={"id": name, **attributes})

    def _add_join(self, tail: str, head: StepView) -> None:
        self._add_edge(tail, head.id, {"class": "join", "id": f"join-{tail}"})

    def _add_edge(self, tail: str, head: str, attributes: Mapping[str, str]) -> None:
        self.graph.edge(tail, head, _attributes=attributes)


def _said(step: StepView) -> str:
    """Say what a step is, with the word that its symbol alone would not tell."""
    kinds = {"gate": "Gate: ", "go-to": "Go to: "}
    return kinds.get(step.kind, "") + plain_words(step.title)


def _shape(step: StepView) -> tuple[str, Mapping[str, str]]:
    """Give a step's label, in lines below its number, and the attributes of a shape that holds them."""
    number, said = str(step.number), _said(step)
    if step.kind not in ("question", "gate"):
        return _label((number, *textwrap.wrap(said, _BOX_LETTERS))), {"shape": "box", "margin": "0.28,0.1"}
    rhombus = in_rhombus(number, said)
    size = {"width": f"{rhombus.width / _INCH:.4f}", "height": f"{rhombus.height / _INCH:.4f}"}
    return _label(rhombus.lines), {"shape": "diamond", "fixedsize": "true", **size}


def _label(lines: tuple[str, ...]) -> str:
    return "\\n".join(map(graphviz.escape, lines))
