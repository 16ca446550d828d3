"""On a phone: the gate that asks which roof it is, a roof that nobody goes on, and dangers made safe in turn.

That sheets and rooflights are treated as fragile until somebody competent has confirmed otherwise: HSE, HSG33,
Health and safety in roof work.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from walked import WALKS
from walker import SHOWN, Walker

TREE, WAY, GATE = "upstand-and-its-corners", ("no", "unsure"), "fit-for-the-corner"
DANGERS = {
    "on-the-roof": "come-down-first",
    "ceiling-sags": "stop-and-call",
    "electric-and-wet": "switch-off",
    "pane-cracked": "broken-glass",
    "on-the-floor": "catch-it",
}
"""Each danger that is asked from the first page, and the step that makes it safe."""
START = WALKS["start-here"]["steps"]


def _at_the_gate(walker: Walker) -> Page:
    page = walker.begin(TREE)
    walker.walk(*WAY)
    assert walker.asked == GATE
    page.locator(f"{SHOWN} [data-packed-done]").click()
    return page


def _pick(page: Page, roof: str) -> list[str]:
    """Say which roof it is; give the conditions that then count."""
    page.locator(f'{SHOWN} [data-roof="{roof}"]').check()
    return [
        " ".join(each.split())
        for each in page.locator(f"{SHOWN} .tick:has([data-condition]):visible").all_inner_texts()
    ]


def _tick_all(page: Page) -> None:
    for box in page.locator(f"{SHOWN} [data-condition]:visible").all():
        box.check()


def test_which_roof_is_asked_before_any_condition_counts(walker: Walker) -> None:
    page = _at_the_gate(walker)
    expect(page.locator(f"{SHOWN} [data-ticks-left]")).to_have_text("Say first which roof it is.")
    _tick_all(page)
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    slope, flat, both = (_pick(page, roof) for roof in ("slope", "flat", "any"))
    assert any("roof ladder" in each for each in slope) and not any("roof ladder" in each for each in flat)
    assert any("bears a person" in each for each in flat) and not any("bears a person" in each for each in slope)
    assert set(both) == {*slope, *flat}


def test_nothing_opens_a_roof_of_sheets(walker: Walker) -> None:
    page = _at_the_gate(walker)
    _pick(page, "any")
    _tick_all(page)
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_be_enabled()
    _pick(page, "none")
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    expect(page.locator(f"{SHOWN} [data-ticks-left]")).to_have_text("Nobody goes on that roof. Answer no.")


@pytest.mark.parametrize("roof", ["slope", "flat"])
def test_roof_that_was_told_opens_its_own_gate_and_no_other(walker: Walker, roof: str) -> None:
    page = _at_the_gate(walker)
    _pick(page, roof)
    _tick_all(page)
    page.locator(f"{SHOWN} [data-answer=yes]").click()
    page.wait_for_function(
        "step => document.querySelector('[data-step]:not([hidden])').dataset.step !== step", arg=GATE
    )
    while not (gates := walker.runs()[0]["gates"]):
        page.wait_for_timeout(20)
    assert list(gates) == [{"slope": "roof-access", "flat": "flat-roof-access"}[roof]]


def test_each_danger_leads_on_to_the_next_and_no_answer_is_changed(walker: Walker) -> None:
    page = walker.begin("start-here")
    for danger, made_safe in DANGERS.items():
        while walker.asked != danger:
            walker.walk("no")
        walker.walk("yes")
        assert walker.asked == made_safe
        first = page.locator(f"{SHOWN} [data-note]")
        stop_bar = page.locator(".stop-bar").bounding_box()
        box = first.bounding_box()
        assert box and stop_bar and box["y"] > 0 and box["y"] + box["height"] < stop_bar["y"], (
            "the first act needs a scroll"
        )
        work, then = (page.locator(f"{SHOWN} {what}").first.bounding_box() for what in (".work", ".remedy__stopgap"))
        assert work and then and work["y"] < then["y"], "roof works stand before the work itself"
        walker.walk("done")
        assert walker.asked == START[made_safe]["exits"]["done"]
    said = [(step, answer) for step, answer in walker.way() if step in DANGERS]
    assert said == [(danger, "yes") for danger in DANGERS]


def test_whoever_is_under_sheets_reads_within_three_screens_that_nobody_goes_up(walker: Walker) -> None:
    page = walker.open("start-here")
    about = page.locator("#walk--lights [data-part=about]")
    expect(about).to_contain_text("Nobody ever goes on a roof of sheets in waves or ribs")
    walker.begin("start-here")
    assert walker.asked == "on-the-roof"
    expect(page.locator(SHOWN)).to_contain_text("Nobody ever goes on sheets in waves or ribs")
    walker.walk("no", "no", "no")
    assert walker.asked == "sheet-roof"
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_contain_text("Nobody goes on it, whatever it is made of.")
    walker.walk("yes")
    page.locator(f"{SHOWN} [data-hand-over]").click()
    page.wait_for_selector("#up-there:not([hidden])")
    expect(page.locator(f"{SHOWN} .caution.danger, {SHOWN} .caution--danger").first).to_be_visible()
    walker.walk("no", "no", "no", "no", "unsure")
    expect(page.locator(f"{SHOWN} h2").first).to_contain_text("Stay off the sheets")
