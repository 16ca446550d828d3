"""A way sent out and brought back, by link and by text, between two phones that share nothing."""

from __future__ import annotations

import base64
import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect
from walked import ANSWERS, LINE, NEXT, STEPS, TREE, UP, WALKS
from walker import SHOWN, Walker, phone_context, value_of, way_to


def _altered(link: str) -> str:
    """A link whose body was changed on the way, to another that reads as well."""
    body = base64.urlsafe_b64encode(json.dumps({**value_of(link), "l": "Z"}).encode()).decode().rstrip("=")
    head, _, tail = link.rsplit(".", 2)
    return f"{head}.{body}.{tail}"


def test_way_goes_out_as_a_link_and_is_taken_over(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    page.click("[data-part=note] summary")
    page.fill("[data-field=seen]", "größer als eine Hand – 5 °C")
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    text = page.input_value("[data-field=text]")
    assert text.splitlines()[0] == f"Light A: {WALKS[TREE]['tree']['title']}"
    assert "Seen: größer als eine Hand – 5 °C" in text
    other = there.follow(adviser.link)
    expect(other.locator("[data-list=incoming] li")).to_have_count(len(LINE))
    assert there.runs() == []
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert there.way() == LINE
    own, taken = adviser.runs()[0]["entries"], there.runs()[0]["entries"]
    assert [each["question"] for each in taken] == [each["question"] for each in own]
    assert [each["words"] for each in taken] == [each["words"] for each in own]
    assert [each["closed"] for each in taken] == [each["closed"] for each in own]
    assert taken[0]["seen"] == "größer als eine Hand – 5 °C"


def test_way_comes_back_into_the_light_it_left(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS[:1])
    adviser.act("send-way")
    other = there.follow(adviser.link)
    other.locator("[data-list=incoming-choices] button").first.click()
    there.walk(*ANSWERS[1:])
    there.act("send-way")
    page = adviser.follow(there.link)
    choice = page.locator("[data-list=incoming-choices] button", has_text="For light A")
    expect(choice).to_contain_text("It has 1 answer here. New or different: 2.")
    assert adviser.way() == LINE[:1]
    (before,) = adviser.runs()
    choice.click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert adviser.way() == LINE
    (after,) = adviser.runs()
    assert len(after["entries"]) == len(LINE)
    assert after["entries"][0]["at"] == before["entries"][0]["at"]


def test_taking_over_sets_other_answers_aside_and_loses_none(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    link = adviser.link
    there.begin(TREE)
    other = next(answer for answer in STEPS[LINE[0][0]]["exits"] if answer != ANSWERS[0])
    there.walk(other)
    page = there.follow(link)
    page.locator("[data-list=incoming-choices] button", has_text="For light A").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    (run,) = there.runs()
    aside = [(each["step"], each["answer"]) for each in run["entries"] if each.get("superseded")]
    assert aside == [(LINE[0][0], other)]


def test_leaving_incoming_answers_changes_nothing(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    there.begin(TREE)
    before = there.runs()
    other = there.follow(adviser.link)
    other.locator("[data-list=incoming-choices] button", has_text="Leave it").click()
    expect(other.locator("[data-screen=lights]")).to_be_visible()
    assert there.runs() == before


def test_gates_come_back_closed(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    assert adviser.asked == UP
    adviser.act("send-way")
    other = there.follow(adviser.link)
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector(SHOWN)
    assert there.asked in STEPS[UP]["guards"]
    expect(other.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    assert there.runs()[0]["gates"] == {}


def test_answers_from_another_version_say_so(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    page.evaluate(
        """async () => {
          const store = await PhoneStore.open(Runs.KIND);
          const [run] = await idbKeyval.values(store);
          run.entries[0].version = '0.9.0';
          await idbKeyval.set(run.id, run, store);
        }"""
    )
    page.reload()
    page.wait_for_selector(SHOWN)
    adviser.act("send-way")
    other = there.follow(adviser.link)
    expect(other.locator("[data-list=incoming-says]")).to_contain_text("They were given to version 0.9.0")


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda link: link[:-40], "broken or was cut off"),
        (_altered, "broken or was cut off"),
        (lambda link: re.sub(r"#way=1\.", "#way=2.", link), "made by a newer guide"),
        (lambda link: link.split("#")[0] + "#way=1.e30.0", "broken or was cut off"),
        (lambda link: link.split("#")[0] + "#reply=", "broken or was cut off"),
    ],
)
def test_a_broken_link_says_so_in_a_sentence(phones: tuple[Walker, Walker], spoil: Any, says: str) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    other = there.follow(spoil(adviser.link))
    expect(other.locator("[data-list=incoming-says]")).to_contain_text(says)
    assert there.runs() == []


def test_a_forged_way_opens_nothing_and_is_shown_as_text(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    forged = page.evaluate(
        """([tree, up]) => {
          const said = { a: "yes", n: "<img src=x onerror=alert(1)>", m: 1, k: "gate", q: "<script>" };
          const entry = { t: tree, v: "<i>", s: up, to: [tree, up], ...said };
          return Links.wrap("way", { i: "x", l: "<b>A</b>", b: 1, f: [tree, up], e: [entry] });
        }""",
        [TREE, UP],
    )
    other = there.follow(page.url.split("#")[0] + forged)
    expect(other.locator("[data-list=incoming] li").first).to_contain_text("<img src=x onerror=alert(1)>")
    assert other.locator("main img[src=x], main b, main script").count() == 0
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector(SHOWN)
    assert there.asked == WALKS[TREE]["start"] or there.asked in STEPS[UP]["guards"]


def test_a_pasted_link_is_opened(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    link = adviser.link
    other = there.open(TREE)
    other.click("summary:has-text('Bring answers back')")
    other.fill("[data-field=pasted]", "https://elsewhere.example/")
    there.act("open-pasted")
    expect(other.locator("[data-part=bring-fault]")).to_contain_text("not a link from a walk")
    other.fill("[data-field=pasted]", link)
    there.act("open-pasted")
    expect(other.locator("[data-list=incoming] li")).to_have_count(len(LINE))


def test_sharing_falls_back_to_the_clipboard_and_then_to_marked_text(phones: tuple[Walker, Walker]) -> None:
    adviser, _ = phones
    adviser.page.add_init_script(
        "if (navigator.clipboard) navigator.clipboard.writeText = async (text) => { window.copied = text; }"
    )
    page = adviser.begin(TREE)
    adviser.act("send-way")
    adviser.act("share-text")
    expect(page.locator("[data-part=sent]")).to_have_text("Copied. Paste it into a message.")
    assert page.evaluate("window.copied") == page.input_value("[data-field=text]")
    page.evaluate("() => { navigator.share = async (what) => { window.shared = what; }; }")
    adviser.act("share-link")
    expect(page.locator("[data-part=sent]")).to_have_text("Handed over to be sent.")
    assert page.evaluate("window.shared.url") == adviser.link
    page.evaluate("() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; }")
    adviser.act("copy-link")
    expect(page.locator("[data-part=sent]")).to_contain_text("It is marked below")
    marked = "(() => { const f = document.activeElement; return f.value.slice(f.selectionStart, f.selectionEnd); })()"
    assert page.evaluate(marked) == adviser.link


def test_a_copy_in_a_folder_offers_text_alone(chromium: Browser, site: Path) -> None:
    context = phone_context(chromium)
    walker = Walker(context, f"{site.as_uri()}/")
    page = walker.begin(TREE)
    walker.act("send-way")
    expect(page.locator("[data-part=no-link]")).to_be_visible()
    expect(page.locator("[data-part=send-link]")).to_be_hidden()
    context.close()
