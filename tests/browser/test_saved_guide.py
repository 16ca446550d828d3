"""The saved guide: whole or not at all, without a network, and from a folder."""

from __future__ import annotations

import shutil
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from zipfile import ZipFile

import pytest
from playwright.sync_api import Browser, Page, expect

SAVED = "The whole guide is saved on this phone"


class _Host:
    """A host whose folder and life the test controls."""

    def __init__(self, folder: Path) -> None:
        self.missing: set[str] = set()
        host = self

        class Handler(SimpleHTTPRequestHandler):
            def log_message(self, *_: object) -> None:
                """Say nothing."""

            def send_head(self):  # type: ignore[no-untyped-def]
                if self.path.lstrip("/") in host.missing:
                    self.send_error(503)
                    return None
                return super().send_head()

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder)))
        self.address = f"http://127.0.0.1:{self.server.server_port}/"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def stop(self) -> None:
        self.server.shutdown()
        self.server.server_close()


def _pages(site: Path) -> list[str]:
    addresses = sorted(each.relative_to(site).as_posix() for each in site.rglob("*.html"))
    return [each for each in addresses if each != "404.html"]


def _saved(page: Page) -> None:
    expect(page.locator("[data-offline-text]").first).to_contain_text(SAVED)


def test_guide_opens_every_page_after_the_host_is_gone(site: Path, phone: Page) -> None:
    host = _Host(site)
    phone.goto(f"{host.address}index.html")
    _saved(phone)
    host.stop()
    phone.context.set_offline(True)
    for address in _pages(site):
        answer = phone.goto(f"{host.address}{address}?v=1#x")
        assert answer is not None and answer.ok, address


def test_guide_answers_an_unknown_page_with_its_start_when_offline(site: Path, phone: Page) -> None:
    host = _Host(site)
    phone.goto(f"{host.address}index.html")
    _saved(phone)
    host.stop()
    phone.goto(f"{host.address}deep/down/nowhere.html")
    assert phone.url == f"{host.address}index.html"


def test_guide_is_not_called_saved_when_one_file_fails(site: Path, phone: Page) -> None:
    host = _Host(site)
    host.missing = {"terms.html"}
    phone.goto(f"{host.address}index.html")
    expect(phone.locator("[data-offline-text]").first).to_contain_text("could not be saved")
    assert phone.evaluate("caches.keys()") == []
    host.stop()


def test_newer_guide_waits_whole_until_it_is_taken(site: Path, phone: Page, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(site, copy)
    host = _Host(copy)
    phone.goto(f"{host.address}index.html")
    _saved(phone)
    terms = copy / "terms.html"
    terms.write_text(terms.read_text().replace("</body>", "<p>changed since</p></body>"))
    worker = copy / "sw.js"
    worker.write_text(worker.read_text().replace('"terms.html":"', '"terms.html":"f').replace('"hash":"', '"hash":"f'))
    asked: list[str] = []
    phone.context.on("request", lambda request: asked.append(request.url))
    phone.reload()
    button = phone.locator("[data-offline-use]").first
    expect(button).to_be_visible()
    assert "changed since" not in phone.evaluate(f"fetch('{host.address}terms.html').then(answer => answer.text())")
    with phone.expect_navigation():
        button.click()
    _saved(phone)
    assert "changed since" in phone.evaluate(f"fetch('{host.address}terms.html').then(answer => answer.text())")
    host.stop()


def test_archive_opens_from_a_folder_and_says_so(site: Path, phone: Page, tmp_path: Path) -> None:
    with ZipFile(site / "guide.zip") as archive:
        archive.extractall(tmp_path)
    phone.goto((tmp_path / "rooflight-leak-guide" / "index.html").as_uri())
    expect(phone.locator("[data-offline-text]").first).to_have_text("This is a copy in a folder. It needs no signal.")


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_no_page_asks_anything_of_another_host_or_breaks_its_policy(
    site: Path, served: str, chromium: Browser, scheme: str
) -> None:
    base = served if scheme == "http" else f"{site.as_uri()}/"
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    for address in _pages(site):
        page.goto(base + address)
    assert [each for each in asked if not each.startswith((base, "data:", "blob:", "file:"))] == []
    assert said == []
    context.close()


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_search_finds_a_question(site: Path, served: str, phone: Page, scheme: str) -> None:
    base = served if scheme == "http" else f"{site.as_uri()}/"
    phone.goto(f"{base}index.html")
    phone.locator("label[for=__search]").first.click()
    expect(phone.locator(".md-search-result__meta")).to_have_text("Type to start searching")
    phone.locator("[data-md-component=search-query]").press_sequentially("ceiling sag")
    expect(phone.locator(".md-search-result__link").first).to_be_visible()


def test_archive_is_offered_on_the_first_page(site: Path, served: str, phone: Page) -> None:
    phone.goto(f"{served}index.html")
    with phone.expect_download() as download:
        phone.get_by_role("link", name="the whole guide in one archive").click()
    assert Path(download.value.path()).read_bytes() == (site / "guide.zip").read_bytes()
