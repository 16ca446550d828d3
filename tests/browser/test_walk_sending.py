"""Questions and answers sent out and brought back, by link and by text, between two phones that share nothing."""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from walker import SHOWN, Walker, line, phone_context, walks, way_to

WALKS = walks()
TREE, (LINE, NEXT) = next((name, line(walk, 3)) for name, walk in WALKS.items() if len(walk["steps"]) > 25)
STEPS = WALKS[TREE]["steps"]
ANSWERS = [answer for _, answer in LINE]
UP = next(name for name, step in STEPS.items() if step["needs"])


@pytest.fixture
def phones(chromium: Browser, served: str) -> Iterator[tuple[Walker, Walker]]:
    """The adviser's phone, and one there; a fault on either fails the test."""
    contexts = [phone_context(chromium), phone_context(chromium)]
    adviser, there = (Walker(context, served) for context in contexts)
    yield adviser, there
    assert adviser.faults + there.faults == []
    for context in contexts:
        context.close()


def _link(page: Page) -> str:
    return page.input_value("[data-field=link]")


def _follow(walker: Walker, link: str) -> Page:
    walker.page.goto("about:blank")
    walker.page.goto(link)
    walker.page.wait_for_selector("html.js")
    return walker.page


def _value(link: str) -> Any:
    body = link.split(".")[-2]
    return json.loads(base64.urlsafe_b64decode(body + "=" * (-len(body) % 4)))


def _altered(link: str) -> str:
    """A link whose body was changed on the way, to another that reads as well."""
    body = base64.urlsafe_b64encode(json.dumps({**_value(link), "l": "Z"}).encode()).decode().rstrip("=")
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
    other = _follow(there, _link(page))
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
    other = _follow(there, _link(page))
    other.locator("[data-list=incoming-choices] button").first.click()
    there.walk(*ANSWERS[1:])
    there.act("send-way")
    page = _follow(adviser, _link(other))
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
    link = _link(page)
    there.begin(TREE)
    other = next(answer for answer in STEPS[LINE[0][0]]["exits"] if answer != ANSWERS[0])
    there.walk(other)
    page = _follow(there, link)
    page.locator("[data-list=incoming-choices] button", has_text="For light A").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    (run,) = there.runs()
    aside = [(each["step"], each["answer"]) for each in run["entries"] if each.get("superseded")]
    assert aside == [(LINE[0][0], other)]


def test_leaving_incoming_answers_changes_nothing(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    there.begin(TREE)
    before = there.runs()
    other = _follow(there, _link(page))
    other.locator("[data-list=incoming-choices] button", has_text="Leave it").click()
    expect(other.locator("[data-screen=lights]")).to_be_visible()
    assert there.runs() == before


def test_gates_come_back_closed(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    assert adviser.asked == UP
    adviser.act("send-way")
    other = _follow(there, _link(page))
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector(SHOWN)
    assert there.asked in STEPS[UP]["guards"]
    expect(other.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    assert there.runs()[0]["gates"] == {}


def test_a_question_is_asked_there_and_its_answer_comes_back(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-question")
    text = page.input_value("[data-field=text]")
    assert text.startswith(f"Light A: {STEPS[NEXT]['title']}")
    assert "[ ] Yes" in text and "[ ] Can't tell" in text
    other = _follow(there, _link(page))
    other.wait_for_selector(f"#{NEXT}:not([hidden])")
    expect(other.locator("[data-part=notice]")).to_contain_text("Somebody asks this for light A.")
    expect(other.locator("[data-act=way]:visible")).to_have_count(0)
    other.click("[data-part=note] summary")
    other.fill("[data-field=seen]", "two of them")
    other.click(f"{SHOWN} [data-answer=yes]")
    expect(other.locator("[data-text=send-title]")).to_have_text("Send the reply")
    assert "Yes. Seen: two of them" in other.input_value("[data-field=text]")
    assert there.runs() == []
    page = _follow(adviser, _link(other))
    expect(page.locator("[data-list=incoming] li").first).to_contain_text("Seen: two of them (seen by somebody there")
    page.locator("[data-list=incoming-choices] button", has_text="Take it over for light A").click()
    page.wait_for_selector(SHOWN)
    assert adviser.way()[:4] == [*LINE, (NEXT, "yes")]
    assert adviser.runs()[0]["entries"][3]["who"] == "there"


def test_an_answer_there_can_be_changed_before_it_goes_out(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.act("send-question")
    other = _follow(there, _link(page))
    other.click(f"{SHOWN} [data-answer=yes]")
    expect(other.locator("[data-text=send-says]")).to_have_text("You answered: Yes.")
    there.act("return")
    other.click(f"{SHOWN} [data-answer=no]")
    expect(other.locator("[data-text=send-says]")).to_have_text("You answered: No.")
    assert _value(_link(other))["a"] == "no"


def test_a_question_up_there_asks_its_gate_of_whoever_goes_up(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    adviser.act("send-question")
    other = _follow(there, _link(page))
    other.wait_for_selector(SHOWN)
    gate = there.asked
    assert gate in STEPS[UP]["guards"]
    there.walk("yes")
    assert there.asked == UP
    held = other.locator(f"{SHOWN} [data-reading-done]")
    if held.count():
        held.click()
    answer = next(iter(STEPS[UP]["exits"]))
    other.click(f"{SHOWN} [data-answer={answer}]")
    expect(other.locator("[data-text=send-title]")).to_have_text("Send the reply")
    page = _follow(adviser, _link(other))
    expect(page.locator("[data-list=incoming]")).to_contain_text(f"{STEPS[gate]['title']}: all conditions held there")
    page.locator("[data-list=incoming-choices] button").first.click()
    page.wait_for_selector(SHOWN)
    assert (UP, answer) in adviser.way()


def test_a_gate_that_does_not_hold_there_is_told(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    adviser.act("send-question")
    other = _follow(there, _link(page))
    other.wait_for_selector(SHOWN)
    packed = other.locator(f"{SHOWN} [data-packed-done]")
    if packed.is_visible():
        packed.click()
    other.click(f"{SHOWN} [data-answer=no]")
    expect(other.locator("[data-text=send-says]")).to_contain_text("Nobody goes up for this.")
    assert "not all conditions hold" in other.input_value("[data-field=text]")
    there.act("return")
    other.wait_for_selector(SHOWN)
    assert there.asked in STEPS[UP]["guards"]


def test_an_early_reply_waits_for_its_question(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-question")
    other = _follow(there, _link(page))
    other.click(f"{SHOWN} [data-answer=no]")
    adviser.act("return")
    adviser.act("undo")
    page.wait_for_selector(f"#{LINE[2][0]}:not([hidden])")
    page = _follow(adviser, _link(other))
    page.locator("[data-list=incoming-choices] button").first.click()
    expect(page.locator("[data-part=notice]")).to_contain_text("kept until the walk comes to that question")
    adviser.walk(ANSWERS[-1])
    expect(page.locator("[data-part=kept]")).to_contain_text("Answered before: No.")
    adviser.act("use-kept")
    page.wait_for_selector(f"{SHOWN}:not(#{NEXT})")
    assert adviser.way()[:4] == [*LINE, (NEXT, "no")]


def test_answers_from_another_version_say_so(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    page.evaluate(
        """async () => {
          const store = idbKeyval.createStore('rooflight-walks', 'runs');
          const [run] = await idbKeyval.values(store);
          run.entries[0].version = '0.9.0';
          await idbKeyval.set(run.id, run, store);
        }"""
    )
    page.reload()
    page.wait_for_selector(SHOWN)
    adviser.act("send-way")
    other = _follow(there, _link(page))
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
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    other = _follow(there, spoil(_link(page)))
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
    other = _follow(there, page.url.split("#")[0] + forged)
    expect(other.locator("[data-list=incoming] li").first).to_contain_text("<img src=x onerror=alert(1)>")
    assert other.locator("main img[src=x], main b, main script").count() == 0
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector(SHOWN)
    assert there.asked == WALKS[TREE]["start"] or there.asked in STEPS[UP]["guards"]


def test_a_pasted_link_is_opened(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-way")
    link = _link(page)
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
    assert page.evaluate("window.shared.url") == _link(page)
    page.evaluate("() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; }")
    adviser.act("copy-link")
    expect(page.locator("[data-part=sent]")).to_contain_text("It is marked below")
    marked = "(() => { const f = document.activeElement; return f.value.slice(f.selectionStart, f.selectionEnd); })()"
    assert page.evaluate(marked) == _link(page)


def test_a_copy_in_a_folder_offers_text_alone(chromium: Browser, site: Path) -> None:
    context = phone_context(chromium)
    walker = Walker(context, f"{site.as_uri()}/")
    page = walker.begin(TREE)
    walker.act("send-way")
    expect(page.locator("[data-part=no-link]")).to_be_visible()
    expect(page.locator("[data-part=send-link]")).to_be_hidden()
    context.close()
