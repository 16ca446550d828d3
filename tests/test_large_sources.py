"""What takes long to tell of is told in a time that grows with the file, and no faster."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from guides import edit, held_guide

from build_tools.proof.checks import check
from build_tools.proof.report import FORMATS

SHED = "trees/potting-shed.yaml"
READ, WORDS = "trees/proofs/hazards-read.yaml", "trees/proofs/hazard-words.yaml"
CASE = "trees/cases/a-tile-after-a-storm.yaml"
ABOUT = "  Start here when water drips from the roof of the shed."
LONGEST_SECONDS = 2
"""Of the processor."""
LONGEST_CHECKS = 10
"""As often as so many checks of the small guide take, on a machine that is slower or at work."""
ATTEMPTS = 3


def lines(line: str, count: int) -> Callable[[str], str]:
    """Put so many lines at the end of the tree, where its steps are; `#` is the number of the line."""
    return lambda tree: tree + "".join(line.replace("#", str(number)) for number in range(count))


def prose(text: str) -> Callable[[str], str]:
    return lambda tree: tree.replace(ABOUT, f"  {text}", 1)


QUESTION = (
    "      s#:\n        question: Is it so?\n        look: Look.\n        why: It tells.\n        where: inside\n"
    "        effort: look\n        yes: {looks: So., then: a#}\n        no: {looks: Not., then: b#}\n"
    "        unsure: {then: c#}\n"
)
LARGE = {
    "anchors": (lambda _: "a:\n" + "".join(f"- &a{number} x\n" for number in range(49_000)), "anchor"),
    "keys again": (lines("about: Text.\n", 40_000), "duplicate-key"),
    "unknown keys": (lines("about#: Text.\n", 40_000), "unknown-key"),
    "steps of no kind": (lines("      s#:\n        questoin: Is it so?\n", 15_000), "unknown-step-kind"),
    "exits to nowhere": (lines(QUESTION, 1_500), "unknown-step"),
    "remedies that there are not": (lines("      s#:\n        remedy: r#\n", 6_000), "unknown-remedy"),
    "steps of one another": (lines("      s#:\n        go-to: potting-shed/s#\n", 6_000), "unreachable-step"),
    "brackets": (prose("[" * 100_000), "unknown-term"),
    "links left open": (prose("[[headlap|" * 50_000), "unknown-term"),
    "commas": (prose("1," * 200_000 + " x"), None),
    "letters without width": (prose("a\u200b" * 100_000), "hidden-letter"),
}


@pytest.mark.parametrize("name", LARGE)
def test_large_file_is_told_of_in_time(good: Path, name: str) -> None:
    written, code = LARGE[name]
    before = (good / SHED).read_text(encoding="utf-8")
    after = written(before)
    assert after != before and len(after) < 1_000_000
    limit = max(LONGEST_SECONDS, LONGEST_CHECKS * seconds_of_check(good))
    (good / SHED).write_text(after, encoding="utf-8")
    assert any(seconds_of_check(good) < limit for _ in range(ATTEMPTS))
    checked = check(good)
    assert code is None or code in {each.code for each in checked.problems}
    assert max(len(report(checked.problems, checked.sources)) for report in FORMATS.values()) < 1_200_000


HELD = {
    "a long step": ("trees/remedies/air-the-shed.yaml", "open for an hour", "feel tile drip 1 mm " * 40_000),
    "a long question": (SHED, "Look along the course", "feel look edge clip foot " * 30_000),
    "many quotes": (READ, "wet-floor: Prop", "wet-floor:\n" + "    - quoted\n" * 40_000 + "  fire: Prop"),
    "many words": (WORDS, "drips:\n", "".join(f"w{n}:\n  says: w{n}\n" for n in range(12_000)) + "drips:\n"),
    "many answers": (CASE, "answers:\n", "answers:\n" + "  - drip-in-rain: yes\n" * 20_000),
}


@pytest.mark.parametrize("name", HELD)
def test_what_is_held_to_readings_is_told_of_in_time(tmp_path: Path, name: str) -> None:
    root = held_guide(tmp_path)
    path, old, new = HELD[name]
    limit = max(LONGEST_SECONDS, LONGEST_CHECKS * seconds_of_check(root))
    edit(root, path, old, new)
    assert (root / path).stat().st_size < 1_000_000
    assert any(seconds_of_check(root) < limit for _ in range(ATTEMPTS))
    assert check(root).problems


def seconds_of_check(root: Path) -> float:
    began = time.process_time()
    checked = check(root)
    FORMATS["text"](checked.problems, checked.sources)
    return time.process_time() - began
