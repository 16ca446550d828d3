"""The guide's own pages in the theme's frame: axe, both schemes, narrow phones, no script."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

AXE = Path(__file__).parent / "vendor" / "axe.min.js"
PAGES = [
    "index.html",
    "trees/index.html",
    "trees/flat-glass-on-an-upstand.html",
    "remedies/index.html",
    "remedies/side-gutter-under-the-tiles.html",
    "reckon/sheet-lap.html",
    "cautions.html",
    "terms.html",
    "sources.html",
    "rules.html",
    "writing-a-tree.html",
]
OF_THE_THEME = ".md-search, .md-header, .md-sidebar, .md-skip, .md-top"
"""The theme's own parts, whose faults are not ours to mend: its search dialog has no name."""


@pytest.fixture(scope="module", params=["light", "dark"])
def page(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A phone in each scheme; the policy is set aside for axe, which comes as inline script."""
    context = chromium.new_context(
        viewport={"width": 390, "height": 844}, color_scheme=request.param, bypass_csp=True, service_workers="block"
    )
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("address", PAGES)
def test_axe_finds_nothing_in_what_is_ours(page: Page, site: Path, address: str) -> None:
    page.goto((site / address).as_uri())
    page.evaluate("document.querySelectorAll('article details').forEach((each) => { each.open = true })")
    page.add_script_tag(path=AXE)
    found = page.evaluate(
        """(theirs) => axe.run({ exclude: theirs.split(", ").map((each) => [each]) }, {
             runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
           }).then((result) => result.violations.map((each) => [each.id, ...each.nodes.map((node) => node.html)]))""",
        OF_THE_THEME,
    )
    assert found == []


@pytest.mark.parametrize("address", PAGES)
def test_page_fits_a_phone_of_320(chromium: Browser, site: Path, address: str) -> None:
    page = chromium.new_page(viewport={"width": 320, "height": 640})
    page.goto((site / address).as_uri())
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.close()
    assert wide <= 320


def test_scheme_is_chosen_by_a_word_and_kept(chromium: Browser, served: str) -> None:
    context = chromium.new_context(
        viewport={"width": 390, "height": 844}, color_scheme="light", service_workers="block"
    )
    page = context.new_page()
    page.goto(f"{served}cautions.html")
    offered = page.locator("label.scheme:visible")
    assert offered.inner_text() == "Dark"
    assert min(offered.bounding_box()[side] for side in ("width", "height")) >= 40
    offered.click()
    assert offered.inner_text() == "Light"
    page.route("**/bundle.*.js", lambda route: route.abort())
    page.goto(f"{served}trees/index.html")
    assert page.get_attribute("body", "data-md-color-scheme") == "slate"
    context.close()


def test_pages_are_whole_without_script(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "trees/start-here.html").as_uri())
    assert "Does the wet ceiling sag?" in page.inner_text("article")
    page.get_by_role("link", name="Walk it").click()
    assert page.url.endswith("walk/start-here.html")
    context.close()
