"""The chapters against the rest of the guide: no walk without a way to it, no drawing that nobody sees."""

import re

from guides import ROOT, the_checked

from build_tools.model import every_value
from build_tools.proof.rules.sense import NUMBER_WITH_UNIT

DRAFT = the_checked().draft
CHAPTERS = {path.stem: path.read_text(encoding="utf-8") for path in (ROOT / "guide").glob("*.md")}


def test_first_page_leads_to_every_walk():
    led_to = re.findall(r"\]\(walk/([a-z-]+)\.html\)", CHAPTERS["index"])
    assert set(led_to) == set(DRAFT.trees)


def test_every_drawing_stands_in_a_chapter_or_at_a_step():
    in_chapters = {name for text in CHAPTERS.values() for name in re.findall(r"\(drawings/([a-z-]+)\.svg\)", text)}
    records = (*DRAFT.trees.values(), *DRAFT.remedies.values())
    at_steps = {value for each in records for keys, value in every_value(each) if keys and keys[-1] == "drawing"}
    assert {path.stem for path in (ROOT / "guide/drawings").glob("*.svg")} <= in_chapters | at_steps


AUTHORS = {"changes", "writing-a-tree"}
"""Chapters that state no facts of the trade: what is new, and how to write."""
TOLD = re.compile(
    r"\]\((sources\.(md|html)#|reckon/)|common practice|this guide's choice|choice of this guide|no public source seen"
)


def paragraphs(text: str) -> list[str]:
    """Give paragraphs and list items; a table goes with the paragraph that leads to it."""
    kept: list[str] = []
    for each in re.split(r"\n\s*\n|\n(?=- )", text):
        if each.startswith("|") and kept:
            kept[-1] += f"\n{each}"
        else:
            kept.append(each)
    return kept


def test_every_number_in_a_chapter_names_its_source_or_says_that_it_has_none():
    stated = [
        (name, each)
        for name, text in CHAPTERS.items()
        if name not in AUTHORS
        for each in paragraphs(text)
        if NUMBER_WITH_UNIT.search(each)
    ]
    assert len(stated) > 20
    assert [(name, each) for name, each in stated if not TOLD.search(each)] == []


COUNTED = re.compile(
    r"\b(\d+|(twen|thir|for|fif|six|seven|eigh|nine)ty[a-z-]*|hundred) "
    r"(walks|trees|remedies|formulas|drawings|chapters|terms|modules|tests)\b",
    re.I,
)


def test_no_page_counts_what_the_next_change_adds_to():
    pages = {**CHAPTERS, **{name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md")}}
    assert {name: found[0] for name, text in pages.items() if (found := COUNTED.search(text))} == {}
