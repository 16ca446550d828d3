"""Rules of reference: every id names something that exists, every exit that must be there is there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import partial
from typing import Any

from pydantic import BaseModel

from build_tools.formulas import validate_given
from build_tools.model import (
    ANSWERS,
    DATA_TABLES,
    Gate,
    GateStep,
    GoTo,
    Measure,
    Question,
    RemedyStep,
    Tree,
    every_value,
    key_of,
)
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.sources.data_tables import NOT_THERE
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path
from build_tools.sources.term_links import TERM_LINK, half_link

KINDS_OF_FACT = ("covering", "light")
ADD_STEP = "Correct the name, or add the step."


def _unknown(code: str, path: str, keys: KeyPath, kind: str, name: str, known: Iterable[str], mend: str) -> Finding:
    article = "an" if kind[0] in "aeiou" else "a"
    return Finding(code, path, keys, f'"{name}" is not {article} {kind}', partial(did_you_mean, name, known, mend))


def _or_add(place: str) -> str:
    return f"Correct the name, or add it to {place}."


def _or_write(path: str) -> str:
    return f"Correct the name, or write {path}."


def references(draft: Draft) -> Iterator[Finding]:
    """Find every id that names nothing, in all records."""
    for tree_id, tree in draft.trees.items():
        yield from _tree(draft, tree_id, tree)
    for path, record in _records(draft):
        for keys, value in every_value(record):
            if isinstance(value, BaseModel):
                for name in type(value).model_fields:
                    if (key := key_of(name)) in NAMING:
                        yield from _named(draft, path, (*keys, key), key, getattr(value, name))
            elif isinstance(value, str) and ("[[" in value or "]]" in value):
                yield from _terms(draft, path, keys, value)
    yield from _vocabulary(draft)
    yield from _data_tables(draft)
    yield from _formulas(draft)


def _vocabulary(draft: Draft) -> Iterator[Finding]:
    """Hold what lights are set in and lie on, and the roofs of gates, against the words themselves."""
    path, vocabulary = table_path("vocabulary"), draft.vocabulary
    lying = {**vocabulary.covering, **vocabulary.light}
    for name, roofs in vocabulary.lies_on.items():
        if name not in lying:
            mend = _or_add("`covering:` or `light:`")
            yield _unknown("unknown-fact", path, ("lies-on", name), "covering or light", name, lying, mend)
        yield from _roofs(draft, path, ("lies-on", name), roofs)
    for name, gate in draft.written_gates.items():
        if isinstance(gate, Gate):
            yield from _roofs(draft, table_path("gates"), (name, "roofs"), gate.roofs)
            for number, condition in enumerate(gate.all_of):
                yield from _roofs(draft, table_path("gates"), (name, "all-of", number, "on"), condition.on)
    for light, coverings in vocabulary.found_on.items():
        at: KeyPath = ("found-on", light)
        if light not in vocabulary.light:
            yield _unknown("unknown-fact", path, at, "light", light, vocabulary.light, _or_add("`light:`"))
        for number, name in enumerate(coverings):
            if name not in vocabulary.covering:
                known = vocabulary.covering
                yield _unknown("unknown-fact", path, (*at, number), "covering", name, known, _or_add("`covering:`"))


def _roofs(draft: Draft, path: str, keys: KeyPath, roofs: Iterable[str]) -> Iterator[Finding]:
    for number, name in enumerate(roofs):
        if name not in draft.vocabulary.roof:
            known, mend = draft.vocabulary.roof, _or_add(f"`roof:` in {table_path('vocabulary')}")
            yield _unknown("unknown-fact", path, (*keys, number), "roof", name, known, mend)


def _data_tables(draft: Draft) -> Iterator[Finding]:
    """Formulas calculate with every data table, and begin with rows of some; what cannot be read was told already."""
    for name in DATA_TABLES:
        if not draft.data.get(name) and name not in draft.unread:
            yield Finding("missing-file", table_path(name), (), *NOT_THERE)
    for formula in draft.formulas.values():
        for spec in formula.inputs:
            picks = {each.value for each in spec.choices}
            begins = {each for each in (spec.default, formula.example.get(spec.name)) if isinstance(each, str)}
            for value in sorted(begins - picks) if picks else ():
                name = next(name for name, rows in formula.tables.items() if picks.issuperset(rows))
                what = f'the formula "{formula.id}" begins with "{value}", which is no row of this table'
                yield Finding("missing-key", table_path(name), (), what, "Keep a row of that name.")


def _formulas(draft: Draft) -> Iterator[Finding]:
    """The page of a formula names its sources, so the table must hold them; those of rows are told at the rows."""
    path = table_path("sources")
    for name, formula in draft.formulas.items() if path in draft.files else ():
        for source in formula.sources:
            if source not in draft.sources:
                what = f'the formula "{name}" rests on the source "{source}", which is not in this table'
                yield Finding("unknown-source", path, (), what, "Add it at the end of the table.")


def _records(draft: Draft) -> Iterator[tuple[str, Any]]:
    yield from ((tree_path(name), tree) for name, tree in draft.trees.items())
    yield from ((remedy_path(name), remedy) for name, remedy in draft.remedies.items())
    yield table_path("gates"), draft.written_gates
    for name in ("cautions", "hazards", "sources", "terms"):
        yield table_path(name), getattr(draft, name)
    yield from ((table_path(name), table) for name, table in draft.data.items())
    if table_path("settings") in draft.files:
        yield table_path("settings"), draft.settings


KIND_OF_KEY: Mapping[str, str] = {
    "cautions": "caution",
    "gate": "gate",
    "joins": "gate",
    "hazards": "hazard",
    "answers": "hazard",
    "sources": "source",
    "source": "source",
    "remedy": "remedy",
    "followed-by": "remedy",
    "make-safe": "remedy",
    "formula": "formula",
    "measure": "formula",
    "drawing": "drawing",
    "first-tree": "tree",
}
"""The keys that hold ids, and of what kind these are."""
NAMING = frozenset((*KIND_OF_KEY, "after-failed-proof", "suits"))
"""All keys that name something."""


def _known(draft: Draft, kind: str, name: str) -> tuple[Iterable[str], str]:
    """Give what exists of a kind, and how to mend a name that does not."""
    if kind == "remedy":
        return draft.named["remedies"], _or_write(remedy_path(name))
    if kind == "tree":
        return draft.named["trees"], _or_write(tree_path(name))
    if kind == "formula":
        # No formula is known while a data table cannot be used, so none is unknown.
        return draft.formulas or (name,), "`python -m build_tools calc` lists the formulas."
    if kind == "drawing":
        return draft.drawings, _or_write(f"guide/drawings/{name}.svg")
    table: Iterable[str] = getattr(draft, f"{kind}s")
    return table, _or_add(table_path(f"{kind}s"))


def _named(draft: Draft, path: str, keys: KeyPath, key: str, value: Any) -> Iterator[Finding]:
    """Look at one field of a record, whose key says what its ids must name."""
    if key == "after-failed-proof":
        yield from _target(draft, path, keys, value)
    elif key == "suits":
        yield from _facts(draft, path, keys, {"covering": value.covering, "light": value.light}, ("any",))
    elif key in KIND_OF_KEY and value is not None:
        several = isinstance(value, tuple)
        for number, name in enumerate(value if several else (value,)):
            yield from _id(draft, path, (*keys, number) if several else keys, KIND_OF_KEY[key], name)


def _id(draft: Draft, path: str, keys: KeyPath, kind: str, name: str) -> Iterator[Finding]:
    known, mend = _known(draft, kind, name)
    if name not in known:
        yield _unknown(f"unknown-{kind}", path, keys, kind, name, known, mend)


def _terms(draft: Draft, path: str, keys: KeyPath, text: str) -> Iterator[Finding]:
    for name, _ in TERM_LINK.findall(text):
        yield from _id(draft, path, keys, "term", name)
    if broken := half_link(text):
        what = f'"{broken}" is not a whole link to a term'
        yield Finding("unknown-term", path, keys, what, "Write [[term]], or [[term|other words]].")


def _target(draft: Draft, path: str, keys: KeyPath, target: str) -> Iterator[Finding]:
    tree_id, _, step = target.partition("/")
    yield from _id(draft, path, keys, "tree", tree_id)
    if step and tree_id in draft.trees and step not in draft.trees[tree_id].steps:
        known = draft.trees[tree_id].steps
        yield _unknown("unknown-step", path, keys, f'step of "{tree_id}"', step, known, ADD_STEP)


def _facts(
    draft: Draft, path: str, keys: KeyPath, facts: Mapping[str, Any], more: tuple[str, ...] = ()
) -> Iterator[Finding]:
    for kind, values in facts.items():
        if kind not in KINDS_OF_FACT:
            mend = f"The kinds of fact are {' and '.join(KINDS_OF_FACT)}."
            yield _unknown("unknown-fact", path, (*keys, kind), "kind of fact", kind, KINDS_OF_FACT, mend)
            continue
        known = (*getattr(draft.vocabulary, kind), *more)
        several = not isinstance(values, str)
        for number, name in enumerate(values if several else (values,)):
            if name not in known:
                at = (*keys, kind, number) if several else (*keys, kind)
                yield _unknown("unknown-fact", path, at, kind, name, known, _or_add(table_path("vocabulary")))


def _tree(draft: Draft, tree_id: str, tree: Tree) -> Iterator[Finding]:
    path = tree_path(tree_id)
    if tree.starts_at not in tree.steps:
        kind = "step of this tree"
        yield _unknown("unknown-step", path, ("starts-at",), kind, tree.starts_at, tree.steps, ADD_STEP)
    yield from _facts(draft, path, ("assumes",), tree.assumes)
    for name, step in tree.steps.items():
        keys: KeyPath = ("steps", name)
        if isinstance(step, GoTo):
            yield from _target(draft, path, (*keys, "go-to"), step.go_to)
        if isinstance(step, Question):
            for answer, facts in step.establishes.items():
                yield from _facts(draft, path, (*keys, "establishes", answer), facts)
        if isinstance(step, Measure):
            yield from _given(draft, path, keys, step)
        if isinstance(step, RemedyStep) and step.then and step.then not in tree.steps:
            yield _unknown("unknown-step", path, (*keys, "then"), "step of this tree", step.then, tree.steps, ADD_STEP)
        if not isinstance(step, GoTo | RemedyStep):
            yield from _exits(draft, path, keys, step, tree)


def _given(draft: Draft, path: str, keys: KeyPath, step: Measure) -> Iterator[Finding]:
    formula = draft.formulas.get(step.measure)
    if formula is None:
        return
    if not formula.verdicts:
        what = f'"{step.measure}" gives numbers and no verdict, so no step can be decided by it'
        mend = "Measure by a formula with verdicts; `python -m build_tools calc NAME` shows them."
        yield Finding("unknown-formula", path, (*keys, "measure"), what, mend)
    names = [each.name for each in formula.inputs]
    for name in step.given:
        if name not in names:
            at, mend = (*keys, "given", name), f"Its inputs are {', '.join(names)}."
            yield _unknown("unknown-input", path, at, f'input of "{step.measure}"', name, names, mend)
    for name, sentence in validate_given(formula, step.given).items():
        if name in names:
            what, _, mend = sentence.partition(". ")
            yield Finding("unknown-input", path, (*keys, "given", name), what, mend or "Correct the value.")


def _exits_needed(draft: Draft, step: Question | Measure | GateStep) -> tuple[str, ...]:
    """Give the exits a step must have; those of an unknown formula cannot be known, so what stands there counts."""
    if isinstance(step, Measure):
        formula = draft.formulas.get(step.measure)
        return (*formula.verdicts, "unsure") if formula else tuple(step.exits)
    return ANSWERS


def _exits(
    draft: Draft, path: str, keys: KeyPath, step: Question | Measure | GateStep, tree: Tree
) -> Iterator[Finding]:
    needed = _exits_needed(draft, step)
    for name in needed:
        if name not in step.exits:
            what = f'the verdict "{name}" is missing'
            yield Finding("missing-exit", path, (*keys, "exits"), what, f"Add `{name}: {{then: …}}` with the step.")
    for name, target in step.exits.items():
        if name not in needed:
            what = f'"{name}" is not a verdict of "{getattr(step, "measure", "")}"'
            near = partial(did_you_mean, name, needed, f"Its verdicts are {', '.join(needed)}.")
            yield Finding("unknown-exit", path, (*keys, "exits", name), what, near)
        if target not in tree.steps:
            mend = partial(did_you_mean, target, tree.steps, _or_step_for(draft, target))
            what = f'answer "{name}" leads to "{target}", which is not a step in this tree'
            yield Finding("unknown-step", path, (*keys, "exits", name), what, mend)


def _or_step_for(draft: Draft, target: str) -> str:
    """Say how to lead to a remedy or another tree, where an exit names one instead of a step."""
    for key, kind, known in (("remedy", "a remedy", "remedies"), ("go-to", "another tree", "trees")):
        if target in draft.named[known]:
            return f"It is {kind}: add a step with `{key}: {target}`, and lead to that step."
    return ADD_STEP
