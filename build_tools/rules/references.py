"""Rules of reference: every id names something that exists, every exit that must be there is there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from build_tools.formulas import FORMULAS, validate_given
from build_tools.library import Draft, remedy_path, table_path, tree_path
from build_tools.model import (
    ANSWERS,
    GateStep,
    GoTo,
    Measure,
    Question,
    RemedyStep,
    Tree,
    every_value,
    key_of,
)
from build_tools.problems import Finding, KeyPath, did_you_mean

TERM_LINK = re.compile(r"\[\[([^\]|]*)(?:\|([^\]]*))?\]\]")
"""[[term-id]] or [[term-id|other words]] in prose."""


def _unknown(code: str, path: str, keys: KeyPath, kind: str, name: str, known: Iterable[str]) -> Finding:
    otherwise = f"Add it, or name a {kind} that exists."
    return Finding(code, path, keys, f'"{name}" is not a {kind}', did_you_mean(name, known, otherwise))


def references(draft: Draft) -> Iterator[Finding]:
    """Find every id that names nothing, in all records."""
    for tree_id, tree in draft.trees.items():
        yield from _tree(draft, tree_id, tree)
    for path, record in _records(draft):
        for keys, value in every_value(record):
            if isinstance(value, BaseModel):
                for name in type(value).model_fields:
                    yield from _named(draft, path, (*keys, key_of(name)), key_of(name), getattr(value, name))
            elif isinstance(value, str):
                yield from _terms(draft, path, keys, value)
    yield from _settings(draft)


def _records(draft: Draft) -> Iterator[tuple[str, Any]]:
    yield from ((tree_path(name), tree) for name, tree in draft.trees.items())
    yield from ((remedy_path(name), remedy) for name, remedy in draft.remedies.items())
    for name in ("cautions", "gates", "hazards", "sources", "terms"):
        yield table_path(name), getattr(draft, name)


def _known(draft: Draft) -> Mapping[str, tuple[str, str, Iterable[str]]]:
    """Give for each key that holds ids: the rule, the word for the kind, and what exists."""
    return {
        "cautions": ("unknown-caution", "caution", draft.cautions),
        "gate": ("unknown-gate", "gate", draft.gates),
        "hazards": ("unknown-hazard", "hazard", draft.hazards),
        "answers": ("unknown-hazard", "hazard", draft.hazards),
        "sources": ("unknown-source", "source", draft.sources),
        "remedy": ("unknown-remedy", "remedy", draft.named["remedies"]),
        "followed-by": ("unknown-remedy", "remedy", draft.named["remedies"]),
        "formula": ("unknown-formula", "formula", FORMULAS),
        "measure": ("unknown-formula", "formula", FORMULAS),
        "drawing": ("unknown-drawing", "drawing in guide/drawings", draft.drawings),
    }


def _named(draft: Draft, path: str, keys: KeyPath, key: str, value: Any) -> Iterator[Finding]:
    """Look at one field of a record, whose key says what its ids must name."""
    if key == "after-failed-proof":
        yield from _target(draft, path, keys, value)
    elif key == "suits":
        yield from _facts(draft, path, keys, {"covering": value.covering, "light": value.light}, ("any",))
    elif key in _known(draft) and value is not None:
        code, kind, known = _known(draft)[key]
        several = isinstance(value, tuple)
        for number, name in enumerate(value if several else (value,)):
            if name not in known:
                yield _unknown(code, path, (*keys, number) if several else keys, kind, name, known)


def _terms(draft: Draft, path: str, keys: KeyPath, text: str) -> Iterator[Finding]:
    for name, _ in TERM_LINK.findall(text):
        if name not in draft.terms:
            yield _unknown("unknown-term", path, keys, "term", name, draft.terms)


def _target(draft: Draft, path: str, keys: KeyPath, target: str) -> Iterator[Finding]:
    tree_id, _, step = target.partition("/")
    if tree_id not in draft.named["trees"]:
        yield _unknown("unknown-tree", path, keys, "tree", tree_id, draft.named["trees"])
    elif step and tree_id in draft.trees and step not in draft.trees[tree_id].steps:
        yield _unknown("unknown-step", path, keys, f'step of "{tree_id}"', step, draft.trees[tree_id].steps)


def _facts(
    draft: Draft, path: str, keys: KeyPath, facts: Mapping[str, Any], more: tuple[str, ...] = ()
) -> Iterator[Finding]:
    for kind, values in facts.items():
        if kind not in ("covering", "light"):
            yield _unknown("unknown-fact", path, (*keys, kind), "kind of fact", kind, ("covering", "light"))
            continue
        known = (*getattr(draft.vocabulary, kind), *more)
        for name in (values,) if isinstance(values, str) else values:
            if name not in known:
                yield _unknown("unknown-fact", path, (*keys, kind), kind, name, known)


def _tree(draft: Draft, tree_id: str, tree: Tree) -> Iterator[Finding]:
    path = tree_path(tree_id)
    if tree.starts_at not in tree.steps:
        yield _unknown("unknown-step", path, ("starts-at",), "step of this tree", tree.starts_at, tree.steps)
    yield from _facts(draft, path, ("assumes",), tree.assumes)
    for name, step in tree.steps.items():
        keys: KeyPath = ("steps", name)
        if step.part is not None and step.part not in tree.parts:
            yield _unknown("unknown-part", path, (*keys, "part"), "part of this tree", step.part, tree.parts)
        if isinstance(step, GoTo):
            yield from _target(draft, path, (*keys, "go-to"), step.go_to)
        if isinstance(step, Question):
            for answer, facts in step.establishes.items():
                yield from _facts(draft, path, (*keys, "establishes", answer), facts)
        if isinstance(step, Measure):
            yield from _given(path, keys, step)
        if not isinstance(step, GoTo | RemedyStep):
            yield from _exits(path, keys, step, tree)


def _given(path: str, keys: KeyPath, step: Measure) -> Iterator[Finding]:
    formula = FORMULAS.get(step.measure)
    if formula is None:
        return
    names = [each.name for each in formula.inputs]
    for name in step.given:
        if name not in names:
            yield _unknown("unknown-input", path, (*keys, "given", name), f'input of "{step.measure}"', name, names)
    for name, sentence in validate_given(formula, step.given).items():
        if name in names:
            yield Finding("unknown-input", path, (*keys, "given", name), sentence.rstrip("."), "Mend the value.")


def exits_needed(step: Question | Measure | GateStep) -> tuple[str, ...]:
    """Give the exits a step must have: the three answers, or a formula's verdicts and unsure."""
    if isinstance(step, Measure):
        formula = FORMULAS.get(step.measure)
        return (*(formula.verdicts if formula else step.exits), "unsure")
    return ANSWERS


def _exits(path: str, keys: KeyPath, step: Question | Measure | GateStep, tree: Tree) -> Iterator[Finding]:
    needed = exits_needed(step)
    if isinstance(step, Measure) and step.measure not in FORMULAS:
        needed = tuple(step.exits)
    for name in needed:
        if name not in step.exits:
            what = f'the exit "{name}" is missing'
            yield Finding("missing-exit", path, (*keys, "exits"), what, f'Add "{name}:" and the step it leads to.')
    for name, target in step.exits.items():
        if name not in needed:
            what = f'"{name}" is not an exit of this step'
            mend = did_you_mean(name, needed, f"Its exits are {', '.join(needed)}.")
            yield Finding("unknown-exit", path, (*keys, "exits", name), what, mend)
        if target not in tree.steps:
            near = did_you_mean(target, tree.steps, "Add the step or mend the name.")
            what = f'answer "{name}" leads to "{target}", which is not a step in this tree'
            yield Finding("unknown-step", path, (*keys, "exits", name), what, near)


def _settings(draft: Draft) -> Iterator[Finding]:
    path = table_path("settings")
    if path not in draft.files:
        return
    first, safe = draft.settings.first_tree, draft.settings.make_safe
    if first not in draft.named["trees"]:
        yield _unknown("unknown-tree", path, ("first-tree",), "tree", first, draft.named["trees"])
    if safe not in draft.named["remedies"]:
        yield _unknown("unknown-remedy", path, ("make-safe",), "remedy", safe, draft.named["remedies"])
