"""The checklist as it comes out of a printer, read back from the PDF that Chromium prints.

Page numbers are worked out by a script before printing, so they are held against the real pages here.
Sizes: box at least 5 mm, letters at least 12 pt (UKAAF G003), A4.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from leaves import BLACK, MM, WHITE, Leaf, leaves_of
from playwright.sync_api import Browser, Page

from build_tools.guide.views import GuideView, TreeView
from build_tools.guide.words import SCOPE
from build_tools.sources.term_links import plain_words

ROOT = Path(__file__).resolve().parent.parent.parent
TREES = sorted(each.stem for each in (ROOT / "trees").glob("*.yaml"))
MARGIN = 14.5 * MM
FOOT = 9.5 * MM
CORNER = (12 + 105) * MM
BODY_PT = 12


@dataclass(frozen=True)
class Sheet:
    """One printed checklist, its pages as text without header and foot, and how wide it was on phones before."""

    tree: TreeView
    leaves: tuple[Leaf, ...]
    texts: tuple[str, ...]
    on_phones: tuple[Phone, ...]

    def page_of(self, number: int) -> int:
        """Give the page on which a step's own block begins."""
        begins = re.compile(rf"^Step {number}(, from .*|: begin here)", re.M)
        return next(page for page, text in enumerate(self.texts, start=1) if begins.search(text))


@dataclass(frozen=True)
class Phone:
    """What a phone of so many pixels shows: the width of the document and the size of its letters, in pixels."""

    width: int
    needed: int
    letters: float


def open_paper(browser: Browser, site: Path, tree: str, *, script: bool = True) -> Page:
    context = browser.new_context(java_script_enabled=script, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((site / "paper" / f"{tree}.html").as_uri())
    return page


@pytest.fixture(scope="module")
def phone_page(chromium: Browser) -> Iterator[Page]:
    """One page that all checklists are opened in, one after the other: each is a document of its own."""
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module", params=TREES)
def sheet(request: pytest.FixtureRequest, phone_page: Page, site: Path, guide: GuideView) -> Sheet:
    """Print one checklist, as a phone would: its own page size, no backgrounds asked for."""
    phone_page.goto((site / "paper" / f"{request.param}.html").as_uri())
    on_phones = tuple(seen_on_phone(phone_page, width) for width in (320, 390))
    leaves = leaves_of(phone_page.pdf(prefer_css_page_size=True, print_background=False))
    tree = next(each for each in guide.trees if each.id == request.param)
    return Sheet(tree, leaves, tuple(map(body_of, leaves)), on_phones)


def seen_on_phone(page: Page, width: int) -> Phone:
    page.set_viewport_size({"width": width, "height": 844})
    needed = page.evaluate("document.documentElement.scrollWidth")
    return Phone(width, needed, page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)"))


def body_of(leaf: Leaf) -> str:
    return leaf.words(0, FOOT, leaf.width, leaf.height - MARGIN)


def head_of(leaf: Leaf) -> str:
    """Read the header's left and right corner, each of which may take two lines."""
    edge = leaf.height - MARGIN
    corners = (leaf.words(0, edge, CORNER, leaf.height), leaf.words(CORNER, edge, leaf.width, leaf.height))
    return " | ".join(" ".join(each.split()) for each in corners)


def foot_of(leaf: Leaf) -> str:
    return leaf.words(0, 0, leaf.width, FOOT)


def flat(text: str) -> str:
    """Leave out what a line's end can alter: white space, and a hyphen where a line was broken after it."""
    return re.sub(r"[\s\-\x02\ufffe]", "", text)


def test_it_is_a4(sheet: Sheet) -> None:
    for leaf in sheet.leaves:
        assert (leaf.width, leaf.height) == (pytest.approx(210 * MM, abs=0.5), pytest.approx(297 * MM, abs=0.5))


def test_every_page_is_headed(sheet: Sheet) -> None:
    tree = sheet.tree.tree
    day = f"{tree.revised.day} {tree.revised:%B %Y}"
    for number, leaf in enumerate(sheet.leaves, start=1):
        left = f"{sheet.tree.id}: {tree.title}"
        assert head_of(leaf) == f"{left} | version {tree.version}, {day}, page {number} of {len(sheet.leaves)}"


def test_every_page_says_at_its_foot_where_its_numbers_and_law_hold(sheet: Sheet) -> None:
    assert {foot_of(leaf) for leaf in sheet.leaves} == {SCOPE}


def test_every_step_is_on_the_page_that_is_named_for_it(sheet: Sheet) -> None:
    whole = " ".join(" ".join(sheet.texts).split())
    named = set(re.findall(r"step (\d+), page (\d+)", whole))
    targets = {str(leaving.number) for step in sheet.tree.steps for leaving in step.exits}
    assert targets <= {step for step, _ in named}
    for step, page in named:
        assert sheet.page_of(int(step)) == int(page), f"step {step}"


def test_why_two_answers_lead_to_one_step_is_on_the_page_of_that_step(sheet: Sheet) -> None:
    for step in sheet.tree.steps:
        page = flat(sheet.texts[sheet.page_of(step.number) - 1])
        assert [line for line in step.alike if flat(plain_words(line)) not in page] == []


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
    texts = list(map(flat, sheet.texts))
    for step in sheet.tree.steps:
        page = sheet.page_of(step.number)
        apart = re.search(rf"^Step {step.number}, cautions", sheet.texts[page - 2], re.M) if page > 1 else None
        if apart and step.formula:
            assert len(step.cautions) > 1
            assert all(flat(view.caution.hazard) in texts[page - 1] for view in step.cautions)
            page -= 1
        for view in step.cautions if step.gate is None and step.remedy is None else ():
            caution = view.caution
            parts = (caution.hazard, caution.consequence, caution.avoidance, caution.stop_when, caution.call)
            assert all(flat(part) in texts[page - 1] for part in parts), (step.id, view.id)
            assert caution.signal.upper() in texts[page - 1]


def test_every_standing_caution_is_at_least_named_on_the_page_of_its_step(sheet: Sheet) -> None:
    for step in sheet.tree.steps:
        text = flat(sheet.texts[sheet.page_of(step.number) - 1])
        for view in step.standing:
            assert flat(view.caution.hazard) in text, (step.id, view.id)
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
        near = "".join(flat(sheet.texts[n]) for n in range(begins - 2, page))
        for view in step.gate.cautions:
            assert flat(view.caution.avoidance) in near, (step.id, view.id)


def test_danger_is_reversed_though_no_background_is_asked_for(sheet: Sheet) -> None:
    seen = 0
    for leaf in sheet.leaves:
        for word in leaf.found("DANGER"):
            covered = any(all(panel.covers(letter.box) for letter in word) for panel in leaf.black_panels)
            white = {letter.colour for letter in word} == {WHITE}
            assert covered == white, "white letters need their black panel"
            seen += white
    assert seen or not any(view.caution.signal == "danger" for step in sheet.tree.steps for view in step.cautions)


def test_letters_are_large_and_black_but_for_the_ids_of_steps(sheet: Sheet) -> None:
    ids = {f"{sheet.tree.id}/{step.id}" for step in sheet.tree.steps} | {sheet.tree.tree.version}
    for leaf, text in zip(sheet.leaves, sheet.texts, strict=True):
        if "Drawing to" in text:
            continue
        body = [each for each in leaf.letters if FOOT < each.box[1] < leaf.height - MARGIN]
        assert body
        small = "".join(" " if each.size >= BODY_PT - 0.1 else each.text for each in body)
        assert set(small.split()) <= ids
        assert {each.colour for each in body} <= {BLACK, WHITE}


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
    whole = " ".join(" ".join(map(body_of, leaves_of(printed))).split())
    assert re.search(r"go to step \d+", whole) and not re.search(r"step \d+, page", whole)
    assert "What I saw:" in whole


def test_on_a_phone_nothing_runs_off_the_side(sheet: Sheet) -> None:
    for phone in sheet.on_phones:
        assert phone.needed <= phone.width
        assert phone.letters >= 18


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
