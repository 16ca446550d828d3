"""The walk with its script: every exit, across trees, kept, taken back, changed. Outside reference: the same answers
given to the shell's `follow`, and the published rules named beside the checks."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect
from walker import SHOWN, Walker, courses, line, phone_context, walks, way_to

from build_tools.walk import follow

WALKS = walks()
START = "start-here"
TREE, (LINE, NEXT) = next(
    (name, line(walk, 3)) for name, walk in WALKS.items() if name != START and len(walk["steps"]) > 20
)
STEPS = WALKS[TREE]["steps"]
"""Three plain questions in a row, with the answers that lead to a fourth."""
FIRST, SECOND, THIRD = (step for step, _ in LINE)
ANSWERS = [answer for _, answer in LINE]


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


def _left(progress: str) -> int:
    found = re.search(r"at most (\d+) more", progress)
    return int(found[1]) if found else 0


def test_courses_take_every_exit() -> None:
    for walk in WALKS.values():
        steps = walk["steps"]
        taken = set()
        for answers in courses(walk):
            stops = follow(WALKS, walk["tree"]["id"], answers)
            taken |= {(stop.step, stop.answer) for stop in stops if stop.tree == walk["tree"]["id"]}
        missed = {(name, answer) for name, step in steps.items() for answer in step["exits"]} - taken
        # Only a gate that is open whichever way one comes is never answered no.
        assert {answer for step, answer in missed if steps[step]["kind"] != "gate"} == set()


@pytest.mark.parametrize("tree", WALKS)
def test_every_exit_leads_where_the_shell_leads(walker: Walker, tree: str) -> None:
    """Progress never rises: GOV.UK Design System, question pages, "Using progress indicators"; here as a number."""
    page = walker.begin(tree)
    for answers in courses(WALKS[tree]):
        walked = walker.walk(*answers)
        stops = [stop for stop in follow(WALKS, tree, answers) if stop.tree == tree]
        asked = [stop.step for stop in stops if stop.kind not in ("remedy", "go-to")]
        steps = [each["step"] for each in walked["course"]]
        # An open gate is passed without being shown.
        assert steps == [each for n, each in enumerate(asked) if not _was_open(WALKS[tree], asked[:n], each)]
        assert walked["end"] == stops[-1].step
        left = [_left(each["progress"]) for each in walked["course"]]
        assert left == sorted(left, reverse=True)
        remedies = [each["open"] for each in walked["course"]]
        assert remedies == sorted(remedies, reverse=True)
        assert not any(each["guarded"] for each in walked["course"])
        page.evaluate("document.querySelector('[data-act=lights]').click()")
        page.wait_for_selector("[data-screen=lights]:not([hidden])")
        page.click("[data-act=new-light]")
        page.wait_for_selector(SHOWN)


def _was_open(walk: Any, before: list[str], step: str) -> bool:
    gate = walk["steps"][step].get("gate")
    return bool(gate) and any(walk["steps"][each].get("gate", {}).get("id") == gate["id"] for each in before)


def _hands_over() -> tuple[list[str], str, str]:
    """Answers to a step of the first tree that hands over, the step, and the tree it hands over to."""
    step = next(name for name, each in WALKS[START]["steps"].items() if each["kind"] == "go-to")
    return way_to(WALKS[START], step), step, WALKS[START]["steps"][step]["goTo"]["tree"]


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_answers_go_along_into_another_tree_and_back(chromium: Browser, site: Path, served: str, scheme: str) -> None:
    context = phone_context(chromium)
    walker = Walker(context, served if scheme == "http" else f"{site.as_uri()}/")
    page = walker.begin(START)
    answers, hand_over, other = _hands_over()
    walker.walk(*answers)
    page.click("[data-hand-over]:visible")
    page.wait_for_url(f"**/walk/{other}.html#*")
    page.wait_for_selector(SHOWN)
    first = walker.asked
    walker.walk("no")
    second = walker.asked
    ways = [(each.step, each.answer) for each in follow(WALKS, START, (*answers, "no"))]
    assert walker.way() == [(step, answer or "go-on") for step, answer in ways[:-1]]
    page.go_back()
    page.wait_for_selector(f"#{first}:not([hidden])")
    page.go_back()
    page.wait_for_selector(f"#{hand_over}:not([hidden])")
    page.click("[data-hand-over]:visible")
    page.wait_for_selector(f"#{second}:not([hidden])")
    walker.act("way")
    page.locator("[data-list=way] button", has_text="Change").first.click()
    page.wait_for_selector(f"#{WALKS[START]['start']}:not([hidden])")
    assert walker.faults == []
    context.close()


def test_walk_is_resumed_after_a_reload_and_listed(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    page.reload()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    walker.open(TREE)
    expect(page.locator("[data-list=lights] button")).to_contain_text("Light A")
    expect(page.locator("[data-list=lights] button")).to_contain_text(f"Stands at: {STEPS[NEXT]['title']}")
    page.locator("[data-list=lights] button").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")


def test_each_light_has_its_own_answers(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(ANSWERS[0])
    walker.begin(TREE)
    walker.walk(*ANSWERS)
    assert sorted((run["light"], run["label"]) for run in walker.runs()) == [
        ("A", f"Stands at: {STEPS[SECOND]['title']}"),
        ("B", f"Stands at: {STEPS[NEXT]['title']}"),
    ]
    assert page.locator("[data-text=light]").inner_text() == "Light B"


def test_a_light_can_be_called_by_a_name_and_keeps_its_letter(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(ANSWERS[0])
    walker.act("way")
    page.fill("[data-field=light]", "A north side")
    page.press("[data-field=light]", "Tab")
    expect(page.locator("[data-text=light]")).to_have_text("Light A north side")
    while walker.runs()[0]["light"] == "A":
        page.wait_for_timeout(20)
    walker.open(TREE)
    expect(page.locator("[data-list=lights] button")).to_contain_text("Light A north side")
    expect(page.locator("[data-text=new-light]")).to_have_text("Another light: B")


def test_a_sheet_of_another_version_is_told(walker: Walker) -> None:
    page = walker.open(TREE, "?v=0.9.0")
    version = WALKS[TREE]["tree"]["version"]
    said = f"Your sheet is of version 0.9.0; this guide has {version}."
    expect(page.locator("[data-part=lights-notice]")).to_contain_text(said)
    expect(walker.open(TREE, f"?v={version}").locator("[data-part=lights-notice]")).to_be_hidden()


def test_a_light_can_be_removed_after_a_second_tap(walker: Walker) -> None:
    walker.begin(TREE)
    page = walker.open(TREE)
    page.click("summary:has-text('Bring answers back')")
    page.click("text=Remove light A")
    assert len(walker.runs()) == 1
    page.click("text=Yes, remove these answers for good")
    expect(page.locator("[data-list=removable] li")).to_have_count(0)
    assert walker.runs() == []


def test_undo_takes_the_answer_back(walker: Walker) -> None:
    walker.begin(TREE)
    walker.walk(*ANSWERS)
    expect(walker.page.locator("[data-act=undo]")).to_have_text("Undo: back to 3")
    walker.act("undo")
    expect(walker.page.locator(f"#{THIRD}")).to_be_visible()
    assert walker.way() == LINE[:2]


def test_back_shows_the_answer_that_was_given(walker: Walker) -> None:
    """WCAG 2.2 SC 3.3.7 and GOV.UK `back-link`: what was said is not asked for again."""
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    walker.act("back")
    expect(page.locator(f"#{THIRD} [aria-current]")).to_have_attribute("data-answer", ANSWERS[2])
    page.go_back()
    expect(page.locator(f"#{NEXT}")).to_be_visible()
    page.go_back()
    page.go_back()
    expect(page.locator(f"#{SECOND}")).to_be_visible()
    walker.walk(ANSWERS[1])
    expect(page.locator(f"#{NEXT}")).to_be_visible()
    assert walker.way() == LINE


def _fork() -> tuple[list[str], str, str, str]:
    """Answers to a plain question, and two answers to it that lead to different plain questions."""
    for name, step in STEPS.items():
        exits = step["exits"] if step["kind"] == "question" else {}
        plain = {to: each for each, to in exits.items() if STEPS[to]["kind"] == "question" and not STEPS[to]["needs"]}
        if len(plain) > 1:
            one, other, *_ = plain.values()
            return way_to(WALKS[TREE], name), name, one, other
    raise AssertionError("no question forks")


def test_a_changed_answer_keeps_what_still_fits_and_sets_the_rest_aside(walker: Walker) -> None:
    """GOV.UK `check-answers`: each answer has its own Change."""
    page = walker.begin(TREE)
    before, forking, one, other = _fork()
    walker.walk(*before, one, "no")
    title = STEPS[forking]["title"]
    walker.act("way")
    page.locator("[data-list=way] li", has_text=title).get_by_text("Change", exact=True).click()
    walker.walk(other)
    assert walker.asked == STEPS[forking]["exits"][other]
    (run,) = walker.runs()
    aside = {(each["step"], each["answer"]) for each in run["entries"] if each.get("superseded")}
    assert aside == {(forking, one), (STEPS[forking]["exits"][one], "no")}
    walker.act("way")
    page.locator("[data-list=way] li", has_text=title).get_by_text("Change", exact=True).click()
    walker.walk(one)
    assert walker.asked == STEPS[forking]["exits"][one]
    expect(page.locator("[data-part=kept]")).to_contain_text("Answered before: No.")
    walker.act("use-kept")
    expect(page.locator(f"#{STEPS[STEPS[forking]['exits'][one]]['exits']['no']}")).to_be_visible()


def test_remedies_closed_name_the_answer_that_closed_them(walker: Walker) -> None:
    page = walker.begin(TREE)
    step, answer, closed = next(
        (name, answer, set(each["ends"]) - set(STEPS[to]["ends"]))
        for name, each in STEPS.items()
        for answer, to in each["exits"].items()
        if each["kind"] == "question" and STEPS[to]["asked"] and set(each["ends"]) - set(STEPS[to]["ends"])
    )
    walker.walk(*way_to(WALKS[TREE], step), answer)
    words = {"yes": "Yes", "no": "No", "unsure": "Can't tell"}[answer]
    said = page.locator("[data-list=closed-remedies] li").all_text_contents()
    remedies = WALKS[TREE]["remedies"]
    wanted = {f"{remedies[each]['title']}: {STEPS[step]['title']} {words}." for each in closed}
    assert wanted <= set(said)
    count = len(STEPS[STEPS[step]["exits"][answer]]["ends"])
    expect(page.locator("[data-text=open-remedies]")).to_contain_text(f"{count} remed")


def test_a_second_tap_within_400_ms_answers_nothing(chromium: Browser, served: str) -> None:
    """Wet glass taps twice; Tung et al., ICMI 2018, on rain; the time is a project choice."""
    context = phone_context(chromium)
    walker = Walker(context, served, quick=False)
    page = walker.open(TREE)
    page.wait_for_timeout(450)
    page.click("[data-act=new-light]")
    page.wait_for_timeout(450)
    tap = "document.querySelector('[data-step]:not([hidden]) [data-answer=no]').click()"
    page.evaluate(tap)
    page.wait_for_selector(f"{SHOWN}:not(#{FIRST})")
    second = walker.asked
    page.evaluate(tap)
    page.wait_for_timeout(100)
    assert walker.asked == second
    page.wait_for_timeout(400)
    page.evaluate(tap)
    page.wait_for_selector(f"{SHOWN}:not(#{second})")
    context.close()


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


def test_a_half_written_note_outlives_a_reload(walker: Walker) -> None:
    page = walker.begin(TREE)
    page.click("[data-part=note] summary")
    page.fill("[data-field=seen]", "half a line")
    page.press("[data-field=seen]", "Tab")
    while not any("draft" in run for run in walker.runs()):
        page.wait_for_timeout(20)
    page.reload()
    page.wait_for_selector(SHOWN)
    assert page.input_value("[data-field=seen]") == "half a line"


def test_an_answer_that_cannot_be_saved_stays_and_says_so(chromium: Browser, served: str) -> None:
    """WCAG 2.2 SC 2.2.6: whoever can lose data is told."""
    context = phone_context(chromium)
    walker = Walker(context, served)
    walker.page.add_init_script("indexedDB.open = () => { throw new DOMException('no', 'SecurityError'); }")
    page = walker.begin(START)
    answers, _, other = _hands_over()
    walker.walk(answers[0])
    expect(page.locator("[data-part=fault]")).to_contain_text("could not be saved on this phone")
    assert "Not saved." in walker.text("last")
    walker.walk(*answers[1:])
    page.click("[data-hand-over]:visible")
    page.wait_for_url(f"**/walk/{other}.html#*")
    expect(page.locator("[data-screen=incoming]")).to_contain_text("Answers from somebody else")
    page.locator("[data-list=incoming-choices] button").first.click()
    expect(page.locator(SHOWN)).to_be_visible()
    context.close()


def test_two_windows_do_not_write_over_each_other(walker: Walker) -> None:
    walker.begin(TREE)
    other = Walker(walker.context, walker.base)
    other.open(TREE)
    other.page.locator("[data-list=lights] button").click()
    other.page.wait_for_selector(SHOWN)
    other.walk(*ANSWERS[:2])
    walker.walk(ANSWERS[0])
    expect(walker.page.locator("[data-part=fault]")).to_contain_text("walked on in another window")
    assert walker.way() == LINE[:2]


def test_a_newer_tree_asks_again_from_the_first_answer_that_no_longer_fits(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    page.evaluate(
        """async () => {
          const store = idbKeyval.createStore('rooflight-walks', 'runs');
          const [run] = await idbKeyval.values(store);
          for (const entry of run.entries) entry.version = '0.9.0';
          run.entries[1].to.step = 'gone-since';
          await idbKeyval.set(run.id, run, store);
        }"""
    )
    page.reload()
    page.wait_for_selector(f"#{SECOND}:not([hidden])")
    version = WALKS[TREE]["tree"]["version"]
    said = f"The guide has changed from 0.9.0 to {version} since. What no longer fits is asked again."
    expect(page.locator("[data-part=notice]")).to_contain_text(said)
    assert walker.way() == LINE[:1]


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
    (step,) = _measures(WALKS[tree], "dew-point")
    page = walker.begin(tree)
    course = next(each for each in courses(WALKS[tree]) if _passes(tree, each, step, "wets"))
    before = [stop.answer for stop in follow(WALKS, tree, course) if stop.answer]
    at = [stop.step for stop in follow(WALKS, tree, course)].index(step)
    walker.walk(*[each for each in before[:at] if each])
    assert walker.asked == step
    form = page.locator(f"#{step} form")
    for name, value in (("temperature_c", "20"), ("relative_humidity_percent", "60"), ("surface_c", "9")):
        form.locator(f"[name={name}]").fill(value)
    walker.walk("wets")
    kept = walker.runs()[0]["entries"][-1]["measure"]
    assert kept["values"] == {"temperature_c": 20, "relative_humidity_percent": 60, "surface_c": 9}
    # ASHRAE and the Magnus form agree on 12.0 °C for 20 °C and 60 %.
    assert kept["outputs"]["dew_point_c"] == pytest.approx(12.0, abs=0.1)
    assert len(kept["working"]) >= 2


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
    walker.act("return")
    expect(page.locator(SHOWN)).to_be_visible()


def test_print_holds_the_finding_alone(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    page.emulate_media(media="print")
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    text = page.locator("body").inner_text()
    assert "Finding for light A" in text and "What was found" in text
    assert "Stop, come down" not in text and "Print it" not in text


def test_kept_file_comes_back(walker: Walker, tmp_path: Path) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    walker.act("keep")
    with page.expect_download() as download:
        walker.act("save-file")
    file = tmp_path / "light-a.json"
    download.value.save_as(file)
    assert json.loads(file.read_text())["light"] == "A"
    before = walker.way()
    walker.open(TREE)
    page.click("summary:has-text('Bring answers back')")
    page.click("text=Remove light A")
    page.click("text=Yes, remove")
    expect(page.locator("[data-list=removable] li")).to_have_count(0)
    page.set_input_files("[data-field=file]", file)
    page.locator("[data-list=incoming-choices] button", has_text="As a new light: A").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert walker.way() == before
    walker.open(TREE)
    page.click("summary:has-text('Bring answers back')")
    page.set_input_files("[data-field=file]", {"name": "x.json", "mimeType": "application/json", "buffer": b"{}"})
    expect(page.locator("[data-part=bring-fault]")).to_contain_text("holds no answers of a walk")


def test_walk_goes_on_without_network(chromium: Browser, served: str) -> None:
    context = phone_context(chromium, service_workers="allow")
    walker = Walker(context, served)
    page = walker.begin(START)
    expect(page.locator("[data-offline-text]")).to_contain_text("The whole guide is saved", timeout=20_000)
    context.set_offline(True)
    page.reload()
    page.wait_for_selector(SHOWN)
    answers, _, other = _hands_over()
    walker.walk(*answers)
    page.click("[data-hand-over]:visible")
    page.wait_for_url(f"**/walk/{other}.html#*")
    page.wait_for_selector(SHOWN)
    first = walker.asked
    walker.walk("no")
    assert walker.asked != first
    context.close()
