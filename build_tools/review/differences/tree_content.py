"""Trees and their steps, field by field: questions reworded, steps and exits added, removed, led elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.formulas import Formula, reckon, validate
from build_tools.formulas.numbers import quantity
from build_tools.model import GateStep, GoTo, Measure, RemedyStep, StepBase, Tree, step_kind
from build_tools.review.differences.exchanges import exchanged
from build_tools.review.differences.fields import Difference, Rename, differences, shown
from build_tools.review.differences.findings import KEPT_BY_AUTHORS, At, Found, Thing, come_and_gone
from build_tools.review.versions.matching import Match, plain
from build_tools.sources.library import Draft, tree_path

RECKONED = frozenset(("measure", "given"))
"""Fields of a step that a formula works with; told together, with what comes out."""
GATE_GONE = "a gate of the walk is gone"


def tree_content(match: Match) -> Iterator[Found]:
    """Find what differs in trees, but for their paths and for cautions and gates."""
    before, after = match.before.trees, match.after.trees
    every = {name: _tree_thing(match, name) for name in before.keys() ^ after.keys()}
    titles = {n: plain(t.title) for n, t in before.items()}, {n: plain(t.title) for n, t in after.items()}
    yield from (("steps", row) for row in come_and_gone(every, *titles, {}))
    for name in before:
        if name in after and before[name] != after[name]:
            skip = frozenset(("steps",))
            yield from _tree_thing(match, name).fields(before[name], after[name], skip, _rename(match, name))
            yield from _runs(match, name, before[name], after[name])
            yield from _steps(match, name, before[name], after[name])


def _tree_thing(match: Match, name: str) -> Thing:
    return Thing(match, "steps", f'tree "{name}"', At(tree_path(name)), At(tree_path(name)), (name,))


def _rename(match: Match, tree_id: str) -> Rename:
    """Give the ids as they are in the second version, in the fields that name something by its id."""
    steps = match.steps[tree_id]

    def new_id(field: str, value: str) -> str:
        if field in ("exits", "starts_at"):
            return steps.get(value, value)
        if field == "go_to":
            home, sign, step = value.partition("/")
            return f"{home}{sign}{match.steps.get(home, {}).get(step, step)}"
        return {"remedy": match.remedies, "gate": match.gates}.get(field, {}).get(value, value)

    return new_id


def _runs(match: Match, tree_id: str, before: Tree, after: Tree) -> Iterator[Found]:
    """Find whether runs that may be asked in any order differ; only authors read them, so it is a matter of text."""
    names = match.steps[tree_id]
    now = shown("any_order", after.any_order)
    if shown("any_order", before.any_order, lambda _, value: names.get(value, value)) != now:
        what = Difference("any_order", ("any-order",), shown("any_order", before.any_order), now)
        yield "text", _tree_thing(match, tree_id).row(what)


def _steps(match: Match, tree_id: str, before: Tree, after: Tree) -> Iterator[Found]:
    names = match.steps[tree_id]
    moved = {name: _step_thing(match, tree_id, name, name) for name in before.steps.keys() ^ after.steps.keys()}
    titles = [
        {name: step_title(draft, step) for name, step in tree.steps.items() if name in moved}
        for draft, tree in ((match.before, before), (match.after, after))
    ]
    gates = {moved[name].subject for name, step in before.steps.items() if name in moved and isinstance(step, GateStep)}
    for row in come_and_gone(moved, titles[0], titles[1], names):
        is_lost = row.change == "removed" and row.subject in gates and row.same_as is None
        yield "steps", row.model_copy(update={"grave": GATE_GONE}) if is_lost else row
    rename = _rename(match, tree_id)
    for old, new in {**{name: name for name in before.steps if name in after.steps}, **names}.items():
        if before.steps[old] != after.steps[new]:
            thing = _step_thing(match, tree_id, old, new)
            yield from _one_step(thing, before.steps[old], after.steps[new], rename)


def _step_thing(match: Match, tree_id: str, old: str, new: str) -> Thing:
    name = old if old == new else " = ".join(sorted((old, new)))
    path = tree_path(tree_id)
    return Thing(
        match, "steps", f"step {tree_id}/{name}", At(path, ("steps", old)), At(path, ("steps", new)), (tree_id,)
    )


def step_title(draft: Draft, step: StepBase) -> str:
    """Say what a step is, in the words a reader knows it by."""
    if isinstance(step, GateStep):
        return f"Gate: {draft.gates[step.gate].title if step.gate in draft.gates else step.gate}"
    if isinstance(step, RemedyStep):
        return f"Remedy: {draft.remedies[step.remedy].title if step.remedy in draft.remedies else step.remedy}"
    if isinstance(step, GoTo):
        return f"Go to: {step.go_to}"
    return plain(str(shown("question", getattr(step, "question", ""))))


def _one_step(thing: Thing, before: StepBase, after: StepBase, rename: Rename) -> Iterator[Found]:
    kinds = step_kind(before), step_kind(after)
    if kinds[0] != kinds[1]:
        yield "steps", thing.row(Difference("kind", ("kind",), *kinds))
    reasons = exchanged(before, after, rename)
    for what in differences(before, after, RECKONED | KEPT_BY_AUTHORS, rename):
        row = thing.row(what).model_copy(update={"grave": reasons.get(what.keys, "")})
        yield thing.section_of(what), row
    if shown("", getattr(before, "given", None)) != shown("", getattr(after, "given", None)) or getattr(
        before, "measure", None
    ) != getattr(after, "measure", None):
        said = (_reckoned(each, thing.match.formulas) for each in (before, after))
        yield "values", thing.row(Difference("given", ("given",), *said))


def _reckoned(step: StepBase, formulas: Mapping[str, Formula]) -> str | None:
    """Say what a measure is given, and what its formula makes of that with the other values of its example."""
    if not isinstance(step, Measure):
        return None
    given = ", ".join(f"{name} {shown('', value)}" for name, value in sorted(step.given.items())) or "nothing given"
    formula = formulas.get(step.measure)
    if formula is None:
        return f"{step.measure}, {given}"
    taken = validate(formula, {**formula.example, **step.given})
    if taken.errors:
        return f"{step.measure}, {given}; the formula cannot use that"
    result = reckon(formula, taken.values)
    numbers = {entry: result.outputs[entry.name] for entry in formula.outputs}
    said = [f"{each.label} {'none' if n is None else quantity(n, each.unit.symbol)}" for each, n in numbers.items()]
    return f"{step.measure}, {given}; with the formula's example: {', '.join((*said, str(result.verdict)))}"
