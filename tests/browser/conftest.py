"""One browser, one built site and one server for all browser tests."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import setup_browser
from killing import Mortal
from playwright.sync_api import Browser, Page, expect, sync_playwright
from serving import serving
from walker import LONG, Walker, phone_context

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

expect.set_options(timeout=LONG)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark everything in this folder as a browser test."""
    for item in items:
        if Path(str(item.fspath)).parent == Path(__file__).parent:
            item.add_marker(pytest.mark.browser)


PROGRAM = setup_browser.browser()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Start the browser once."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=PROGRAM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def served(site: Path) -> Iterator[str]:
    """Serve the built site below a sub-path's root; gives its address with a slash at the end."""
    with serving(site.parent) as address:
        yield f"{address}{site.name}/"


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    """Give a fresh phone-sized page of a fresh phone."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    context.set_default_timeout(LONG)
    yield context.new_page()
    context.close()


@pytest.fixture
def walker(chromium: Browser, served: str) -> Iterator[Walker]:
    """A fresh phone that may ask nothing of any other host; a fault on the page fails the test."""
    context = phone_context(chromium)
    walker = Walker(context, served)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    yield walker
    assert walker.faults == []
    assert [each for each in asked if not each.startswith((served, "data:", "blob:"))] == []
    context.close()


@pytest.fixture
def mortal(chromium: Browser, tmp_path: Path) -> Iterator[Mortal]:
    """A phone whose browser can be killed."""
    options = {"executable_path": PROGRAM, "args": ARGUMENTS, "service_workers": "block", "has_touch": True}
    mortal = Mortal(chromium.browser_type, tmp_path / "phone", **options)
    yield mortal
    mortal.context.close()


@pytest.fixture
def phones(chromium: Browser, served: str) -> Iterator[tuple[Walker, Walker]]:
    """The adviser's phone, and one there; a fault on either fails the test."""
    contexts = [phone_context(chromium), phone_context(chromium)]
    adviser, there = (Walker(context, served) for context in contexts)
    yield adviser, there
    assert adviser.faults + there.faults == []
    for context in contexts:
        context.close()
