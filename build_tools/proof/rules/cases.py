"""Rules of stated cases: each is asked what it answers, calculates and ends as it states, in work that says enough."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.formulas import reckon, validate
from build_tools.model import Action, Case, Measure, Remedy, key_of
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.proof.case_walks import walked
from build_tools.proof.draft_walks import draft_walks
from build_tools.proof.walk import Stop
from build_tools.sources.library import Draft, case_path

MEND = "Mend the tree where it leads wrong; where it is right, correct the case."


def cases(draft: Draft) -> Iterator[Finding]:
    """Find the stated cases that do not come true."""
    walks = draft_walks(draft) if draft.cases else {}
    for name, case in draft.cases.items():
        course, stray = walked(walks, case)
        if stray:
            yield Finding("case-elsewhere", case_path(name), stray.keys, stray.what.rstrip("."), MEND)
        for step, typed in case.reckoned.items():
            stop = next((each for each in course if each.step == step), None)
            for keys, what, mend in _figures(draft, stop, typed) if stop or not stray else ():
                yield Finding("case-figures", case_path(name), ("reckoned", step, *keys), what, mend)
        if not stray:
            for keys, what in _unsaid(draft.remedies[case.ends_in], case):
                mend = f'Say it in "{case.ends_in}", or correct the case.'
                yield Finding("case-unsaid", case_path(name), keys, what, mend)


def _figures(
    draft: Draft, stop: Stop | None, typed: Mapping[str, int | float | str]
) -> Iterator[tuple[KeyPath, str, str]]:
    """Calculate what a case types at a step, and hold the verdict to its answer there."""
    measure = draft.trees[stop.tree].steps[stop.step] if stop else None
    if stop is None or not isinstance(measure, Measure):
        yield (), "the walk comes to no step of this name that measures", "Correct the name, or take it out."
        return
    formula = draft.formulas[measure.measure]
    values, errors = validate(formula, {name: str(each) for name, each in {**typed, **measure.given}.items()})
    for name, sentence in errors.items():
        what, _, mend = sentence.partition(". ")
        yield (name,), what.rstrip("."), mend or "Correct the value."
    verdict = "" if errors else reckon(formula, values).verdict
    if not errors and verdict != stop.answer:
        what = f'"{measure.measure}" gives "{verdict}" for this, and the case answers "{stop.answer}"'
        yield (), what, "Correct the numbers or the answer; where both are right, look into the formula."


def _unsaid(remedy: Remedy, case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Find what the remedy's work does not say, or not in this order, and what its other keys do not say."""
    work = " ".join(f"{each.do} {each.right or ''}" for each in remedy.steps if isinstance(each, Action))
    reached = -1
    for number, words in enumerate(case.work_in_order):
        at = work.find(words)
        if at < 0:
            yield ("work-in-order", number), f'no step of the work says "{words}"'
        elif at < reached:
            yield ("work-in-order", number), f'the work says "{words}" before what stands above it here'
        reached = max(at, reached)
    fields = {key_of(name): name for name in type(remedy).model_fields}
    for key, words in case.must_say.items():
        if key not in fields:
            yield ("must-say", key), f'"{key}" is not a key of a remedy. {did_you_mean(key, fields, "")}'.strip()
        elif words not in str(getattr(remedy, fields[key])):
            yield ("must-say", key), f'"{key}" does not say "{words}"'
