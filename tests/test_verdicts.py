"""A formula with as many verdicts as are allowed: each has a word and a line of its own wherever it is drawn."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from flow_chart import statements
from guides import ROOT, draft_of, remedy, the_guide, tree
from own_tables import FORMULAS

from build_tools.formulas import Formula
from build_tools.formulas.definition import VERDICT_LINES
from build_tools.guide.pages import guide_view
from build_tools.guide.views import GuideView
from build_tools.guide.walk import walk_data
from build_tools.proof.checks import CheckedGuide
from build_tools.shell.walk_text import exits_text, step_text
from build_tools.site import diagram, draw, picture
from build_tools.site.render import Renderer

CODES = ("far-below", "below", "at-limit", "above", "far-above")
CARE = {
    **dict.fromkeys(("hazard", "consequence", "avoidance", "stop-when", "call"), "Text."),
    **{"signal": "notice", "answers": ("care",), "sources": ()},
}


def formula_of(*codes: str) -> Formula:
    verdicts = {code: f"The depth is {code.replace('-', ' ')}." for code in codes}
    return replace(FORMULAS["sheet-lap"], id="depth", verdicts=verdicts)


@pytest.fixture
def five() -> GuideView:
    """A guide of one tree that measures; each of the five verdicts and unsure end apart."""
    words = {"question": "How deep is it?", "look": "Look.", "why": "It tells.", "where": "inside", "effort": "look"}
    exits = {code: f"end-{code}" for code in (*CODES, "unsure")}
    steps = {"deep": {"measure": "depth", **words, "exits": exits}, **{end: {"remedy": "r"} for end in exits.values()}}
    draft = draft_of({"a": tree(steps)}, {"r": remedy()}, cautions={"care": CARE})
    return guide_view(CheckedGuide(replace(draft, formulas={**FORMULAS, "depth": formula_of(*CODES)})))


def pattern_in(css: str, name: str) -> str:
    """Read the rules that style this class, without blanks."""
    blocks = re.findall(r"([^{}]*)\{([^{}]*)\}", re.sub(r"/\*.*?\*/", "", css, flags=re.S))
    fitting = [body for heads, body in blocks if re.search(rf"\.{name}(?![\w-])\s*(,|$)", heads.strip())]
    return " ".join(" ".join(fitting).split())


def test_more_verdicts_than_lines_are_refused_where_the_formula_is_defined() -> None:
    assert len(VERDICT_LINES) == len(CODES)
    with pytest.raises(ValueError, match="depth has 6 verdicts, and 5 can be told apart"):
        formula_of(*CODES, "one-more")


def test_a_diagram_tells_them_apart_by_word_and_by_line(five: GuideView, tmp_path: Path) -> None:
    dot = diagram.diagrams(five.first_tree, "../")["all"]
    lines = [each.attributes for each in statements(dot) if each.head and each.tail == "deep"]
    assert [each["class"] for each in lines] == [*VERDICT_LINES, "unsure"]
    assert [each["label"] for each in lines] == [*(code.replace("-", " ") for code in CODES), "Can't tell"]
    svg = picture.inline(draw.draw({"all": dot}, tmp_path)["all"], "Depth", "In words below.", "a")
    drawn = {
        line: re.search(rf'class="edge {line}".*?<path ([^>]*)>', svg, re.S) for line in (*VERDICT_LINES, "unsure")
    }
    dashes = [re.findall(r'stroke-dasharray="([^"]*)"', found[1]) for found in drawn.values() if found]
    assert len(dashes) == len({str(each) for each in dashes}) == len(drawn)


@pytest.mark.parametrize(
    ("template", "style", "classed"),
    [("walk.html", "base.css", "answer--{}"), ("paper.html", "paper.css", "line-{}")],
)
def test_a_page_gives_each_its_line(five: GuideView, template: str, style: str, classed: str) -> None:
    page = Renderer(ROOT / "site_overrides", {}, dict(the_guide().sources)).page
    data = walk_data(five, five.first_tree)
    html = page(template, "../", guide=five, tree=five.first_tree, data=data, address="", qr="")
    section = html[html.index('id="deep"') :].partition("</section>")[0]
    shown = [each for each in re.findall(classed.format(r"(\w+)"), section) if each in (*VERDICT_LINES, "unsure")]
    assert shown == [*VERDICT_LINES, "unsure"]
    css = (ROOT / "site_overrides" / "styles" / style).read_text(encoding="utf-8")
    patterns = [pattern_in(css, classed.format(line)) for line in (*VERDICT_LINES, "unsure")]
    assert len(set(patterns)) == len(patterns)
    assert pattern_in(css, classed.format("second")) == pattern_in(css, classed.format("no"))


def test_the_shell_names_each(five: GuideView) -> None:
    step = five.first_tree.step("deep")
    text = step_text(step)
    assert all(f"{code}: The depth is {code.replace('-', ' ')}." in text for code in CODES)
    assert exits_text(step) == " / ".join((*CODES, "unsure"))
