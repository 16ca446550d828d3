"""A formula's own page in the built site: what is typed is kept here and nowhere else, and goes out when asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from guides import the_checked
from own_tables import FORMULAS
from playwright.sync_api import Browser, BrowserContext, Page, expect

from build_tools.formulas import by_subject

KEPT = "What you type here is kept on this phone, and goes nowhere unless you send it."
REFUSED = "This browser keeps nothing for this page. What you type is gone when you leave it"


@pytest.fixture
def context(chromium: Browser, served: str) -> Iterator[BrowserContext]:
    """A fresh phone; what goes wrong in the scripts, or is asked of another host, fails the test."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    faults: list[str] = []
    context.on("weberror", lambda fault: faults.append(str(fault.error)))
    context.on("request", lambda request: request.url.startswith((served, "data:")) or faults.append(request.url))
    yield context
    context.close()
    # The theme itself keeps its colours there, and has no other way.
    assert [each for each in faults if "no storage here" not in each] == []


def opened(context: BrowserContext, served: str, name: str = "sheet-lap") -> Page:
    """Open a formula's page."""
    page = context.new_page()
    page.goto(f"{served}reckon/{name}.html")
    return page


def test_what_is_typed_is_there_again_when_the_page_is_opened_anew(context: BrowserContext, served: str) -> None:
    page = opened(context, served)
    page.locator("[name=pitch_deg]").fill("15")
    page.locator("[name=measured_lap_mm]").fill("26x")
    page.close()
    again = opened(context, served)
    expect(again.locator("[name=pitch_deg]")).to_have_value("15")
    expect(again.locator("[name=measured_lap_mm]")).to_have_value("26x")
    again.locator("[name=measured_lap_mm]").fill("260")
    again.reload()
    expect(again.locator("[data-output=lap_mm]")).to_have_text("290 mm")
    expect(again.locator("[data-kept-line]")).to_have_text(KEPT)
    expect(again.locator("[data-protection]")).to_contain_text("Protection: ")


def test_each_formula_keeps_its_own(context: BrowserContext, served: str) -> None:
    opened(context, served).locator("[name=pitch_deg]").fill("15")
    other = opened(context, served, "pitch")
    expect(other.locator("[name=rise_mm]")).to_have_value("")
    expect(other.locator("[name=run_mm]")).to_have_value("1000")


def test_it_is_cleared_after_one_question(context: BrowserContext, served: str) -> None:
    page = opened(context, served, "pitch")
    page.locator("[name=run_mm]").fill("800")
    page.get_by_role("button", name="Clear the form").click()
    expect(page.get_by_text("Clear all that you typed here?")).to_be_visible()
    page.get_by_role("button", name="Leave it").click()
    expect(page.locator("[name=run_mm]")).to_have_value("800")
    page.get_by_role("button", name="Clear the form").click()
    page.get_by_role("button", name="Clear it").click()
    expect(page.locator("[data-said]")).to_have_text("Cleared.")
    expect(page.locator("[name=run_mm]")).to_have_value("1000")
    page.reload()
    expect(page.locator("[name=run_mm]")).to_have_value("1000")
    assert page.evaluate("Typed.read('reckoning pitch')") == {}


@pytest.mark.parametrize(
    "refusing",
    [
        "Object.defineProperty(window, 'indexedDB', "
        "{ get() { throw new DOMException('no storage here', 'SecurityError'); } })",
        "IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }",
        "Object.defineProperty(window, 'localStorage', "
        "{ get() { throw new DOMException('no storage here', 'SecurityError'); } });"
        "indexedDB.open = () => { throw new DOMException('no storage here', 'SecurityError'); }",
    ],
)
def test_browser_that_keeps_nothing_is_said_plainly(context: BrowserContext, served: str, refusing: str) -> None:
    context.add_init_script(refusing)
    page = opened(context, served)
    page.locator("[name=pitch_deg]").fill("15")
    expect(page.locator("[data-kept-line]")).to_contain_text(REFUSED)
    expect(page.locator("[data-protection]")).to_be_hidden()
    expect(page.locator("[data-output=lap_mm]")).to_have_text("290 mm")
    page.get_by_role("button", name="Clear the form").click()
    page.get_by_role("button", name="Clear it").click()
    expect(page.locator("[name=pitch_deg]")).to_have_value("")


@pytest.mark.parametrize("kept", ["no json", "[1]", "null", '{"pitch_deg": 5, "gone": "x", "measured_lap_mm": "300"}'])
def test_what_was_kept_by_an_older_version_harms_nothing(context: BrowserContext, served: str, kept: str) -> None:
    page = opened(context, served)
    page.evaluate("(text) => localStorage.setItem('reckoning sheet-lap', text)", kept)
    page.reload()
    page.locator("[name=pitch_deg]").fill("15")
    expect(page.locator("[data-output=lap_mm]")).to_have_text("290 mm")


def test_copy_holds_all_that_is_needed_to_follow_it(context: BrowserContext, served: str) -> None:
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page = opened(context, served)
    page.locator("[name=pitch_deg]").fill("15")
    page.locator("[name=measured_lap_mm]").fill("260")
    page.get_by_role("button", name="Copy as text").click()
    expect(page.locator("[data-said]")).to_have_text("Copied. Paste it into a message.")
    text = page.evaluate("navigator.clipboard.readText()")
    formula = FORMULAS["sheet-lap"]
    head, given, result, working, notes, last = text.rstrip().split("\n\n")
    assert re.fullmatch(rf"{formula.title}, \d+ \w+ \d{{4}}, \d\d:\d\d", head)
    assert given.splitlines() == [
        "Pitch at which the sheet lies: 15°",
        "Lap you measured: 260 mm",
        "Sheet: Lead",
        "Declared lap, of other sheet than lead: not given",
    ]
    assert result == f"Lap needed: 290 mm\n{formula.verdicts['short']}"
    assert working.splitlines()[-1] == "Measured 260 mm: 30 mm short."
    first = the_checked().draft.sources[formula.all_sources[0]].title
    assert formula.limits in notes and f"Sources. {first}" in notes
    assert re.fullmatch(rf"Reckoned with sheet-lap {formula.fingerprint()}, guide of \d{{4}}-\d\d-\d\d\.", last)


def test_browser_that_will_not_copy_marks_the_text(context: BrowserContext, served: str) -> None:
    context.add_init_script(
        "if (navigator.clipboard) navigator.clipboard.writeText = () => Promise.reject(new Error('no'))"
    )
    page = opened(context, served)
    page.get_by_role("button", name="Copy as text").click()
    expect(page.get_by_label("The result as text")).to_be_focused()
    assert "Not reckoned yet" in page.get_by_label("The result as text").input_value()
    page.locator("[name=pitch_deg]").fill("15")
    expect(page.get_by_label("The result as text")).to_be_hidden()


def test_printed_page_holds_the_result_and_no_buttons(context: BrowserContext, served: str) -> None:
    page = opened(context, served)
    page.emulate_media(media="print")
    expect(page.locator("[name=pitch_deg]")).to_be_hidden()
    page.emulate_media(media="screen")
    page.locator("[name=pitch_deg]").fill("15")
    page.emulate_media(media="print")
    expect(page.locator("[data-output=lap_mm]")).to_be_visible()
    expect(page.locator("[data-kept]")).to_be_hidden()


def test_lists_are_grouped_by_subject(context: BrowserContext, served: str) -> None:
    page = context.new_page()
    page.goto(f"{served}reckon/index.html")
    article = page.locator("article")
    assert [each.strip("¶ ") for each in article.locator("h2").all_inner_texts()] == list(by_subject(FORMULAS))
    links = article.locator("ul a").evaluate_all("(links) => links.map((link) => link.getAttribute('href'))")
    assert links == [f"{name}.html" for name in FORMULAS]


def test_page_says_where_the_formula_is_used(context: BrowserContext, served: str) -> None:
    page = opened(context, served, "covering-margin")
    uses = page.locator("h2:has-text('Used in') + ul a")
    assert uses.count() > 0
    address = uses.first.get_attribute("href")
    assert address and re.fullmatch(r"\.\./(walk/[a-z-]+\.html#[a-z-]+|remedies/[a-z-]+\.html)", address)
    page.goto(f"{served}reckon/{address}")
    assert page.title()
