"""Where things stand in a version's files, and which trees' walks meet them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from build_tools.model import Action, GateStep, Looked, Measure, Question, Remedy, RemedyStep, StepBase, WorkGate
from build_tools.model.problems import KeyPath
from build_tools.proof.graph import cautions_for, hazards_of
from build_tools.review.record.changes import Spot
from build_tools.sources.library import Draft, remedy_path, tree_path

Used = tuple[str, str]
"""A thing by its kind and id: ("gate", "roof-access")."""
Users = Mapping[Used, frozenset[str]]
"""The trees that lead to a thing."""


def spot(draft: Draft, path: str, keys: KeyPath = ()) -> Spot | None:
    """Give the line of a value, or of the nearest value around it; nothing where the file was not read."""
    file = draft.files.get(path)
    return Spot(path=path, line=file.place(keys).line) if file else None


def home_spot(draft: Draft, home: str, keys: KeyPath = ()) -> Spot | None:
    """Give the line of a value in the file of a tree or remedy, named as in the graph."""
    _, sign, remedy = home.partition("remedies/")
    return spot(draft, remedy_path(remedy) if sign else tree_path(home), keys)


class Dangers:
    """The hazards of steps and the cautions that answer them, by draft; steps that are alike are looked at once."""

    def __init__(self, draft: Draft) -> None:
        self._draft = draft
        self._known: dict[object, tuple[frozenset[str], frozenset[str]]] = {}

    def of(self, step: StepBase | Action | WorkGate) -> tuple[frozenset[str], frozenset[str]]:
        """Give the hazards of a step, and the cautions that answer any of them."""
        if not isinstance(step, Looked | Action):
            return frozenset(), frozenset()
        key = step.where, step.acts, step.hazards
        if key not in self._known:
            hazards = hazards_of(self._draft, step)
            self._known[key] = frozenset(hazards), frozenset(cautions_for(self._draft, hazards))
        return self._known[key]


def users(draft: Draft) -> Users:
    """Find which trees use each remedy, gate, caution, hazard, formula, covering and light; a tree uses itself."""
    dangers = Dangers(draft)
    led_to = {name: frozenset(_of_remedy(draft, dangers, each)) for name, each in draft.remedies.items()}
    found: dict[Used, set[str]] = defaultdict(set)
    for name, tree in draft.trees.items():
        found["tree", name].add(name)
        used = {
            *_facts(tree.assumes),
            *(each for step in tree.steps.values() for each in _of_step(draft, dangers, step)),
        }
        for each in used.union(*(led_to.get(remedy, ()) for kind, remedy in used if kind == "remedy")):
            found[each].add(name)
    return {used: frozenset(trees) for used, trees in found.items()}


def _of_step(draft: Draft, dangers: Dangers, step: StepBase | Action | WorkGate) -> Iterator[Used]:
    """Give the kind and id of all that one step meets."""
    if isinstance(step, GateStep | WorkGate):
        yield "gate", step.gate
        yield from (("caution", name) for name in (draft.gates[step.gate].cautions if step.gate in draft.gates else ()))
    elif isinstance(step, RemedyStep):
        yield "remedy", step.remedy
    elif isinstance(step, Looked | Action):
        hazards, cautions = dangers.of(step)
        yield from (("hazard", name) for name in hazards)
        yield from (("caution", name) for name in cautions)
    if isinstance(step, Measure):
        yield "formula", step.measure
    elif isinstance(step, Question):
        for facts in step.establishes.values():
            yield from _facts(facts)


def _of_remedy(draft: Draft, dangers: Dangers, remedy: Remedy) -> Iterator[Used]:
    yield from (each for work in remedy.steps for each in _of_step(draft, dangers, work))
    yield from (("caution", name) for name in remedy.cautions)
    yield from (("formula", each.formula) for each in remedy.materials if each.formula)
    yield from _facts({"covering": remedy.suits.covering, "light": remedy.suits.light})


def _facts(facts: Mapping[str, tuple[str, ...]]) -> Iterator[Used]:
    return ((kind, name) for kind, names in facts.items() for name in names)
