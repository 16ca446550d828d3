"""One question sent to somebody there, behind its own gates, and the reply brought back."""

from __future__ import annotations

from playwright.sync_api import expect
from walked import ANSWERS, LINE, NEXT, STEPS, TREE, UP, WALKS
from walker import SHOWN, Walker, value_of, way_to


def test_a_question_is_asked_there_and_its_answer_comes_back(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*ANSWERS)
    adviser.act("send-question")
    text = page.input_value("[data-field=text]")
    assert text.startswith(f"Light A: {STEPS[NEXT]['title']}")
    assert "[ ] Yes" in text and "[ ] Can't tell" in text
    other = there.follow(adviser.link)
    other.wait_for_selector(f"#{NEXT}:not([hidden])")
    expect(other.locator("[data-part=notice]")).to_contain_text("Somebody asks this for light A.")
    expect(other.locator("[data-act=way]:visible")).to_have_count(0)
    other.click("[data-part=note] summary")
    other.fill("[data-field=seen]", "two of them")
    other.click(f"{SHOWN} [data-answer=yes]")
    expect(other.locator("[data-text=send-title]")).to_have_text("Send the reply")
    assert "Yes. Seen: two of them" in other.input_value("[data-field=text]")
    assert there.runs() == []
    page = adviser.follow(there.link)
    expect(page.locator("[data-list=incoming] li").first).to_contain_text("Seen: two of them (seen by somebody there")
    page.locator("[data-list=incoming-choices] button", has_text="Take it over for light A").click()
    page.wait_for_selector(SHOWN)
    assert adviser.way()[:4] == [*LINE, (NEXT, "yes")]
    assert adviser.runs()[0]["entries"][3]["who"] == "there"


def test_an_answer_there_can_be_changed_before_it_goes_out(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.act("send-question")
    other = there.follow(adviser.link)
    other.click(f"{SHOWN} [data-answer=yes]")
    expect(other.locator("[data-text=send-says]")).to_have_text("You answered: Yes.")
    there.act("return")
    other.click(f"{SHOWN} [data-answer=no]")
    expect(other.locator("[data-text=send-says]")).to_have_text("You answered: No.")
    assert value_of(there.link)["a"] == "no"


def test_a_question_up_there_asks_its_gate_of_whoever_goes_up(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    page = adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    adviser.act("send-question")
    other = there.follow(adviser.link)
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
    page = adviser.follow(there.link)
    expect(page.locator("[data-list=incoming]")).to_contain_text(f"{STEPS[gate]['title']}: all conditions held there")
    page.locator("[data-list=incoming-choices] button").first.click()
    page.wait_for_selector(SHOWN)
    assert (UP, answer) in adviser.way()


def test_a_gate_that_does_not_hold_there_is_told(phones: tuple[Walker, Walker]) -> None:
    adviser, there = phones
    adviser.begin(TREE)
    adviser.walk(*way_to(WALKS[TREE], UP))
    adviser.act("send-question")
    other = there.follow(adviser.link)
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
    other = there.follow(adviser.link)
    other.click(f"{SHOWN} [data-answer=no]")
    adviser.act("return")
    adviser.act("undo")
    page.wait_for_selector(f"#{LINE[2][0]}:not([hidden])")
    page = adviser.follow(there.link)
    page.locator("[data-list=incoming-choices] button").first.click()
    expect(page.locator("[data-part=notice]")).to_contain_text("kept until the walk comes to that question")
    adviser.walk(ANSWERS[-1])
    expect(page.locator("[data-part=kept]")).to_contain_text("Answered before: No.")
    adviser.act("use-kept")
    page.wait_for_selector(f"{SHOWN}:not(#{NEXT})")
    assert adviser.way()[:4] == [*LINE, (NEXT, "no")]
