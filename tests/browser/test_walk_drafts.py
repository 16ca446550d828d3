"""What is half typed is kept with every letter: it outlives a killed browser, a reload, and a newer guide."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from host import Host, publish_again, saved, thin
from killing import Mortal
from playwright.sync_api import Browser, Page, expect
from walked import ANSWERS, LINE, STEPS, TREE
from walker import SHOWN, STORE, Walker, phone_context

HALF = "half a line"
KEPT = f"(text) => {STORE}.then((store) => idbKeyval.values(store)).then((all) => JSON.stringify(all).includes(text))"
TYPED = """(text) => PhoneStore.open('rooflight-typed').then((store) => idbKeyval.values(store))
  .then((all) => JSON.stringify(all).includes(text))"""


def _type(page: Page, field: str, kept: str = KEPT) -> None:
    """Type letter by letter, leave the cursor there, and wait until the letters are kept."""
    page.locator(field).press_sequentially(HALF)
    page.wait_for_function(kept, arg=HALF)
    _settled(page)


def _settled(page: Page) -> None:
    """Wait until it is on the disk: a page reads back what it has written before that."""
    assert page.evaluate("PhoneStore.settled()")


def _name(walker: Walker) -> None:
    walker.act("way")
    walker.page.fill("[data-field=light]", "")


def _place(walker: Walker) -> None:
    # Its button stands at the ends of a walk, which may lie far off.
    walker.page.locator("[data-act=finding]").first.dispatch_event("click")


def _later_note(walker: Walker) -> None:
    walker.act("way")
    _open_note(walker)


def _open_note(walker: Walker) -> None:
    note = f"[data-list=way] li:has-text({STEPS[LINE[0][0]]['title']!r}) button"
    walker.page.locator(note).last.click()


FIELDS: dict[str, tuple[Callable[[Walker], None], str]] = {
    "name of a light": (_name, "[data-field=light]"),
    "place of a finding": (_place, "[data-field=place]"),
    "note written afterwards": (_later_note, "[data-field=note-seen]"),
}


@pytest.mark.parametrize("what", FIELDS)
def test_words_of_a_walk_outlive_a_killed_browser_and_a_reload(mortal: Mortal, served: str, what: str) -> None:
    go, field = FIELDS[what]
    walker = Walker(mortal.context, served)
    walker.begin(TREE)
    walker.walk(*ANSWERS)
    go(walker)
    _type(walker.page, field)
    again = Walker(mortal.kill(), served)
    page = again.open(TREE)
    page.locator("[data-list=lights] button").click()
    page.wait_for_selector(SHOWN)
    go_again = {"name of a light": lambda: again.act("way")}.get(what, lambda: go(again))
    go_again()
    assert page.input_value(field) == HALF
    page.reload()
    page.wait_for_selector(SHOWN)
    go_again()
    assert page.input_value(field) == HALF


def test_a_half_written_later_note_is_no_note_until_it_is_kept(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    _later_note(walker)
    _type(page, "[data-field=note-seen]")
    assert walker.runs()[0]["entries"][0]["seen"] == ""
    page.reload()
    page.wait_for_selector(SHOWN)
    walker.act("way")
    page.get_by_role("button", name="Go on with the half-written note").click()
    walker.act("leave-note")
    expect(page.get_by_role("button", name="Go on with")).to_have_count(0)
    _open_note(walker)
    page.fill("[data-field=note-seen]", "a whole line")
    walker.act("save-note")
    expect(page.locator("[data-list=way]")).to_contain_text("Seen: a whole line")
    page.wait_for_function(KEPT, arg="a whole line")
    (run,) = walker.runs()
    assert (run["entries"][0]["seen"], "draft" in run["entries"][0]) == ("a whole line", False)


def test_a_name_that_is_cleared_stays_what_it_was(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.act("way")
    page.fill("[data-field=light]", "")
    page.locator("[data-field=light]").press_sequentially("Kitchen")
    page.locator("[data-field=light]").blur()
    for _ in "Kitchen":
        page.press("[data-field=light]", "Backspace")
    page.locator("[data-field=light]").blur()
    expect(page.locator("[data-field=light]")).to_have_value("Kitchen")
    page.wait_for_function(KEPT, arg='"light":"Kitchen"')


def test_the_note_of_a_reply_outlives_a_killed_browser_until_it_is_sent(mortal: Mortal, served: str) -> None:
    asker = Walker(mortal.context, served)
    asker.begin(TREE)
    asker.act("send-question")
    link = asker.link
    asker.page.evaluate(f"{STORE}.then((store) => idbKeyval.clear(store))")
    there = Walker(mortal.context, served)
    there.follow(link)
    there.page.click("[data-part=note] summary")
    _type(there.page, "[data-field=seen]", TYPED)
    again = Walker(mortal.kill(), served)
    page = again.follow(link)
    page.wait_for_selector(SHOWN)
    assert page.input_value("[data-field=seen]") == HALF
    assert again.runs() == []
    page.click(f"{SHOWN} [data-answer={ANSWERS[0]}]")
    page.evaluate("() => { navigator.share = async () => {}; }")
    again.act("share-text")
    expect(page.locator("[data-part=sent]")).to_be_visible()
    page.wait_for_function(f"(text) => ({TYPED})(text).then((there) => !there)", arg=HALF)


def test_fields_of_a_calculation_outlive_a_killed_browser(mortal: Mortal, served: str) -> None:
    page = mortal.context.new_page()
    page.goto(f"{served}reckon/sheet-lap.html")
    page.locator("[name=pitch_deg]").press_sequentially("15")
    page.wait_for_function("Typed.read('reckoning sheet-lap').then((kept) => kept.pitch_deg === '15')")
    _settled(page)
    again = mortal.kill().new_page()
    again.goto(f"{served}reckon/sheet-lap.html")
    expect(again.locator("[name=pitch_deg]")).to_have_value("15")


def test_a_newer_guide_reloads_only_where_it_is_taken_and_loses_no_word(
    site: Path, chromium: Browser, tmp_path: Path
) -> None:
    folder = shutil.copytree(site, tmp_path / "copy")
    thin(folder, "paper/", "reckon/", "remedies/", "trees/", "drawings/", "licences/", "icons/")
    host = Host(folder)
    context = phone_context(chromium, service_workers="allow")
    walker = Walker(context, host.address)
    walker.begin(TREE)
    saved(walker.page)
    walker.walk(*ANSWERS)
    _later_note(walker)
    walker.page.fill("[data-field=note-seen]", HALF)
    walker.page.evaluate("window.sameAsBefore = true")
    publish_again(folder, "terms.html", (folder / "terms.html").read_bytes() + b"<!-- newer -->")
    other = Walker(context, host.address)
    other.begin(TREE)
    other.page.click("[data-part=note] summary")
    other.page.locator("[data-field=seen]").press_sequentially("seen by the other")
    take = other.page.locator("[data-offline-use]")
    expect(take).to_be_visible()
    with other.page.expect_navigation():
        take.click()
    other.page.wait_for_selector(SHOWN)
    assert other.page.input_value("[data-field=seen]") == "seen by the other"
    # The worker in use has changed for all pages; the one that was not asked stands, and offers it.
    expect(walker.page.locator("[data-offline-use]")).to_be_visible()
    assert walker.page.evaluate("window.sameAsBefore") is True
    assert walker.page.input_value("[data-field=note-seen]") == HALF
    with walker.page.expect_navigation():
        walker.page.locator("[data-offline-use]").click()
    walker.page.wait_for_selector(SHOWN)
    _later_note(walker)
    assert walker.page.input_value("[data-field=note-seen]") == HALF
    context.close()
    host.stop()


def test_a_page_whose_words_cannot_be_kept_is_not_reloaded(site: Path, chromium: Browser, tmp_path: Path) -> None:
    folder = shutil.copytree(site, tmp_path / "copy")
    thin(folder, "paper/", "reckon/", "remedies/", "trees/", "drawings/", "licences/", "icons/")
    host = Host(folder)
    context = phone_context(chromium, service_workers="allow")
    walker = Walker(context, host.address)
    walker.page.add_init_script("indexedDB.open = () => { throw new DOMException('no', 'SecurityError'); }")
    page = walker.begin(TREE)
    saved(page)
    publish_again(folder, "terms.html", (folder / "terms.html").read_bytes() + b"<!-- newer -->")
    page.evaluate("navigator.serviceWorker.getRegistration().then((guide) => guide.update())")
    expect(page.locator("[data-offline-use]")).to_be_visible()
    page.click("[data-part=note] summary")
    page.locator("[data-field=seen]").press_sequentially(HALF)
    page.locator("[data-offline-use]").click()
    expect(page.locator("[data-offline-text]")).to_contain_text("could not be kept on this phone")
    assert page.input_value("[data-field=seen]") == HALF
    context.close()
    host.stop()
