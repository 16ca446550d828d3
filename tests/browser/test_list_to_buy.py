"""A remedy's list to buy on a phone: the sizes go in once, the list stands beside the words, and goes out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest
from guides import the_guide
from own_tables import FORMULAS
from playwright.sync_api import Browser, BrowserContext, Page, expect
from walked import WALKS
from walker import Walker, way_to

from build_tools.proof.take_off import taken
from build_tools.sources.term_links import plain_words

REMEDY = "side-gutter-under-the-tiles"
SIZES = {"width_mm": "780", "height_mm": "1180", "gauge_mm": "345", "pitch_deg": "22.5"}


@cache
def said(remedy: str, lights: int = 1) -> list[str]:
    """Give what the shell says of every material that is reckoned."""
    values = {**{name: float(text) for name, text in SIZES.items()}, "lights_count": lights, "waste_percent": 10.0}
    return [each.said for each in taken(the_guide().remedy(remedy).remedy, FORMULAS["take-off"], values) if each.said]


@pytest.fixture
def context(chromium: Browser, served: str) -> Iterator[BrowserContext]:
    """A fresh phone; what goes wrong in the scripts, or is asked of another host, fails the test."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    faults: list[str] = []
    context.on("weberror", lambda fault: faults.append(str(fault.error)))
    context.on("request", lambda request: request.url.startswith((served, "data:")) or faults.append(request.url))
    yield context
    context.close()
    assert faults == []


def opened(context: BrowserContext, served: str, remedy: str = REMEDY) -> Page:
    page = context.new_page()
    page.goto(f"{served}remedies/{remedy}.html")
    return page


def fill(page: Page) -> None:
    page.get_by_text("List to buy: give the sizes").click()
    for name, value in SIZES.items():
        page.locator(f"[name={name}]").fill(value)


def shown(page: Page) -> list[str]:
    texts = page.locator("[data-taken]").all_text_contents()
    return [text.removeprefix("→ ").removesuffix(".") for text in texts if text]


def test_list_stands_offline_beside_the_words_as_the_shell_says_it(context: BrowserContext, served: str) -> None:
    page = opened(context, served)
    expect(page.locator("[data-offline-text]").first).to_contain_text("The whole guide is saved")
    context.set_offline(True)
    page.reload()
    assert shown(page) == []
    fill(page)
    assert shown(page) == said(REMEDY)
    page.locator("[name=lights_count]").fill("3")
    assert shown(page) == said(REMEDY, 3)
    words = page.locator("[data-material]").all_text_contents()
    assert len(words) == len(the_guide().remedy(REMEDY).remedy.materials)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_sizes_are_typed_once_for_every_remedy(context: BrowserContext, served: str) -> None:
    fill(opened(context, served))
    other = opened(context, served, "lift-and-re-bed-the-glass")
    expect(other.locator("[name=width_mm]")).to_have_value("780")
    assert shown(other) == said("lift-and-re-bed-the-glass")
    expect(other.locator("[name=width_mm]")).to_be_visible()
    other.locator("[name=width_mm]").fill("980")
    again = opened(context, served)
    expect(again.locator("[name=width_mm]")).to_have_value("980")
    expect(again.locator("[name=gauge_mm]")).to_have_value("345")
    again.get_by_role("button", name="Clear the form").click()
    again.get_by_role("button", name="Clear it").click()
    assert shown(again) == []


def test_blank_or_absurd_size_gets_one_sentence_beside_it(context: BrowserContext, served: str) -> None:
    page = opened(context, served)
    page.get_by_text("List to buy: give the sizes").click()
    page.locator("[name=height_mm]").fill("1180")
    assert "Still wanted: Gauge of the covering" in shown(page)
    page.locator("[name=width_mm]").fill("7")
    page.locator("[name=width_mm]").blur()
    expect(page.locator("[data-error=width_mm]")).to_have_text(
        "Width of the light: it has to be from 100 to 10000 mm. Look at the number again."
    )
    assert shown(page) == []


def test_list_is_copied_whole_and_printed(context: BrowserContext, served: str) -> None:
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page = opened(context, served)
    fill(page)
    page.get_by_role("button", name="Copy as text").click()
    expect(page.locator("[data-said]")).to_have_text("Copied. Paste it into a message.")
    text = page.evaluate("navigator.clipboard.readText()")
    remedy = the_guide().remedy(REMEDY).remedy
    assert text.startswith(f"{remedy.title}: list to buy, ")
    assert "Width of the light: 780 mm\n" in text and "run" not in text.split("\n\n")[1]
    listed = [line for line in text.split("\n\n")[2].splitlines()]
    assert len(listed) == len(remedy.materials)
    for number, (line, material) in enumerate(zip(listed, remedy.materials, strict=True), start=1):
        assert line.startswith(f"{number}. {plain_words(material.item)}: {plain_words(material.quantity)}")
        assert "Reckon it" not in line
    assert all(any(line.endswith(f"→ {each}.") for line in listed) for each in said(REMEDY))
    assert f"Reckoned with take-off {FORMULAS['take-off'].fingerprint()}, guide of " in text
    page.emulate_media(media="print")
    expect(page.locator("[data-taken]").first).to_be_visible()
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_hidden()


def test_without_sizes_the_printed_page_has_words_only(context: BrowserContext, served: str) -> None:
    page = opened(context, served)
    page.emulate_media(media="print")
    expect(page.locator("[data-material]").first).to_be_visible()
    expect(page.get_by_text("List to buy: give the sizes")).to_be_hidden()


def test_without_script_the_words_stand_as_they_were(chromium: Browser, served: str) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served}remedies/{REMEDY}.html")
    expect(page.locator("[data-material]").first).to_be_visible()
    expect(page.get_by_text("List to buy: give the sizes")).to_be_hidden()
    expect(page.get_by_role("button", name="Copy as text")).to_be_hidden()
    context.close()


def test_end_of_a_walk_has_its_list_and_takes_it_into_the_finding(walker: Walker) -> None:
    tree = "flat-glass-on-an-upstand"
    steps = {step: data["remedy"] for step, data in WALKS[tree]["steps"].items() if data["kind"] == "remedy"}
    end = next(step for step, remedy in steps.items() if remedy == REMEDY)
    page = walker.begin(tree)
    walker.walk(*way_to(WALKS[tree], end))
    section = page.locator(f"[data-step={end}]")
    section.get_by_text("List to buy: give the sizes").click()
    for name, value in SIZES.items():
        section.locator(f"[name={name}]").fill(value)
    texts = [text.removeprefix("→ ").removesuffix(".") for text in section.locator("[data-taken]").all_text_contents()]
    assert texts == said(REMEDY)
    others = page.locator("[data-module=take-off] [name=height_mm]").evaluate_all(
        "(all) => all.map((one) => one.value)"
    )
    assert len(others) > 1 and set(others) == {SIZES["height_mm"]}
    section.get_by_role("button", name="The finding: keep, print or send it").click()
    finding = page.locator("[data-list=finding]").inner_text()
    assert all(f"→ {each}." in finding for each in said(REMEDY))
    assert "Reckon it" not in finding and "Limits." not in finding
