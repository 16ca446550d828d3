"""The styles say each thing once: what two rules of a page have in common stands in one place."""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from guides import ROOT

PAGES = {"walk": ("base", "walk", "reckon"), "guide": ("base", "diagram", "guide", "reckon"), "paper": ("paper",)}
"""The styles that stand together on a page."""
SAME = 6
"""So many same declarations are no chance."""


def rules_of(name: str) -> list[tuple[str, frozenset[str]]]:
    """Read each rule of a style with its declarations; what stands in a media query is a rule too."""
    css = re.sub(
        r"/\*.*?\*/", "", (ROOT / "site_overrides" / "styles" / f"{name}.css").read_text(encoding="utf-8"), flags=re.S
    )
    return [
        (f"{name}: {' '.join(heads.split())}", frozenset(" ".join(each.split()) for each in body.split(";")) - {""})
        for heads, body in re.findall(r"([^{};]+)\{([^{}]*)\}", css)
    ]


@pytest.mark.parametrize("page", PAGES)
def test_no_two_rules_of_a_page_say_the_same(page: str) -> None:
    rules = [rule for name in PAGES[page] for rule in rules_of(name)]
    assert len(rules) > 20
    alike = [(one, other) for (one, said), (other, again) in combinations(rules, 2) if len(said & again) >= SAME]
    assert alike == []
