"""A measure that takes a list: on paper, in the shell, and what a tree may settle of it."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from build_up import BUILD_UP
from guides import ROOT, the_guide
from measured import measured_draft, measured_guide
from own_tables import FORMULAS

from build_tools.formulas import validate_given
from build_tools.guide.views import GuideView
from build_tools.guide.walk import walk_data
from build_tools.proof.rules.references import references
from build_tools.shell.calc import CannotReckon, assignments_in, explain_text, run_json, run_text
from build_tools.shell.walk_shell import walk_along
from build_tools.shell.walk_text import step_text
from build_tools.site.render import Renderer

SHEETS = "layers=zinc,0.8,2; lead,1.8,"


@pytest.fixture
def guide() -> GuideView:
    return measured_guide()


def test_paper_has_lines_to_fill_in(guide: GuideView) -> None:
    page = Renderer(ROOT / "site_overrides", {}, dict(the_guide().sources)).page
    html = page("paper.html", "../", guide=guide, tree=guide.first_tree, address="", qr="")
    section = html[html.index('id="stack"') :].partition("</section>")[0]
    assert re.findall(r"<th[^>]*>([^<]*)</th>", section) == ["Metal", "Thickness, mm", "Sheets"]
    assert section.count("<tr><td></td><td></td><td></td></tr>") == 4
    assert "Hands: 2</span>" in section and "Wrapped (No / Yes): </span>" in section


def test_shell_says_how_a_list_is_typed_and_takes_it(guide: GuideView) -> None:
    view = guide.first_tree.step("stack")
    assert "layers=metal,thickness_mm,sheets_count; … Sheets, from the lowest up." in " ".join(step_text(view).split())
    walks = {"a": walk_data(guide, guide.first_tree)}
    typed, said = iter((SHEETS, "")), []
    course = walk_along(guide, walks, "a", lambda _: next(typed), said.append)
    assert [stop.answer for stop in course] == ["enough", None]
    assert any("zinc, 0.8 mm: 2 × 5.76 kg." in each for each in said)


@pytest.mark.parametrize(
    ("typed", "parted"),
    [
        ("a=1 b=2", ["a=1", "b=2"]),
        ("a=1,2; 3,4 b=2", ["a=1,2; 3,4", "b=2"]),
        ('a="1,2; 3,4"  b = 2', ["a=1,2; 3,4", "b = 2"]),
        ("15", ["15"]),
    ],
)
def test_assignments_on_one_line_are_parted(typed: str, parted: list[str]) -> None:
    assert assignments_in(typed) == parted


def test_calc_explains_and_takes_a_list() -> None:
    text = explain_text(BUILD_UP)
    assert "layers: Sheets, from the lowest up, 1 to 4 lines of metal,thickness_mm,sheets_count" in text
    assert "      sheets_count: Sheets, 1 to 9, whole; may be left out\n          Count them." in text
    assert text.endswith('calc stack-mass layers="lead,1.8,2; zinc,0.8," hands_count=2 wrapped=no')
    taken = json.loads(run_json(BUILD_UP, [SHEETS, "hands_count=2"]))
    assert taken["inputs"] == {"layers": [["zinc", 0.8, 2], ["lead", 1.8, None]], "hands_count": 2, "wrapped": "no"}
    assert "Sheets in all: 3\n" in run_text(BUILD_UP, [SHEETS, "hands_count=2"])
    with pytest.raises(CannotReckon, match="layers: Sheets, from the lowest up, line 2: Metal: pick one of lead"):
        run_json(BUILD_UP, ["layers=lead,1,1; gold,1,1", "hands_count=2"])


def test_tree_may_settle_a_list() -> None:
    assert validate_given(BUILD_UP, {"layers": "lead,1.8,2"}) == {}
    assert list(validate_given(BUILD_UP, {"layers": "lead,180,2"})) == ["layers"]


def test_formula_without_verdicts_decides_no_step() -> None:
    mute = replace(BUILD_UP, verdicts={})
    draft = replace(measured_draft(), formulas={**FORMULAS, mute.id: mute})
    told = [each for each in references(draft) if each.keys == ("steps", "stack", "measure")]
    assert [each.code for each in told] == ["unknown-formula"]
    assert told[0].what == '"stack-mass" gives numbers and no verdict, so no step can be decided by it'
