"""Rules of published numbers: each number with a unit is one that `published-numbers` gives, with its source named."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from build_tools.model import Gate, Looked, Published, every_value
from build_tools.model.problems import Finding, KeyPath, did_you_mean
from build_tools.proof.rules.sense import NUMBER_WITH_UNIT
from build_tools.sources.library import Draft, proof_path, remedy_path, table_path, tree_path

NUMBERS = "published-numbers"
DIGITS = re.compile(r"\d+(?:\.\d+)?")
Held = tuple[str, KeyPath, Any, tuple[str, ...]]
"""A record that states numbers: its file, its keys, itself and the sources that it names."""


def published_numbers(draft: Draft) -> Iterator[Finding]:
    """Find numbers without an anchor, anchors that nothing states, and those that are not what was published."""
    if NUMBERS not in draft.proofs:
        return
    anchors: tuple[Published, ...] = draft.proofs[NUMBERS].numbers
    stated: set[int] = set()
    for path, keys, record, sources in _records(draft):
        for inner, value in every_value(record, keys):
            if isinstance(value, str) and NUMBER_WITH_UNIT.search(text := " ".join(value.split())):
                said = [number for number, each in enumerate(anchors) if each.says in text]
                stated.update(said)
                for what, mend in _unanchored(text, [anchors[number] for number in said], sources):
                    yield Finding("number-unanchored", path, inner, what, mend)
    for number, anchor in enumerate(anchors):
        for key, what, mend in _astray(draft, anchor, number in stated):
            yield Finding("anchor-astray", proof_path(NUMBERS), ("numbers", number, key), what, mend)


def _records(draft: Draft) -> Iterator[Held]:
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            if isinstance(step, Looked):
                yield tree_path(tree_id), ("steps", name), step, step.sources
    yield from ((remedy_path(name), (), each, each.sources) for name, each in draft.remedies.items())
    for name, gate in draft.written_gates.items():
        for number, condition in enumerate(gate.all_of if isinstance(gate, Gate) else ()):
            yield table_path("gates"), (name, "all-of", number), condition, condition.sources
    yield from ((table_path("cautions"), (name,), each, each.sources) for name, each in draft.cautions.items())


def _unanchored(text: str, anchors: list[Published], sources: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    left = text
    for each in anchors:
        left = left.replace(each.says, "")
        # One that names no source at all is told of by the rule for that.
        if sources and each.source not in sources:
            what = f'"{each.says}" rests on "{each.source}", which is not among the sources here'
            yield what, "Name it under `sources:`."
    if found := NUMBER_WITH_UNIT.search(left):
        mend = f"Add it to {proof_path(NUMBERS)} with its source and what that says, or take it out."
        yield f'"{found[0]}" stands here, and no published number says so', mend


def _astray(draft: Draft, anchor: Published, stated: bool) -> Iterator[tuple[str, str, str]]:
    """Find what is wrong with an anchor itself, and at which of its keys."""
    if not stated:
        yield "says", "nothing states this any more", "Correct the words, or take it out."
    source = draft.sources.get(anchor.source)
    if source is None:
        yield "source", f'"{anchor.source}" is not a source', did_you_mean(anchor.source, draft.sources, "Name one.")
        return
    own = source.kind == "practice"
    honest = {
        "reported": source.seen in ("reported", "elsewhere") or (source.seen == "seen" and not own),
        "memory": source.seen == "memory" and not own,
        "physics": source.kind == "standard",
        "practice": anchor.source == "common-practice",
        "choice": own and source.seen == "seen",
    }
    if not honest[anchor.label]:
        fitting = " or ".join(name for name, fits in honest.items() if fits) or "none"
        yield "label", f'"{anchor.label}" is not the label of "{anchor.source}"', f"Its label is {fitting}."
    unheard = set(DIGITS.findall(anchor.says)) - set(DIGITS.findall(anchor.published)) - set(anchor.converted)
    if anchor.label not in ("physics", "choice") and unheard:
        what = f"{' and '.join(sorted(unheard))} stands here, and was not published"
        yield "published", what, "Correct the number, or say under `converted:` that it is one in another unit."
