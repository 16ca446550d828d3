"""Diagrams as they are seen on a phone: letters large enough and inside their symbols, links that lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

ROOT = Path(__file__).resolve().parent.parent.parent
TREES = sorted(each.stem for each in (ROOT / "trees").glob("*.yaml"))

SIZES = """all => all.map(text => parseFloat(getComputedStyle(text).fontSize) * text.getCTM().a
  * text.ownerSVGElement.getBoundingClientRect().width / text.ownerSVGElement.viewBox.baseVal.width)"""
OUTSIDE = """all => all.flatMap(node => {
  const shape = node.querySelector("polygon, rect, ellipse");
  const box = shape.getBBox();
  const middle = {x: box.x + box.width / 2, y: box.y + box.height / 2};
  const inside = (x, y) => {
    const across = Math.abs(x - middle.x) / (box.width / 2), down = Math.abs(y - middle.y) / (box.height / 2);
    return node.classList.contains("decision") ? across + down <= 1 : across <= 1 && down <= 1;
  };
  return [...node.querySelectorAll("text")].filter(text => {
    const line = text.getBBox(), half = line.height / 3;  // from the top of small letters to the base line
    const y = line.y + line.height / 2;
    return [line.x, line.x + line.width].some(x => ![y - half, y + half].every(each => inside(x, each)));
  }).map(text => text.textContent);
})"""


@pytest.fixture(scope="module")
def phone_page(chromium: Browser) -> Iterator[Page]:
    """One page that all trees are opened in, one after the other: each is a document of its own."""
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


@pytest.fixture(params=TREES, scope="module")
def overview(request: pytest.FixtureRequest, phone_page: Page, site: Path) -> Page:
    phone_page.goto((site / "trees" / f"{request.param}.html").as_uri())
    return phone_page


def test_letters_are_at_least_twelve_pixels_high_on_a_phone(overview: Page) -> None:
    sizes = overview.eval_on_selector_all("svg.flow text", SIZES)
    assert sizes and min(sizes) >= 12


def test_every_word_stays_inside_its_symbol(overview: Page) -> None:
    assert overview.locator("svg.flow g.node").count() > 5
    assert overview.eval_on_selector_all("svg.flow g.node", OUTSIDE) == []


def test_a_wide_diagram_scrolls_in_its_box_by_keyboard_and_the_page_does_not(overview: Page) -> None:
    assert overview.evaluate("document.documentElement.scrollWidth") <= 390
    boxes = overview.locator(".diagram")
    for place in range(boxes.count()):
        box = boxes.nth(place)
        assert box.get_attribute("tabindex") == "0" and box.get_attribute("role") == "region"
        assert box.get_attribute("aria-label")
    box = boxes.first
    assert box.evaluate("box => box.scrollWidth > box.clientWidth")
    box.focus()
    overview.keyboard.press("ArrowRight")
    overview.wait_for_function("box => box.scrollLeft > 0", arg=box.element_handle())


def test_the_entries_are_in_sight_without_scrolling(overview: Page) -> None:
    hidden = overview.evaluate(
        """() => [...document.querySelectorAll(".diagram")].flatMap(box => {
          const frame = box.getBoundingClientRect();
          return [...box.querySelectorAll("[id*='.in.'], [id*='.start.']")]
            .filter(node => node.tagName === "g" && node.classList.contains("node"))
            .filter(node => node.getBoundingClientRect().bottom > frame.bottom).map(node => node.id);
        })"""
    )
    assert hidden == []


def test_every_node_leads_to_a_page_and_shows_its_focus(overview: Page, site: Path) -> None:
    links = overview.locator("svg.flow a")
    for href in set(links.evaluate_all("all => all.map(each => each.getAttribute('href'))")):
        page, _, step = href.removeprefix("../").partition("#")
        assert f'id="{step}"' in (site / page).read_text(encoding="utf-8")
    overview.keyboard.press("Tab")  # so that focus is shown as for a keyboard
    link = links.first
    overview.evaluate("document.activeElement.blur()")
    before = link.evaluate("each => getComputedStyle(each.querySelector('polygon, rect, ellipse')).strokeWidth")
    link.focus()
    after = link.evaluate("each => getComputedStyle(each.querySelector('polygon, rect, ellipse')).strokeWidth")
    assert float(after.removesuffix("px")) >= float(before.removesuffix("px")) + 2


def test_lines_and_letters_take_the_colour_of_the_page_in_both_schemes(chromium: Browser, site: Path) -> None:
    for scheme in ("light", "dark"):
        context = chromium.new_context(color_scheme=scheme)  # type: ignore[arg-type]
        page = context.new_page()
        page.goto((site / "trees" / f"{TREES[0]}.html").as_uri())
        colours = page.evaluate(
            """() => {
              const style = (each, name) => getComputedStyle(each)[name];
              const svg = document.querySelector("svg.flow");
              return [style(svg.parentElement, "color"), style(svg.querySelector("g.node text"), "fill"),
                style(svg.querySelector("g.edge path"), "stroke")];
            }"""
        )
        assert len(set(colours)) == 1, scheme
        context.close()


def test_a_diagram_is_never_scaled_to_its_box(overview: Page) -> None:
    widths = overview.eval_on_selector_all(
        "svg.flow", "all => all.map(each => [each.getBoundingClientRect().width, each.viewBox.baseVal.width])"
    )
    assert all(shown == pytest.approx(drawn, abs=1) for shown, drawn in widths)
