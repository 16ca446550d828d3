"""The chapters against the rest of the guide: no walk without a way to it, no drawing that nobody sees."""

import re

from guides import ROOT

from build_tools.library import read_library
from build_tools.model import every_value

DRAFT, _, _ = read_library(ROOT)
CHAPTERS = {path.stem: path.read_text(encoding="utf-8") for path in (ROOT / "guide").glob("*.md")}


def test_first_page_leads_to_every_walk():
    led_to = re.findall(r"\]\(walk/([a-z-]+)\.html\)", CHAPTERS["index"])
    assert set(led_to) == set(DRAFT.trees)


def test_every_drawing_stands_in_a_chapter_or_at_a_step():
    in_chapters = {name for text in CHAPTERS.values() for name in re.findall(r"\(drawings/([a-z-]+)\.svg\)", text)}
    records = (*DRAFT.trees.values(), *DRAFT.remedies.values())
    at_steps = {value for each in records for keys, value in every_value(each) if keys and keys[-1] == "drawing"}
    assert {path.stem for path in (ROOT / "guide/drawings").glob("*.svg")} <= in_chapters | at_steps
