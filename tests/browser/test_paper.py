"""The checklist as it comes out of a printer, read back from the PDF that Chromium prints.

Page numbers are worked out by a script before printing, so they are held against the real pages here.
Sizes: box at least 5 mm, letters at least 12 pt (UKAAF G003), A4.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Browser, Page

from build_tools.views import GuideView, TreeView
from build_tools.words import SCOPE

ROOT = Path(__file__).resolve().parent.parent.parent
TREES = sorted(each.stem for each in (ROOT / "trees").glob("*.yaml"))
MM = 72 / 25.4
MARGIN = 14.5 * MM
FOOT = 9.5 * MM
CORNER = (12 + 105) * MM
BODY_PT = 12
BLACK, WHITE = (0, 0, 0), (1, 1, 1)


@dataclass(frozen=True)
class Sheet:
    """One printed checklist, its pages as text, header and foot apart."""

    tree: TreeView
    pdf: pdfplumber.PDF
    heads: tuple[str, ...]
    texts: tuple[str, ...]

    def page_of(self, number: int) -> int:
        """Give the page on which a step's own block begins."""
        begins = re.compile(rf"^Step {number}(, from .*|: begin here)", re.M)
        return next(page for page, text in enumerate(self.texts, start=1) if begins.search(text))


def open_paper(browser: Browser, site: Path, tree: str, *, script: bool = True) -> Page:
    context = browser.new_context(java_script_enabled=script, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((site / "paper" / f"{tree}.html").as_uri())
    return page


@pytest.fixture(scope="module", params=TREES)
def sheet(request: pytest.FixtureRequest, chromium: Browser, site: Path, guide: GuideView) -> Iterator[Sheet]:
    """Print one checklist, as a phone would: its own page size, no backgrounds asked for."""
    page = open_paper(chromium, site, request.param)
    printed = page.pdf(prefer_css_page_size=True, print_background=False)
    page.context.close()
    with pdfplumber.open(io.BytesIO(printed)) as pdf:
        tree = next(each for each in guide.trees if each.id == request.param)
        yield Sheet(tree, pdf, tuple(map(head_of, pdf.pages)), tuple(plain(body_of(each)) for each in pdf.pages))


def body_of(page: pdfplumber.page.Page) -> pdfplumber.page.Page:
    return page.crop((0, MARGIN, page.width, page.height - FOOT))


def head_of(page: pdfplumber.page.Page) -> str:
    """Read the header's left and right corner, each of which may take two lines."""
    corners = (page.crop((0, 0, CORNER, MARGIN)), page.crop((CORNER, 0, page.width, MARGIN)))
    return " | ".join(" ".join(plain(each).split()) for each in corners)


def foot_of(page: pdfplumber.page.Page) -> str:
    return plain(page.crop((0, page.height - FOOT, page.width, page.height)))


def plain(page: pdfplumber.page.Page) -> str:
    return str(page.extract_text()).replace("\xa0", " ").replace("’", "'")


def test_it_is_a4(sheet: Sheet) -> None:
    for page in sheet.pdf.pages:
        assert (page.width, page.height) == (pytest.approx(210 * MM, abs=0.5), pytest.approx(297 * MM, abs=0.5))


def test_every_page_is_headed(sheet: Sheet) -> None:
    tree = sheet.tree.tree
    day = f"{tree.revised.day} {tree.revised:%B %Y}"
    for number, head in enumerate(sheet.heads, start=1):
        left = f"{sheet.tree.id}: {tree.title}"
        assert head == f"{left} | version {tree.version}, {day}, page {number} of {len(sheet.heads)}"


def test_every_page_says_at_its_foot_where_its_numbers_and_law_hold(sheet: Sheet) -> None:
    assert {foot_of(page) for page in sheet.pdf.pages} == {SCOPE}


def test_every_step_is_on_the_page_that_is_named_for_it(sheet: Sheet) -> None:
    whole = " ".join(" ".join(sheet.texts).split())
    named = set(re.findall(r"step (\d+), page (\d+)", whole))
    targets = {str(leaving.number) for step in sheet.tree.steps for leaving in step.exits}
    assert targets <= {step for step, _ in named}
    for step, page in named:
        assert sheet.page_of(int(step)) == int(page), f"step {step}"


def test_what_stands_at_the_end_is_on_the_page_that_is_named_for_it(sheet: Sheet) -> None:
    whole = " ".join(" ".join(sheet.texts).split())
    titles = {page: text for page, text in enumerate(sheet.texts, start=1)}
    for page in re.findall(r"[Cc]autions, in full at the end, page (\d+)", whole):
        assert "Cautions for the work, in full" in titles[int(page)]
    for number, page in re.findall(
        r"Step (\d+), from (?:(?!Step \d).)*Drawing: at the end of this sheet, page (\d+)", whole
    ):
        assert re.search(rf"Drawing to .*step {number}\b", titles[int(page)])
    for page, title in re.findall(r"Reckoned by hand at the end of this sheet, page (\d+): ([^.]*)\.", whole):
        assert f"By hand: {title}" in titles[int(page)]


def test_no_block_is_split(sheet: Sheet) -> None:
    marks = []
    for page, text in enumerate(sheet.texts, start=1):
        for mark in re.findall(r"^(Step \d+(?:, from |: begin here))|(Who:)$", text, re.M):
            marks.append((page, "begins" if mark[0] else "ends"))
    marks = marks[next(place for place, mark in enumerate(marks) if mark[1] == "begins") :]
    assert len(marks) == 2 * len(sheet.tree.steps)
    for begins, ends in zip(marks[::2], marks[1::2], strict=True):
        assert (begins[1], ends[1]) == ("begins", "ends") and begins[0] == ends[0]


def test_a_caution_is_whole_and_on_the_page_of_its_step(sheet: Sheet) -> None:
    """Of a measure with more than one, on the page before where both do not fit on one."""
    flat = ["".join(text.split()) for text in sheet.texts]
    columns = ["".join(text.split()) for text in (in_columns(page) for page in sheet.pdf.pages)]
    for step in sheet.tree.steps:
        page = sheet.page_of(step.number)
        apart = re.search(rf"^Step {step.number}, cautions", sheet.texts[page - 2], re.M) if page > 1 else None
        if apart and step.formula:
            assert len(step.cautions) > 1
            assert all("".join(view.caution.hazard.split()) in columns[page - 1] for view in step.cautions)
            page -= 1
        for view in step.cautions if step.gate is None and step.remedy is None else ():
            caution = view.caution
            parts = (caution.hazard, caution.consequence, caution.avoidance, caution.stop_when, caution.call)
            assert all("".join(part.split()) in columns[page - 1] for part in parts), (step.id, view.id)
            assert caution.signal.upper() in flat[page - 1]


def test_every_standing_caution_is_at_least_named_on_the_page_of_its_step(sheet: Sheet) -> None:
    for step in sheet.tree.steps:
        page = sheet.page_of(step.number) - 1
        text = "".join(in_columns(sheet.pdf.pages[page]).split()) + "".join(sheet.texts[page].split())
        for view in step.standing:
            assert "".join(view.caution.hazard.split()) in text, (step.id, view.id)
            assert view.caution.signal.upper() in text


def test_the_cautions_of_a_gate_are_on_its_page_or_the_one_before(sheet: Sheet) -> None:
    shown = set()
    for step in sheet.tree.steps:
        if step.gate is None or step.gate.id in shown:
            continue
        shown.add(step.gate.id)
        page = sheet.page_of(step.number)
        # Where its first conditions are a block of their own, the cautions stand before these.
        begins = next((n for n, text in enumerate(sheet.texts, 1) if f"Step {step.number}, first cond" in text), page)
        near = "".join("".join(in_columns(sheet.pdf.pages[n]).split()) for n in range(begins - 2, page))
        for view in step.gate.cautions:
            assert "".join(view.caution.avoidance.split()) in near, (step.id, view.id)


def in_columns(page: pdfplumber.page.Page) -> str:
    """Read left half, right half and full width, since cautions stand in two columns."""
    middle = page.width / 2
    halves = (page.crop((0, 0, middle, page.height)), page.crop((middle, 0, page.width, page.height)), page)
    return "\n".join(plain(each) for each in halves)


def test_danger_is_reversed_though_no_background_is_asked_for(sheet: Sheet) -> None:
    seen = 0
    for page in sheet.pdf.pages:
        panels = [each for each in page.rects if each["fill"] and each["non_stroking_color"] == BLACK]
        for word in page.search(r"\bDANGER\b"):
            covered = [
                each
                for each in panels
                if each["x0"] <= word["x0"]
                and each["x1"] >= word["x1"]
                and each["top"] <= word["top"] + 2
                and each["bottom"] >= word["bottom"] - 2
            ]
            white = {each["non_stroking_color"] for each in word["chars"]} == {WHITE}
            assert bool(covered) == white, "white letters need their black panel"
            seen += white
    assert seen or not any(view.caution.signal == "danger" for step in sheet.tree.steps for view in step.cautions)


def test_letters_are_large_and_black_but_for_the_ids_of_steps(sheet: Sheet) -> None:
    ids = {f"{sheet.tree.id}/{step.id}" for step in sheet.tree.steps} | {sheet.tree.tree.version}
    for body in map(body_of, sheet.pdf.pages):
        if "Drawing to" in plain(body):
            continue
        words = body.extract_words(extra_attrs=["size", "non_stroking_color"])
        assert {each["text"] for each in words if each["size"] < BODY_PT - 0.1} <= ids
        assert {each["non_stroking_color"] for each in words} <= {BLACK, WHITE}


def test_what_is_for_the_screen_is_not_printed(sheet: Sheet) -> None:
    whole = " ".join(" ".join(sheet.texts).split())
    assert "Print or save as PDF" not in whole and "Walk it on this phone" not in whole


@pytest.mark.parametrize("tree", TREES[:1])
def test_boxes_are_large_enough_for_a_gloved_pen(chromium: Browser, site: Path, tree: str) -> None:
    page = open_paper(chromium, site, tree)
    page.emulate_media(media="print")
    sizes = page.eval_on_selector_all(
        ".answer rect, .conditions rect", "all => all.map(each => each.getBoundingClientRect().width / 96 * 25.4)"
    )
    assert sizes and min(sizes) >= 5
    page.context.close()


def test_without_a_script_the_sheet_is_whole_and_names_no_page(chromium: Browser, site: Path) -> None:
    page = open_paper(chromium, site, TREES[0], script=False)
    assert page.locator("[data-print]").is_hidden()
    printed = page.pdf(prefer_css_page_size=True)
    page.context.close()
    with pdfplumber.open(io.BytesIO(printed)) as pdf:
        whole = " ".join(" ".join(plain(body_of(each)) for each in pdf.pages).split())
    assert re.search(r"go to step \d+", whole) and not re.search(r"step \d+, page", whole)
    assert "What I saw:" in whole


@pytest.mark.parametrize("width", [320, 390])
def test_on_a_phone_nothing_runs_off_the_side(chromium: Browser, site: Path, width: int) -> None:
    for tree in TREES:
        page = open_paper(chromium, site, tree)
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)") >= 18
        page.context.close()


def test_the_button_prints(chromium: Browser, site: Path) -> None:
    page = open_paper(chromium, site, TREES[0])
    page.evaluate("window.print = () => { document.title = 'printed'; }")
    page.get_by_role("button", name="Print or save as PDF").click()
    assert page.title() == "printed"
    page.context.close()


def test_it_asks_no_other_host_and_its_policy_lets_it_work(chromium: Browser, site: Path) -> None:
    context = chromium.new_context()
    page = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto((site / "paper" / f"{TREES[0]}.html").as_uri())
    page.wait_for_load_state()
    assert not said and all(each.startswith("file:") for each in asked)
    context.close()
