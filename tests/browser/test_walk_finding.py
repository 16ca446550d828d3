"""What was seen and measured, and the finding that comes of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from walked import ANSWERS, FIRST, STEPS, TREE, WALKS
from walker import SHOWN, Walker, courses

from build_tools.guide.words import SCOPE
from build_tools.proof.walk import follow


def test_what_was_seen_is_kept_as_text_alone(walker: Walker) -> None:
    page = walker.begin(TREE)
    seen = "<img src=x onerror=\"document.title='broken'\"> & brown ring"
    page.click("[data-part=note] summary")
    page.fill("[data-field=seen]", seen)
    page.select_option("[data-field=who]", "photo")
    walker.walk(ANSWERS[0])
    walker.act("way")
    expect(page.locator("[data-list=way] li").first).to_contain_text(f"Seen: {seen}")
    expect(page.locator("[data-list=way] li").first).to_contain_text("seen on a photograph")
    walker.act("send-way")
    assert seen in page.input_value("[data-field=text]")
    link = page.input_value("[data-field=link]")
    page.goto("about:blank")
    page.goto(link)
    expect(page.locator("[data-list=incoming] li").first).to_contain_text(seen)
    assert page.locator("main img[src=x]").count() == 0
    assert page.title() != "broken"


def test_a_note_can_be_written_afterwards(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(ANSWERS[0])
    walker.act("way")
    page.click("text=Add what was seen")
    page.fill("[data-field=note-seen]", "clear to the edge")
    page.select_option("[data-field=note-entry-who]", "there")
    walker.act("save-note")
    expect(page.locator("[data-list=way] li").first).to_contain_text("Seen: clear to the edge")
    (run,) = walker.runs()
    assert (run["entries"][0]["seen"], run["entries"][0]["who"]) == ("clear to the edge", "there")


def test_measure_opens_the_exit_of_its_verdict_and_keeps_the_working(walker: Walker) -> None:
    """75 mm of rise on a 14° slope asks for 311 mm of sheet: worked from sin 14°, as in tests/published/sheet-lap."""
    tree, steps = next((name, walk["steps"]) for name, walk in WALKS.items() if _measures(walk, "sheet-lap"))
    page = walker.begin(tree)
    step = _measures(WALKS[tree], "sheet-lap")[0]
    page.evaluate("(step) => document.querySelector(`[data-step='${step}']`).hidden = false", step)
    form = page.locator(f"[data-step={step}] form")
    form.locator("[name=pitch_deg]").fill("14")
    form.locator("[name=measured_lap_mm]").fill("100")
    shown = page.locator(f"[data-step={step}] .answer--verdict:visible")
    expect(shown).to_have_count(1)
    assert shown.get_attribute("data-answer") == "short"
    expect(page.locator(f"[data-step={step}] [data-answer=unsure]")).to_be_visible()
    form.locator("[name=measured_lap_mm]").fill("")
    expect(shown).to_have_count(0)
    page.click(f"[data-step={step}] >> text=Reckoned by hand")
    expect(shown).to_have_count(len(steps[step]["exits"]) - 1)


def _measures(walk: Any, formula: str) -> list[str]:
    return [name for name, step in walk["steps"].items() if step.get("measure", {}).get("formula") == formula]


def test_measure_keeps_its_working_in_the_finding(walker: Walker) -> None:
    tree = "wet-in-cold-weather"
    (step,) = _measures(WALKS[tree], "surface-humidity")
    page = walker.begin(tree)
    course = next(each for each in courses(WALKS[tree]) if _passes(tree, each, step, "wets"))
    before = [stop.answer for stop in follow(WALKS, tree, course) if stop.answer]
    at = [stop.step for stop in follow(WALKS, tree, course)].index(step)
    walker.walk(*[each for each in before[:at] if each])
    assert walker.asked == step
    form = page.locator(f"#{step} form")
    typed = {"temperature_c": "20", "relative_humidity_percent": "60", "outside_c": "0", "surface_c": "9"}
    for name, value in typed.items():
        form.locator(f"[name={name}]").fill(value)
    walker.walk("wets")
    kept = walker.runs()[0]["entries"][-1]["measure"]
    assert kept["values"] == {
        **{name: float(value) for name, value in typed.items()},
        "surface": "reveal-bare",
        "u_w_m2k": None,
    }
    # ISO 13788 by the Magnus form: 1402 Pa of vapour is 80 % of what saturates at 15.4 °C.
    assert kept["outputs"]["needed_c"] == pytest.approx(15.4, abs=0.1)
    assert len(kept["working"]) >= 2
    words = walker.runs()[0]["entries"][-1]["words"]
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    finding = page.locator("[data-list=finding]").inner_text()
    assert finding.count(words) == 2, "among the answers, and with its working"
    assert ".." not in finding


def _passes(tree: str, answers: tuple[str, ...], step: str, answer: str) -> bool:
    return any((stop.step, stop.answer) == (step, answer) for stop in follow(WALKS, tree, answers))


def test_finding_says_what_was_seen_and_what_was_not(walker: Walker) -> None:
    """ASTM E2128 4.1.3: the limits of an investigation stand in its report."""
    page = walker.begin(TREE)
    answers, unsure = next(
        (each, stops[n].title)
        for each in courses(WALKS[TREE])
        for stops in [follow(WALKS, TREE, each)]
        for n, stop in enumerate(stops)
        if stop.answer == "unsure" and stop.kind == "question" and stops[-1].tree == TREE
    )
    walker.walk(*answers)
    walker.act("finding")
    page.fill("[data-field=place]", "Back bedroom <b>")
    page.press("[data-field=place]", "Tab")
    finding = page.locator("[data-list=finding]")
    expect(finding).to_contain_text("Place: Back bedroom <b>")
    expect(finding).to_contain_text(f"1. {STEPS[FIRST]['title']}")
    expect(finding).to_contain_text(f"Could not be told: {unsure}")
    expect(finding).to_contain_text("It is no proof of the cause, and no opinion on structure or electrics.")
    expect(finding).to_contain_text(SCOPE)
    expect(finding).to_contain_text(f"{TREE} {WALKS[TREE]['tree']['version']}")
    with page.expect_download() as download:
        walker.act("save-finding")
    text = Path(download.value.path()).read_text()
    assert download.value.suggested_filename == "finding-light-a.txt"
    heads = [row for row in text.splitlines() if row and row == row.upper() and row[0].isalpha()]
    assert heads[:3] == ["LIGHT AND DAY", "WHAT TO DO", "WHAT WAS FOUND"]
    assert "LIMITS: WHAT COULD NOT BE SEEN" in heads
    assert heads.index("CAUTIONS BEFORE THE WORK") < heads.index("THE WORK, IN ITS ORDER")
    assert heads[-1] == "WHAT THIS IS NOT"
    assert text.endswith(f"\n- {SCOPE}\n")
    walker.act("return")
    expect(page.locator(SHOWN)).to_be_visible()


def test_print_holds_the_finding_alone(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    page.emulate_media(media="print")
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    text = page.locator("body").inner_text()
    assert "Finding for light A" in text and "What was found" in text and SCOPE in text
    assert "Stop, come down" not in text and "Print it" not in text
