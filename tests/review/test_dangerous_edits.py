"""Nothing dangerous is told by nothing: seeded edits of the guide itself, each told by what the table names."""

import os
import random
import re

import pytest
from dangers import KINDS, RULES
from guides import ROOT, the_checked

from build_tools.review.compare import Version, review
from build_tools.review.differences.gravity import with_reason
from build_tools.review.formula_code.formula_content import read_formulas
from build_tools.review.record.changes import Side

SEEDS = 8 if os.environ.get("THOROUGH") else 2
"""Edits of each kind."""
NOW = Version(Side(name="now"), the_checked().draft, {})
CONSTANT = re.compile(r"^[A-Z][A-Z_]+ = (\d+(?:\.\d+)?)$", re.M)
CODE = "another constant of a formula", "`review`, grave: numbers, and results that move"
HEAD = "| kind of edit | told by |"


def edits(kind):
    """Give edits of a kind at places taken by chance, always the same ones."""
    ways = list(kind.ways(NOW.draft))
    chance = random.Random(kind.name)
    return [way(chance) for way in chance.sample(ways, min(SEEDS, len(ways)))]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_dangerous_edit_is_told_by_what_the_table_names(kind):
    made = edits(kind)
    assert made, "the guide has no place for it: take the kind out, or look where it went"
    for draft in made:
        if kind.teller == "check":
            rules, code = kind.says.split()
            assert code in {each.code for each in RULES[rules](draft)}
            continue
        found = review(NOW, Version(Side(name="edited"), draft, {}))
        if kind.teller == "major":
            assert found.unagreed or found.grave
        else:
            assert any(kind.says in reason for reason in found.reasons), found.reasons


def test_constant_of_a_formula_is_told_as_its_numbers_or_as_not_run():
    code = read_formulas(ROOT)
    places = [(path, found) for path, text in code.items() for found in CONSTANT.finditer(text)]
    before = Version(NOW.side, NOW.draft, code)
    for path, found in random.Random(CODE[0]).sample(places, SEEDS):
        text = code[path]
        edited = f"{text[: found.start(1)]}{float(found[1]) * 2:g}{text[found.end(1) :]}"
        (row,) = review(before, Version(NOW.side, NOW.draft, {**code, path: edited})).values
        assert row.grave == "the formulas were not run, so nobody knows which results move"
        assert with_reason("values", row.model_copy(update={"grave": ""}), ran=True).grave.startswith("numbers: ")


def told_by(kind):
    """Give the words of the table for what tells a kind."""
    if kind.teller == "check":
        return f"`check`: {kind.says.split()[1]}"
    return "`review`, red until agreed" if kind.teller == "major" else f"`review`, grave: {kind.says.strip(':')}"


def test_table_for_contributors_names_the_same_kinds_and_tellers():
    table = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition(HEAD)[2].partition("\n\n")[0]
    rows = re.findall(r"^\| (?!-)(.+?) \| (.+?) \|$", table, re.M)
    assert rows == [*((kind.name, told_by(kind)) for kind in KINDS), CODE]
    assert len({kind.name for kind in KINDS}) == len(KINDS)
