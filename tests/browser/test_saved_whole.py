"""The saved guide is what it says: each file as it was published, counted, and whole before it is called whole."""

from __future__ import annotations

import json
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from host import Host, listed, publish_again, saved, says, thin
from playwright.sync_api import Page, expect

LOGIN = b"<!doctype html><title>Hotel network</title><form>Your room number <input></form>"
HASHES = """async () => {
  const all = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const sum = await crypto.subtle.digest("SHA-256", await (await cache.match(request)).arrayBuffer());
      const digits = [...new Uint8Array(sum)].map((byte) => byte.toString(16).padStart(2, "0"));
      all[new URL(request.url).pathname.slice(1)] = digits.join("").slice(0, 16);
    }
  }
  return all;
}"""


@pytest.fixture
def copy(site: Path, tmp_path: Path) -> Path:
    """A copy of the built site, to be published anew; a phone keeps only some of it."""
    return _thin(site, tmp_path / "copy")


@pytest.fixture
def host(copy: Path) -> Iterator[Host]:
    """A host of that copy."""
    host = Host(copy)
    yield host
    host.stop()


def _thin(site: Path, folder: Path) -> Path:
    shutil.copytree(site, folder)
    thin(folder, "paper/", "reckon/", "remedies/", "trees/", "drawings/", "licences/", "icons/")
    return folder


def _kept(page: Page) -> dict[str, str]:
    """Give the files that the phone keeps, with the hash of what it has of each."""
    return dict(page.evaluate(HASHES))


def _save_again(page: Page) -> None:
    page.locator("[data-offline-save]").first.click()


@pytest.mark.parametrize(
    ("path", "came"),
    [("sources.html", lambda content: content[:1500]), ("walk/soakers.html", lambda _: LOGIN)],
    ids=["cut file", "login page"],
)
def test_a_file_that_is_not_as_published_is_told_and_not_kept(
    copy: Path, host: Host, phone: Page, path: str, came: object
) -> None:
    host.alter = lambda asked, content: came(content) if asked == path else content  # type: ignore[operator]
    phone.goto(f"{host.address}index.html")
    says(phone, "Something else came than what was published")
    count = len(listed(copy))
    says(phone, f"Only {count - 1} of the {count} files of the guide are saved on this phone.")
    assert path not in _kept(phone)
    host.alter = lambda _, content: content
    host.asked.clear()
    _save_again(phone)
    saved(phone)
    assert _kept(phone) == listed(copy)
    assert [each for each in host.asked if each in listed(copy)] == [path]


def test_a_login_page_that_comes_half_way_is_never_kept_and_the_rest_is_fetched_later(
    copy: Path, host: Host, phone: Page
) -> None:
    files = listed(copy)
    seen: set[str] = set()

    def portal(asked: str, content: bytes) -> bytes:
        seen.add(asked)
        return content if len(seen) <= 40 or asked == "sw.js" else LOGIN

    host.alter = portal
    phone.goto(f"{host.address}index.html")
    says(phone, "a page to log in to the network")
    before = _kept(phone)
    assert 0 < len(before) < len(files)
    assert before.items() <= files.items()
    host.alter = lambda _, content: content
    host.asked.clear()
    _save_again(phone)
    saved(phone)
    assert _kept(phone) == files
    assert sorted(set(host.asked) & set(files)) == sorted(set(files) - set(before))


def test_a_page_of_another_visit_is_not_taken_over_into_a_newer_guide(copy: Path, host: Host, phone: Page) -> None:
    """What an earlier version kept unlooked, or a phone spoilt, does not live on."""
    phone.goto(f"{host.address}index.html")
    saved(phone)
    spoil = """async (login) => {
      const [name] = await caches.keys();
      const headers = { "content-type": "text/html" };
      await (await caches.open(name)).put("walk/soakers.html", new Response(login, { headers }));
    }"""
    phone.evaluate(spoil, LOGIN.decode())
    terms = (copy / "terms.html").read_bytes()
    publish_again(copy, "terms.html", terms.replace(b"</body>", b"<p>changed since</p></body>"))
    phone.reload()
    button = phone.locator("[data-offline-use]").first
    expect(button).to_be_visible()
    with phone.expect_navigation():
        button.click()
    saved(phone)
    assert _kept(phone) == listed(copy)


def test_a_guide_that_is_half_put_up_leaves_the_old_one_whole(copy: Path, host: Host, phone: Page) -> None:
    phone.goto(f"{host.address}index.html")
    saved(phone)
    old = (copy / "terms.html").read_bytes()
    publish_again(copy, "terms.html", old + b"<!-- new -->")
    host.alter = lambda asked, content: old if asked == "terms.html" else content
    phone.reload()
    says(phone, "A newer guide is not whole yet. Something else came than what was published")
    saved(phone)
    expect(phone.locator("[data-offline-use]").first).to_be_hidden()
    host.alter = lambda _, content: content
    _save_again(phone)
    expect(phone.locator("[data-offline-use]").first).to_be_visible()


def test_a_newer_guide_waits_whole_until_it_is_taken(copy: Path, host: Host, phone: Page) -> None:
    phone.goto(f"{host.address}index.html")
    saved(phone)
    terms = (copy / "terms.html").read_bytes()
    publish_again(copy, "terms.html", terms.replace(b"</body>", b"<p>changed since</p></body>"))
    host.asked.clear()
    phone.reload()
    button = phone.locator("[data-offline-use]").first
    expect(button).to_be_visible()
    read = f"fetch('{host.address}terms.html').then(answer => answer.text())"
    assert "changed since" not in phone.evaluate(read)
    assert [each for each in host.asked if each in listed(copy)] == ["terms.html"]
    with phone.expect_navigation():
        button.click()
    saved(phone)
    assert "changed since" in phone.evaluate(read)


def test_a_copy_that_was_cleared_is_not_called_saved_and_is_saved_again(host: Host, phone: Page) -> None:
    phone.goto(f"{host.address}index.html")
    saved(phone)
    clear = "async () => { for (const name of await caches.keys()) await caches.delete(name); }"
    phone.evaluate(clear)
    host.alter = lambda asked, content: (
        content if asked == "index.html" or "assets" in asked or "scripts" in asked else None
    )
    phone.reload()
    says(phone, "of the guide are saved on this phone.")
    says(phone, "Save again with a good signal.")
    phone.evaluate(clear)
    phone.context.set_offline(True)
    host.alter = lambda *_: None
    gone = phone.goto(f"{host.address}index.html")
    assert gone is not None and gone.status == 503
    expect(phone.locator("h1")).to_have_text("Not on this phone")
    phone.context.set_offline(False)
    host.alter = lambda _, content: content
    phone.goto(f"{host.address}index.html")
    saved(phone)


def test_a_copy_that_is_cleared_while_it_is_saved_is_saved_by_the_next_visit(host: Host, phone: Page) -> None:
    phone.goto(f"{host.address}index.html")
    saved(phone)
    clear = "async () => { for (const name of await caches.keys()) await caches.delete(name); }"
    phone.evaluate(clear)
    asked, go_on = threading.Event(), threading.Event()

    def slow(path: str, content: bytes) -> bytes:
        if path == "terms.html":
            asked.set()
            go_on.wait(60)
        return content

    host.alter = slow
    phone.reload()
    assert asked.wait(60)
    phone.evaluate(clear)
    phone.reload()
    says(phone, "Only 0 of the")
    go_on.set()
    saved(phone)


def test_two_guides_of_one_host_leave_each_other_alone(site: Path, phone: Page, tmp_path: Path) -> None:
    for name in ("one", "two"):
        _thin(site, tmp_path / name)
    terms = tmp_path / "two" / "terms.html"
    publish_again(tmp_path / "two", "terms.html", terms.read_bytes() + b"<!-- of two -->")
    host = Host(tmp_path)
    for name in ("one", "two"):
        phone.goto(f"{host.address}{name}/index.html")
        saved(phone)
    host.stop()
    phone.context.set_offline(True)
    for name in ("one", "two"):
        answer = phone.goto(f"{host.address}{name}/terms.html")
        assert answer is not None and answer.ok
        assert answer.body() == (tmp_path / name / "terms.html").read_bytes()
        saved(phone)


def test_the_copy_of_an_older_version_is_taken_over_and_cleared(copy: Path, host: Host, phone: Page) -> None:
    """Up to version 1.2.0 a cache was named without the folder."""
    keep = """async (login) => {
      const old = await caches.open("guide-0123456789abcdef");
      for (const path of ["terms.html", "sources.html"]) await old.put(path, await fetch(path));
      await old.put("cautions.html", new Response(login));
      await (await caches.open("guide-of-another")).put("elsewhere/terms.html", new Response("not ours"));
    }"""
    phone.goto(f"{host.address}licences.txt")
    phone.evaluate(keep, LOGIN.decode())
    host.asked.clear()
    phone.goto(f"{host.address}index.html")
    saved(phone)
    assert {"terms.html", "sources.html", "cautions.html"} & set(host.asked) == {"cautions.html"}
    assert _kept(phone)["cautions.html"] == listed(copy)["cautions.html"]
    names = json.loads(phone.evaluate("caches.keys().then(JSON.stringify)"))
    assert "guide-of-another" in names and "guide-0123456789abcdef" not in names
