"""Rules of hazards read by hand: what was read in the work, and what its words bring, is declared there.

`safety` proves that cautions answer what is declared. Here what is declared is held to `hazards-read`, which says for
each remedy what its work brings and by which words, and to `hazard-words`, which says what a word brings anywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from build_tools.model import Action, HazardWord, Remedy, WorkGate
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.proof.graph import hazards_of
from build_tools.sources.library import Draft, proof_path, remedy_path

READ = "hazards-read"
WORDS = "hazard-words"
IN_READ = f"in {proof_path(READ)}"
Reading = Mapping[str, tuple[str, ...]]
"""Hazard to the words that bring it."""


def hazards_read(draft: Draft) -> Iterator[Finding]:
    """Find where remedies and the readings of them differ."""
    if READ in draft.proofs:
        readings: Mapping[str, Reading] = draft.proofs[READ]
        for name, remedy in draft.remedies.items():
            if name in readings:
                yield from _differing(draft, name, remedy, readings[name])
            else:
                mend = f"Read what each step brings, and write it {IN_READ}: hazard, and the words that bring it."
                yield Finding("hazard-unread", remedy_path(name), ("steps",), "nobody read what this work brings", mend)
        for name in readings:
            if name not in draft.named["remedies"]:
                mend = did_you_mean(name, draft.remedies, "Correct the name, or take the reading out.")
                yield Finding("reading-astray", proof_path(READ), (name,), f'"{name}" is not a remedy', mend)
    if WORDS in draft.proofs:
        for word, rule in draft.proofs[WORDS].items():
            yield from _undeclared(draft, word, rule)


def _no_hazard(draft: Draft, proof: str, keys: KeyPath, hazard: str) -> Finding:
    mend = partial(did_you_mean, hazard, draft.hazards, "Correct the name.")
    return Finding("reading-astray", proof_path(proof), keys, f'"{hazard}" is not a hazard', mend)


def _text(step: Action | WorkGate) -> str:
    """Give what a step of the work says, in one line."""
    return " ".join(f"{step.do} {step.right or ''}".split()) if isinstance(step, Action) else ""


def _differing(draft: Draft, name: str, remedy: Remedy, reading: Reading) -> Iterator[Finding]:
    path, texts = remedy_path(name), [_text(each) for each in remedy.steps]
    brought = [hazards_of(draft, step) for step in remedy.steps]
    for hazard in sorted(reading.keys() - draft.hazards.keys()):
        yield _no_hazard(draft, READ, (name, hazard), hazard)
    read = ((hazard, *each) for hazard in draft.hazards for each in enumerate(reading.get(hazard, ())))
    for hazard, number, quote in read:
        at = [index for index, text in enumerate(texts) if quote in text]
        if len(at) != 1:
            what = f'{len(at) or "no"} steps of "{name}" say "{quote}"'
            mend = "Read the step again, and quote words that stand in it alone."
            yield Finding("reading-astray", proof_path(READ), (name, hazard, number), what, mend)
        elif hazard not in brought[at[0]]:
            what = f'"{quote}" was read as bringing "{hazard}", which this step does not declare'
            mend = f"Add it to its `hazards:`; where the step no longer brings it, correct the reading {IN_READ}."
            yield Finding("hazard-undeclared", path, ("steps", at[0]), what, mend)
    yield from _unread(draft, path, remedy, reading, brought)


def _unread(
    draft: Draft, path: str, remedy: Remedy, reading: Reading, brought: list[tuple[str, ...]]
) -> Iterator[Finding]:
    told: set[str] = set()
    for number, hazards in enumerate(brought):
        for hazard in hazards:
            if hazard not in reading and hazard not in told:
                told.add(hazard)
                what = f'this step brings "{hazard}", which nobody read in any step'
                mend = f"Write the words that bring it {IN_READ}, or take the hazard off."
                yield Finding("hazard-unread", path, ("steps", number), what, mend)
    for number, caution in enumerate(remedy.cautions):
        if reading.keys().isdisjoint(draft.cautions[caution].answers):
            what = f'"{caution}" answers nothing that was read in this work'
            mend = f"Take it out, or write the words that bring its hazard {IN_READ}."
            yield Finding("hazard-unread", path, ("cautions", number), what, mend)


def _undeclared(draft: Draft, word: str, rule: HazardWord) -> Iterator[Finding]:
    """Find the steps whose words bring hazards by the rule, and which do not declare what it asks for."""
    for hazard in (*rule.brings, *rule.brings_one_of):
        if hazard not in draft.hazards:
            yield _no_hazard(draft, WORDS, (word,), hazard)
    idle = {(name, quote) for name, quotes in rule.but_not.items() for quote in quotes}
    for name, remedy in draft.remedies.items():
        for number, step in enumerate(remedy.steps):
            found = rule.says.search(" ".join(step.do.split())) if isinstance(step, Action) else None
            if not found or _declares(frozenset(hazards_of(draft, step)), rule):
                continue
            excepted = {(name, quote) for quote in rule.but_not.get(name, ()) if quote in _text(step)}
            idle -= excepted
            if not excepted:
                wanted = " and ".join(rule.brings) or " or ".join(rule.brings_one_of)
                what = f'"{found[0]}" brings {wanted}, which this step does not declare'
                mend = f"Add it to its `hazards:`, or say under `but-not:` in {proof_path(WORDS)} why it brings none."
                yield Finding("hazard-undeclared", remedy_path(name), ("steps", number, "do"), what, mend)
    for name, quote in sorted(idle):
        what = f'no step of "{name}" needs the exception "{quote}"'
        yield Finding("reading-astray", proof_path(WORDS), (word, "but-not", name, quote), what, "Take it out.")


def _declares(declared: frozenset[str], rule: HazardWord) -> bool:
    one_of = rule.brings_one_of
    return declared.issuperset(rule.brings) and (not one_of or not declared.isdisjoint(one_of))
