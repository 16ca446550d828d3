"""Rules of taking off: a run that there is, values that the formula takes, and no key without a use."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.formulas import Formula, validate_given
from build_tools.formulas.take_off.runs import IN_PIECES, RUNS, Run
from build_tools.model import TakeOff, key_of
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.proof.take_off import TAKE_OFF, settled
from build_tools.sources.library import Draft, remedy_path

BY_ID = {each.id: each for each in RUNS}
NUMBERS = ("past_mm", "longest_mm", "waste_percent", "sold_m")


def take_offs(draft: Draft) -> Iterator[Finding]:
    """Find what is wrong in the `take-off:` of any material."""
    for name, remedy in draft.remedies.items():
        for number, material in enumerate(remedy.materials):
            if material.take_off is not None:
                yield from _take_off(
                    remedy_path(name),
                    ("materials", number, "take-off"),
                    material.take_off,
                    draft.formulas.get(TAKE_OFF),
                )


def _take_off(path: str, keys: KeyPath, take_off: TakeOff, formula: Formula | None) -> Iterator[Finding]:
    run = BY_ID.get(take_off.run)
    if run is None:
        mend = did_you_mean(take_off.run, BY_ID, f"The runs are {', '.join(BY_ID)}.")
        yield Finding("unknown-run", path, (*keys, "run"), f'"{take_off.run}" is not a run', mend)
        return
    refused = validate_given(formula, settled(take_off)) if formula else {}
    for name, sentence in refused.items():
        what, _, mend = sentence.partition(". ")
        yield Finding("unknown-input", path, (*keys, key_of(name)), what.rstrip("."), mend or "Correct the value.")
    for name in () if refused else _idle(run, take_off):
        what = f'"{key_of(name)}" changes nothing along "{run.id}"'
        yield Finding("unknown-input", path, (*keys, key_of(name)), what, "Take it out.")
    given = [name for name in NUMBERS if getattr(take_off, name) is not None]
    if given and not take_off.sources:
        what = f'"{key_of(given[0])}" stands here without a source'
        mend = "Add `sources:`; a number of the trade takes common-practice, our own choice project-choice."
        yield Finding("unsourced-number", path, (*keys, key_of(given[0])), what, mend)


def _idle(run: Run, take_off: TakeOff) -> Iterator[str]:
    """Name the keys that are given and that this run has no use for."""
    uses = {"edges": ("joint", "past_mm", "longest_mm", "sold_m"), "slope": ("sold_m",)}.get(run.gives, ())
    for name in ("joint", "past_mm", "longest_mm", "sold_m"):
        lapless = name == "longest_mm" and take_off.joint not in IN_PIECES
        if getattr(take_off, name) is not None and (name not in uses or lapless):
            yield name
    if "sold_as" in take_off.model_fields_set and take_off.sold_m is None:
        yield "sold_as"
