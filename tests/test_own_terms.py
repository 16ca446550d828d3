"""Figures without a public source are told in the guide's own terms, and no page tells how the guide was made."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from guides import ROOT

DEGREES = r"\s?(?:°|degrees\b)"
UNPUBLISHED = {
    "two least pitches set against each other": (
        rf"\b15(?!\.\d)(?:{DEGREES})?[^.;|]{{1,60}}?\b17(?!\.\d){DEGREES}"
        rf"|\b17(?!\.\d)(?:{DEGREES})?[^.;|]{{1,60}}?\b15(?!\.\d){DEGREES}"
    ),
    "a count of years until a gutter fills": (
        r"\b(?:silt|fill|chok)\w*[^.;]{0,80}\b(?:five|5) years\b|\b(?:five|5) years\b[^.;]{0,80}\b(?:silt|fill|chok)"
    ),
    "a count of months that tape stands": r"\b(?:three|3)(?: to |\s?[-–]\s?)(?:four|4) months\b|\bfour months\b",
}
"""Figures that nothing published bears out: the guide gives a margin, a season, and a few years instead."""
MAKING = r"\bfrom memory\b|\bnot checked\b|\baddress(?:es)? (?:was|were) not kept\b|\bwas read (?:for|in)\b"
"""What says how something came to be known; a reader is told only whether a public source was seen."""
ONE_STORY = (r"\bfour\b", r"\b(?:single-lap|interlocking)\b", r"\b(?:too flat|at (?:its|their) limit)\b")
"""Words that no stated case brings together, so that each tells of a roof of its own."""

CASES = sorted((ROOT / "trees/cases").glob("*.yaml"))
FOR_READERS = [
    *sorted((ROOT / "guide").rglob("*.md")),
    *sorted((ROOT / "guide").rglob("*.svg")),
    *sorted(
        path
        for path in (ROOT / "trees").rglob("*.yaml")
        if path.name != "versions.yaml" and path.parent.name != "proofs"
    ),
    *sorted((ROOT / "site_overrides/pages").glob("*.html")),
]
FROM_PROGRAM = [
    *sorted((ROOT / "build_tools/formulas").rglob("*.py")),
    *(
        ROOT / f"build_tools/{name}.py"
        for name in ("proof/asking", "proof/order", "model/problems", "proof/weighing", "guide/words")
    ),
]
"""Modules whose words stand on pages."""


def told(path: Path) -> str:
    """Give a file as running text, so that no line break parts what is looked for."""
    return " ".join(path.read_text(encoding="utf-8").split())


def found_in(paths: list[Path], pattern: str) -> list[tuple[str, str]]:
    return [(path.name, each[0]) for path in paths for each in re.finditer(pattern, told(path), re.IGNORECASE)]


@pytest.mark.parametrize("what", UNPUBLISHED)
def test_figures_without_a_public_source_are_told_in_the_guides_own_terms(what: str) -> None:
    assert found_in([*FOR_READERS, *FROM_PROGRAM], UNPUBLISHED[what]) == []


def test_no_page_tells_how_the_guide_was_made() -> None:
    assert found_in([*FOR_READERS, *FROM_PROGRAM], MAKING) == []


def test_each_stated_case_tells_of_a_roof_of_its_own() -> None:
    told_twice = [path.name for path in CASES if all(re.search(each, told(path), re.IGNORECASE) for each in ONE_STORY)]
    assert told_twice == []


def test_year_of_the_ban_on_asbestos_says_whose_it_is() -> None:
    """Each country has its own; 2000 is that of the United Kingdom."""
    told_alone = [
        (name, passage)
        for name, passage in found_in(FOR_READERS, r"[^.]*\bbefore \[?2000\b[^.]*\.[^.]*\.")
        if not re.search(r"Brit(ain|ish)|United Kingdom", passage) and name != "sources.yaml"
    ]
    assert told_alone == []
