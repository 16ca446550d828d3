"""The proof of each remedy can show the fault that it cures: it waits for the weather that brings that fault.

A leak that comes with one wind, with a thaw or in frost stays away through any three rains, mended or not. So a proof
that counts rains says which rain, and a remedy for wind, snow or cold is proved in wind, snow or cold. Both are common
practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import pytest
from guides import the_checked

from build_tools.model import Remedy

DRAFT = the_checked().draft
ANY_WEATHER = "weather that used to wet it"
COUNTED = r"\brains\b|\bspells of rain\b|\bnext rain\b"
POURED = r"\bcan of water\b|\bhose\b"
NAMED = (
    rf"{ANY_WEATHER}|one of them (with|from|driven|as heavy|a downpour)|some of them driven|that used to wet|same"
    r"|next rain from"
)
"""A proof that counts rains names the wind, the weight or the weather of one of them."""


class Brought(NamedTuple):
    """What brings a fault: how a cure speaks of it, how a proof waits for it, and the trees whose sign it is."""

    cures: str
    proof: str
    trees: tuple[str, ...]


BROUGHT: Mapping[str, Brought] = {
    "wind": Brought(
        r"driven rain|\bwind\b|blown", r"driven|\bwind\b|\bgale\b|wet (quarter|side)", ("wet-only-in-driven-rain",)
    ),
    "snow": Brought(r"\bsnow\b", r"\bsnow\b|\bthaw\b", ("wet-after-snow-ice-or-leaves",)),
    "cold": Brought(
        r"\b(drops|mist|mould|dew)\b|moist air",
        r"\bfrost|\bcold\b|\bwinter\b|\bmisty mornings\b",
        ("moisture-made-indoors", "mould-at-the-reveal", "wet-in-cold-weather"),
    ),
}


def _cured(remedy: Remedy) -> str:
    """Give what the remedy cures, without the sentences that say what it does not."""
    sentences = re.split(r"(?<=[.:]) ", " ".join(remedy.cures.split()))
    return " ".join(each for each in sentences if not re.search(r"\bnot\b|\bno\b|\bnothing\b", each, re.IGNORECASE))


def unproved(name: str, remedy: Remedy) -> Iterator[str]:
    """Find what the proof of this remedy cannot show."""
    proof = " ".join(remedy.prove.split())
    if re.search(POURED, proof) and not re.search(COUNTED, proof):
        yield "pours water, and waits for no rain"
    if re.search(COUNTED, proof) and not re.search(NAMED, proof):
        yield "counts rains, and does not say which"
    for what, brought in BROUGHT.items():
        if ANY_WEATHER in proof or re.search(brought.proof, proof):
            continue
        if re.search(brought.cures, _cured(remedy), re.IGNORECASE):
            yield f"cures what {what} brings, and is proved without it"
        for tree in brought.trees:
            ends = {getattr(step, "remedy", None) for step in DRAFT.trees[tree].steps.values()}
            if name in ends:
                yield f"ends {tree}, and is proved without {what}"


@pytest.mark.parametrize("name", DRAFT.remedies)
def test_proof_can_show_the_fault(name: str) -> None:
    assert list(unproved(name, DRAFT.remedies[name])) == []


@pytest.mark.parametrize(
    ("name", "proof", "found"),
    [
        ("clear-what-lies-behind-the-light", "Dry through the next three rains.", "does not say which"),
        ("clear-what-lies-behind-the-light", "Dry in three rains, one of them with wind.", "snow brings"),
        ("keep-ice-from-damming-at-the-eaves", "Dry in the next rain.", "snow brings"),
        ("clear-the-eaves-gutter", "In the next heavy rain nothing runs over.", "without snow"),
        ("relay-the-slope-for-its-pitch", "It stays dry through a winter.", "wind brings"),
        ("seal-the-vapour-control-at-the-lining", "Dry in the next rain from the west.", "cold brings"),
        ("insulate-the-tube", "Dry in three rains, one of them with wind.", "cold brings"),
        ("send-for-a-new-glass-unit", "Clear on cold mornings. In the next rain the joint stays dry.", "say which"),
        ("mend-the-underlay", "Pour a can of water on the sheet. It runs on, and nothing drips.", "waits for no rain"),
        ("carry-the-underlay-into-the-gutter", "Pour a can of water on the underlay.", "waits for no rain"),
    ],
)
def test_a_proof_that_cannot_prove_is_missed(name: str, proof: str, found: str) -> None:
    told = list(unproved(name, DRAFT.remedies[name].model_copy(update={"prove": proof})))
    assert any(found in each for each in told), told
