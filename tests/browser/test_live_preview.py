"""The live preview in an open page: it follows the sources, a mistake lies over it, and what was typed stays."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from guides import edit, good_guide, with_site
from playwright.sync_api import Browser, FrameLocator, Page, expect
from previews import LONG_SECONDS, Preview
from serving import serving
from walker import Walker, phone_context

from build_tools.proof.checks import check
from build_tools.site.publish import publish

SHED = "trees/potting-shed.yaml"
RIGHT, WRONG = "starts-at: drip-in-rain", "starts-at: drip-in-rein"
LONG = LONG_SECONDS * 1000


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return with_site(good_guide(tmp_path / "guide"))


@pytest.fixture
def preview(project: Path) -> Iterator[Preview]:
    with Preview(project) as preview:
        yield preview


@pytest.fixture
def walker(chromium: Browser, preview: Preview) -> Iterator[Walker]:
    """A fresh phone that looks at the preview; a fault on the page fails the test."""
    context = phone_context(chromium)
    walker = Walker(context, preview.address)
    yield walker
    assert walker.faults == []
    context.close()


def cover(page: Page) -> FrameLocator:
    return page.frame_locator("iframe[title='A mistake in the sources']")


def expect_no_cover(page: Page) -> None:
    expect(page.locator("iframe[title='A mistake in the sources']")).to_have_count(0, timeout=LONG)


def test_mistake_lies_over_the_page_and_all_comes_back_when_it_is_mended(project: Path, walker: Walker) -> None:
    page = walker.begin("potting-shed")
    walker.walk("yes")
    page.click("[data-part=note] summary")
    page.fill("[data-field=seen]", "drops in the lower corner")
    page.evaluate("scrollTo({ top: 260, behavior: 'instant' })")
    address, asked, top = page.url, walker.asked, page.evaluate("scrollY")
    assert top > 100
    edit(project, SHED, RIGHT, WRONG)
    item = cover(page).locator("li").first
    expect(item).to_contain_text(f'{SHED}:9:1: error: "drip-in-rein" is not a step of this tree.', timeout=LONG)
    expect(item.locator("pre")).to_have_text(WRONG)
    assert page.url == address
    edit(project, SHED, WRONG, RIGHT)
    edit(project, SHED, "Do plain tiles cover the roof?", "Do small plain tiles cover the roof?")
    expect(page.locator(f"#{asked} h2")).to_have_text("Do small plain tiles cover the roof?", timeout=LONG)
    expect_no_cover(page)
    page.wait_for_function("(top) => Math.abs(scrollY - top) < 2", arg=top)
    page.wait_for_selector("html.js")
    assert (page.url, walker.asked) == (address, asked)
    assert page.input_value("[data-field=seen]") == "drops in the lower corner"
    assert [entry["answer"] for entry in walker.runs()[0]["entries"]] == ["yes"]


def test_numbers_typed_on_a_page_that_keeps_none_come_back(project: Path, walker: Walker) -> None:
    page = walker.page
    page.goto(f"{walker.base}reckon/sheet-lap.html")
    form = page.locator("form[data-module=reckon]")
    form.locator("[name=pitch_deg]").fill("17")
    edit(project, SHED, RIGHT, WRONG)
    expect(cover(page).locator("li")).to_have_count(1, timeout=LONG)
    edit(project, SHED, WRONG, RIGHT)
    expect_no_cover(page)
    expect(form.locator("[name=pitch_deg]")).to_have_value("17")
    expect(form.locator("[data-result]")).to_be_visible()


def test_page_stays_to_be_looked_at_behind_the_message(project: Path, walker: Walker) -> None:
    page = walker.open("potting-shed")
    edit(project, SHED, RIGHT, WRONG)
    button = cover(page).get_by_role("button", name="Look at the page as it was last")
    button.click(timeout=LONG)
    expect_no_cover(page)
    expect(page.locator("[data-act=new-light]")).to_be_visible()
    page.goto(f"{walker.base}trees/potting-shed.html")
    expect(cover(page).locator("h1")).to_have_text("The sources do not pass the check", timeout=LONG)
    edit(project, SHED, WRONG, RIGHT)
    expect_no_cover(page)


def test_template_that_fails_at_the_open_page_covers_it(project: Path, walker: Walker) -> None:
    page = walker.open("potting-shed")
    edit(project, "site_overrides/pages/walk.html", "<body data-version", "{{ tree.no_such }}\n<body data-version")
    expect(cover(page).locator("pre")).to_contain_text("site_overrides/pages/walk.html:", timeout=LONG)
    page.reload()
    expect(page.locator("[data-act=new-light]")).to_be_visible()
    expect(cover(page).locator("pre")).to_contain_text("'no_such'", timeout=LONG)
    edit(project, "site_overrides/pages/walk.html", "{{ tree.no_such }}\n<body data-version", "<body data-version")
    expect_no_cover(page)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_message_can_be_read_on_a_phone(chromium: Browser, project: Path, scheme: str) -> None:
    edit(project, SHED, RIGHT, f"starts-at: {'drip-in-rein-' * 20}x")
    edit(project, "trees/cold-pane.yaml", "starts-at", "start-at")
    context = phone_context(chromium, color_scheme=scheme)
    page = context.new_page()
    page.set_viewport_size({"width": 320, "height": 844})
    with Preview(project) as preview:
        page.goto(f"{preview.address}walk/potting-shed.html")
        expect(page.locator("li")).to_have_count(3, timeout=LONG)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert float(page.evaluate("parseFloat(getComputedStyle(document.querySelector('li p')).fontSize)")) >= 18
    paper = {"light": "rgb(255, 255, 255)", "dark": "rgb(27, 31, 36)"}[scheme]
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == paper
    context.close()


def test_worker_of_a_guide_saved_from_the_same_address_gives_way(chromium: Browser, project: Path) -> None:
    guide = check(project).guide
    assert guide is not None
    publish(project, guide, project / "site")
    context = phone_context(chromium, service_workers="allow")
    page = context.new_page()
    saved = page.locator("[data-offline-text]").first
    with serving(project / "site") as host:
        port, address = urlsplit(host).port, f"{host}index.html"
        page.goto(address)
        expect(saved).to_contain_text("The whole guide is saved on this phone", timeout=LONG)
    edit(project, "guide/index.md", "The shed", "The old shed")
    with Preview(project, port=port) as preview:
        assert urlsplit(preview.address).port == port
        page.goto(address)
        expect(page.locator("h1")).to_contain_text("The old shed", timeout=LONG)
        expect(saved).to_have_text("This is a preview: it is not saved on this phone.")
        assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
        assert page.evaluate("caches.keys()") == []
    context.close()
