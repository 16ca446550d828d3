"""The saved guide without a network, and the guide from a folder."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from pathlib import Path
from zipfile import ZipFile

import pytest
from host import Host, saved
from made_values import tried
from playwright.sync_api import Browser, Page, expect

SHARE = tried(4, 1)
"""One page in so many of each kind is opened daily, and every page with THOROUGH=1; `built_site` has read them all."""
ANSWERED = """async (addresses) => Object.fromEntries(await Promise.all(addresses.map(async (address) => {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await (await fetch(address)).arrayBuffer()));
    return [address, Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("")];
})))"""
"""What the worker answers for each address, as a hash."""


def _pages(site: Path) -> list[str]:
    addresses = sorted(each.relative_to(site).as_posix() for each in site.rglob("*.html"))
    return [each for each in addresses if each != "404.html"]


def _some(pages: list[str], first: int) -> list[str]:
    """Give one page in SHARE of each kind, which is its folder, but always one of each."""
    kinds: dict[str, list[str]] = defaultdict(list)
    for each in pages:
        kinds[each.rpartition("/")[0]].append(each)
    return [page for those in kinds.values() for page in those[min(first, len(those) - 1) :: SHARE]]


def test_guide_answers_with_every_page_after_the_host_is_gone(site: Path, phone: Page) -> None:
    host = Host(site)
    phone.goto(f"{host.address}index.html")
    saved(phone)
    host.stop()
    phone.context.set_offline(True)
    published = {each: hashlib.sha256((site / each).read_bytes()).hexdigest() for each in _pages(site)}
    assert phone.evaluate(ANSWERED, list(published)) == published
    for address in _some(list(published), first=0):
        answer = phone.goto(f"{host.address}{address}?v=1#x")
        assert answer is not None and answer.ok, address


def test_guide_answers_an_unknown_page_with_its_start_when_offline(site: Path, phone: Page) -> None:
    host = Host(site)
    phone.goto(f"{host.address}index.html")
    saved(phone)
    host.stop()
    phone.goto(f"{host.address}deep/down/nowhere.html")
    assert phone.url == f"{host.address}index.html"


def test_archive_opens_from_a_folder_and_says_so(site: Path, phone: Page, tmp_path: Path) -> None:
    with ZipFile(site / "guide.zip") as archive:
        archive.extractall(tmp_path)
    phone.goto((tmp_path / "rooflight-leak-guide" / "index.html").as_uri())
    expect(phone.locator("[data-offline-text]").first).to_have_text("This is a copy in a folder. It needs no signal.")


@pytest.mark.parametrize(("scheme", "first"), [("http", 1), ("file", 2)])
def test_no_page_asks_anything_of_another_host_or_breaks_its_policy(
    site: Path, served: str, chromium: Browser, scheme: str, first: int
) -> None:
    base = served if scheme == "http" else f"{site.as_uri()}/"
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    for address in _some(_pages(site), first % SHARE):
        page.goto(base + address)
    assert [each for each in asked if not each.startswith((base, "data:", "blob:", "file:"))] == []
    assert said == []
    context.close()


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_search_finds_a_question(site: Path, served: str, phone: Page, scheme: str) -> None:
    base = served if scheme == "http" else f"{site.as_uri()}/"
    phone.goto(f"{base}index.html")
    phone.locator("label[for=__search]").first.click()
    expect(phone.locator(".md-search-result__meta")).to_have_text("Type a word, such as lead or mist")
    phone.locator("[data-md-component=search-query]").press_sequentially("ceiling sag")
    expect(phone.locator(".md-search-result__link").first).to_be_visible()


def test_archive_is_offered_on_the_first_page(site: Path, served: str, phone: Page) -> None:
    phone.goto(f"{served}index.html")
    with phone.expect_download() as download:
        phone.get_by_role("link", name="the whole guide in one archive").click()
    assert Path(download.value.path()).read_bytes() == (site / "guide.zip").read_bytes()
