"""What only the version after has, whole, as a reader gets it: nothing of it can be told by a difference."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import networkx as nx

from build_tools.guide.words import ACT_WORDS, GLASS_WORDS, PLACE_WORDS
from build_tools.model import UP, Act, Action, Looked, Remedy, StepBase, Where, WorkGate
from build_tools.proof.counting import in_walk_order
from build_tools.proof.graph import Node, remedy_node, step_at, tree_graph
from build_tools.proof.titles import (
    caution_name,
    gate_name,
    hazard_name,
    name_words,
    remedy_name,
    step_name,
    tree_name,
)
from build_tools.review.differences.guard_ways import Standing, guards_of
from build_tools.review.differences.whole_steps import caution_said, gate_said, said, step_said, work_said
from build_tools.review.record.told import Said, Whole, WholeStep
from build_tools.review.versions.matching import Match
from build_tools.review.versions.places import Dangers, spot
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path

CLIMBS = (Where.LOFT, *UP)


def new_things(match: Match) -> tuple[Whole, ...]:
    """Give the trees, remedies, steps of trees that were there, gates, cautions and hazards that are new."""
    names = _new(match)
    if not any(names.values()):
        return ()
    draft = match.after
    shelf = _Shelf(draft, guards_of(draft).gates, Dangers(draft))
    return (
        *(shelf.tree(name) for name in names["tree"]),
        *(shelf.remedy(name) for name in names["remedy"]),
        *(shelf.step(name) for name in names["step"]),
        *(shelf.row("gate", name, gate_name(draft, name), gate_said(draft, name)) for name in names["gate"]),
        *(
            shelf.row("caution", name, caution_name(draft, name), caution_said(draft, draft.cautions[name]))
            for name in names["caution"]
        ),
        *(shelf.row("hazard", name, hazard_name(draft, name), shelf.hazard(name)) for name in names["hazard"]),
    )


def _new(match: Match) -> dict[str, list[str]]:
    before, after = match.before, match.after
    kept = set(match.nodes.values())
    return {
        "tree": _only(after.trees, before.trees),
        "remedy": _only(after.remedies, {*before.remedies, *match.remedies.values()}),
        "step": [
            f"{name}/{step}"
            for name, tree in after.trees.items()
            if name in before.trees
            for step in tree.steps
            if Node(name, step) not in kept
        ],
        "gate": _only(after.gates, {*before.gates, *match.gates.values()}),
        "caution": _only(after.cautions, {*before.cautions, *match.cautions.values()}),
        "hazard": _only(after.hazards, before.hazards),
    }


def _only(here: Iterable[str], there: Iterable[str]) -> list[str]:
    known = set(there)
    return [name for name in here if name not in known]


class _Shelf:
    """A draft, with all that is looked up in it again and again."""

    def __init__(self, draft: Draft, gates: Standing, dangers: Dangers) -> None:
        self._draft, self._gates, self._dangers = draft, gates, dangers

    def row(self, kind: str, name: str, title: str, lines: tuple[Said, ...]) -> Whole:
        """Give a row of a table."""
        place = spot(self._draft, table_path(f"{kind}s"), (name,))
        return Whole(kind=kind, name=name, title=title, said=lines, steps=(), spot=place)

    def hazard(self, name: str) -> tuple[Said, ...]:
        """Say what brings a hazard, and how mildly it may be warned of."""
        hazard = self._draft.hazards[name]
        brought = [*(PLACE_WORDS[each] for each in hazard.where), *(ACT_WORDS[each] for each in hazard.acts)]
        return said(("mildest signal", hazard.least_signal.upper()), ("brought by", "; ".join(brought)))

    def tree(self, name: str) -> Whole:
        """Give a tree, its steps in the order of the walk."""
        tree = self._draft.trees[name]
        nodes = _in_order(self._draft, name)
        lines = said(*self._dangers_of(nodes), ("about", tree.about))
        steps = tuple(self._step(node, f"{number}. ") for number, node in enumerate(nodes, start=1))
        title = tree_name(self._draft, name)
        place = spot(self._draft, tree_path(name))
        return Whole(kind="tree", name=name, title=title, said=lines, steps=steps, spot=place)

    def step(self, name: str) -> Whole:
        """Give a step of a tree, named as tree/step."""
        node = Node(*name.split("/"))
        shown = self._step(node, "")
        lines = (*said(*self._dangers_of((node,)), ("in", tree_name(self._draft, node.home))), *shown.said)
        return Whole(kind="step", name=name, title=shown.title, said=lines, steps=(), spot=shown.spot)

    def _step(self, node: Node, number: str) -> WholeStep:
        step = self._draft.trees[node.home].steps[node.step]
        where = f" [{PLACE_WORDS[step.where]}]" if isinstance(step, Looked) else ""
        return WholeStep(
            title=f"{number}{_kind(step)}{step_name(self._draft, step)}{where}",
            said=step_said(self._draft, self._dangers, node.home, step),
            spot=spot(self._draft, tree_path(node.home), ("steps", node.step)),
        )

    def remedy(self, name: str) -> Whole:
        """Give a remedy: what it is, its work, and what comes after."""
        remedy = self._draft.remedies[name]
        nodes = tuple(remedy_node(name, number + 1) for number in range(len(remedy.steps)))
        lines = said(*self._dangers_of(nodes), *_facts(self._draft, remedy))
        work = tuple(self._work(name, number, each) for number, each in enumerate(remedy.steps))
        after = WholeStep(title="Afterwards", said=said(*_afterwards(self._draft, remedy)))
        title = remedy_name(self._draft, name)
        place = spot(self._draft, remedy_path(name))
        return Whole(kind="remedy", name=name, title=title, said=lines, steps=(*work, after), spot=place)

    def _work(self, name: str, number: int, work: Action | WorkGate) -> WholeStep:
        if isinstance(work, WorkGate):
            title = f"Gate: {gate_name(self._draft, work.gate)}"
        else:
            title = f"{name_words(work.do)} [{PLACE_WORDS[work.where]}]"
        return WholeStep(
            title=f"{number + 1}. {title}",
            said=work_said(self._draft, self._dangers, work),
            spot=spot(self._draft, remedy_path(name), ("steps", number)),
        )

    def _dangers_of(self, nodes: Iterable[Node]) -> Iterator[tuple[str, str]]:
        """Say where somebody goes up and what dangerous thing is done, each with its gate, and the stated hazards."""
        steps = ((node, step_at(self._draft, node)) for node in nodes)
        going: dict[Node, Looked | Action] = {node: step for node, step in steps if isinstance(step, Looked | Action)}
        climbs = [self._behind(going, each) for each in CLIMBS if any(step.where == each for step in going.values())]
        yield "goes up", "; ".join(climbs) or "nowhere"
        acts = [self._behind(going, each) for each in Act if any(each in step.acts for step in going.values())]
        yield "dangerous acts", "; ".join(acts)
        declared = dict.fromkeys(name for step in going.values() for name in step.hazards)
        yield "hazards declared", "; ".join(hazard_name(self._draft, each) for each in declared) or "none"

    def _behind(self, going: dict[Node, Looked | Action], what: Where | Act) -> str:
        """Name the gates behind which a place or act lies, on every way to each step that needs it."""
        needing = [node for node, step in going.items() if what == step.where or what in step.acts]
        opens = {name for name, gate in self._draft.gates.items() if what in gate.opens}
        opening = [opens & self._gates.get(node, frozenset()) for node in needing]
        names = sorted(set().union(*opening))
        titles = " or ".join(f"“{gate_name(self._draft, each)}”" for each in names)
        bare = sum(not each for each in opening)
        some = f"; {bare} of its steps there behind no gate" if bare and names else ""
        words = PLACE_WORDS[what] if isinstance(what, Where) else ACT_WORDS[what]
        return f"{words}, behind {titles or 'NO GATE'}{some}"


def _kind(step: StepBase) -> str:
    kinds = {"GateStep": "Gate: ", "RemedyStep": "Remedy: ", "GoTo": "Go on in: "}
    return kinds.get(type(step).__name__, "")


def _in_order(draft: Draft, name: str) -> tuple[Node, ...]:
    """Give the steps in the order of the walk; as they stand in the file where a circle leaves no order."""
    tree = draft.trees[name]
    try:
        return tuple(in_walk_order(tree_graph(name, tree)))
    except nx.NetworkXUnfeasible:
        return tuple(Node(name, step) for step in tree.steps)


def _facts(draft: Draft, remedy: Remedy) -> Iterator[tuple[str, str | None]]:
    months = f"{remedy.stands_months} months" if remedy.stands_months else "no stated time"
    follows = " or ".join(f"“{remedy_name(draft, each)}”" for each in remedy.followed_by) or "nothing stated"
    stopgap = f"stopgap: for at most {months}; {follows} must follow"
    yield "cures", remedy.cures
    yield "who", remedy.who
    yield "urgent", "somebody may be in danger: it stands before everything else" if remedy.urgent else None
    yield "lasts", "for good" if remedy.lasts == "lasting" else stopgap
    yield "coverings", "; ".join(draft.vocabulary.covering.get(each, each) for each in remedy.suits.covering)
    yield "lights", "; ".join(draft.vocabulary.light.get(each, each) for each in remedy.suits.light)
    yield "glass", GLASS_WORDS[remedy.glass]
    yield "cautions", "; ".join(caution_name(draft, each) for each in remedy.cautions)
    yield "tools", "; ".join(remedy.tools)
    for each in remedy.materials:
        yield "material", f"{each.item}: {each.quantity}"


def _afterwards(draft: Draft, remedy: Remedy) -> Iterator[tuple[str, str | None]]:
    yield "the water leaves", remedy.water_leaves
    if remedy.cleaning:
        yield "cleaning", f"{remedy.cleaning.access} Every {remedy.cleaning.every_months} months."
    yield "proof", remedy.prove
    yield "if the proof fails", f"on in “{tree_name(draft, remedy.after_failed_proof)}”"
    yield "look again", remedy.look_again
    yield "record", remedy.record
