"""The walk when something is amiss: a broken link, a script that did not come, a database that fails, a hand that taps
twice. What is typed is not lost by it, and no light gets another's."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from walked import WALKS
from walker import SHOWN, Walker, line, phone_context, way_to

TREE, MEASURE = next((tree, name) for tree, walk in WALKS.items() for name in walk["steps"] if name == "near-its-limit")
OTHER = next(tree for tree in WALKS if tree != TREE)
TO_MEASURE = way_to(WALKS[TREE], MEASURE)
LINE, NEXT = line(WALKS[TREE], 2)
BROKEN_DATABASES = {
    "throws": "Object.defineProperty(window, 'indexedDB', { get() { throw new Error('no'); } })",
    "never answers": "IDBFactory.prototype.open = () => ({})",
}


@pytest.mark.parametrize("fragment", ["#%", "#%E0%A4%A", "#constructor", "#__proto__", "#light=gone"])
def test_a_broken_address_opens_the_lights(walker: Walker, fragment: str) -> None:
    page = walker.open(TREE, fragment)
    expect(page.locator("[data-screen=lights]")).to_be_visible()
    expect(page.locator("[data-step]:visible")).to_have_count(0)


def test_a_way_to_a_step_that_every_object_has_begins_at_the_start(walker: Walker) -> None:
    page = walker.open(TREE)
    value = {"i": "x", "l": "A", "p": "", "b": 1, "f": [TREE, "constructor"], "e": []}
    fragment = page.evaluate("(value) => Links.wrap('way', value)", value)
    walker.open(TREE, fragment)
    page.locator("[data-list=incoming-choices] button", has_text="As a new light").click()
    page.wait_for_selector(SHOWN)
    assert walker.asked == WALKS[TREE]["start"]


def test_a_question_that_carries_an_answer_does_not_slip_it_into_the_reply(walker: Walker) -> None:
    page = walker.open(TREE)
    question = LINE[0][0]
    value = {"t": TREE, "v": "1.0.0", "s": question, "l": "A", "i": "x", "n": "not seen here"}
    walker.open(TREE, page.evaluate("(value) => Links.wrap('ask', value)", value))
    page.locator(f"{SHOWN} [data-answer=no]").click()
    page.wait_for_selector("[data-screen=send]:not([hidden])")
    link = page.input_value("[data-field=link]")
    reply = page.evaluate("(link) => Links.unwrap(link.slice(link.indexOf('#'))).value", link)
    assert reply["a"] == "no" and "n" not in reply


@pytest.mark.parametrize("script", ["gates", "links", "step_screen", "walk_page", "start"])
def test_without_one_of_its_scripts_the_page_is_whole(chromium: Browser, served: str, script: str) -> None:
    context = phone_context(chromium)
    page = context.new_page()
    page.route(f"**/scripts/walk/{script}.js", lambda route: route.abort())
    page.goto(f"{served}walk/{TREE}.html")
    page.wait_for_load_state()
    assert page.locator("html.js").count() == 0
    steps = WALKS[TREE]["steps"]
    expect(page.locator("[data-step]:visible")).to_have_count(len(steps))
    gates = [name for name, step in steps.items() if step["kind"] == "gate"]
    for gate in gates:
        link = page.locator(f"#{gate} a[data-answer=yes]")
        expect(link).to_have_attribute("href", f"#{steps[gate]['exits']['yes']}")
    context.close()


@pytest.mark.parametrize("fault", BROKEN_DATABASES)
def test_a_broken_database_stops_no_walk(walker: Walker, fault: str) -> None:
    walker.page.add_init_script(BROKEN_DATABASES[fault])
    page = walker.begin(TREE)
    page.locator(f"{SHOWN} [data-answer={LINE[0][1]}]").click()
    page.wait_for_selector(f"#{LINE[1][0]}:not([hidden])")
    expect(page.locator("[data-part=fault]")).to_contain_text("could not be saved")
    walker.act("way")
    expect(page.locator("[data-part=fault]")).to_be_visible()


def test_a_double_tap_begins_one_light_and_removes_none(chromium: Browser, served: str) -> None:
    context = phone_context(chromium)
    walker = Walker(context, served, quick=False)
    page = walker.open(TREE)
    lights = page.locator("[data-screen=lights]")
    expect(lights).to_be_visible()
    walker.later(400)
    page.dblclick("[data-act=new-light]")
    page.wait_for_selector(SHOWN)
    assert [run["light"] for run in walker.runs()] == ["A"]
    walker.later(400)
    walker.act("lights")
    # The time from which no tap counts begins when the screen is there.
    expect(lights).to_be_visible()
    walker.later(400)
    page.click("[data-screen=lights] summary")
    page.get_by_role("button", name="Remove light A").dblclick()
    expect(page.get_by_role("button", name="Yes, remove")).to_be_visible()
    assert len(walker.runs()) == 1
    walker.later(400)
    page.get_by_role("button", name="Yes, remove").click()
    expect(page.locator("[data-list=removable] li")).to_have_count(0)
    assert walker.runs() == []
    context.close()


def _measure(walker: Walker, pitch: str) -> None:
    walker.page.locator(f"{SHOWN} [data-reading-done]").click()
    for name, text in {"rafter_pitch_deg": pitch, "least_pitch_deg": "15"}.items():
        walker.page.fill(f"{SHOWN} [name={name}]", text)


def test_numbers_of_one_light_do_not_stand_at_another(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*TO_MEASURE)
    _measure(walker, "22")
    walker.begin(TREE)
    walker.walk(*TO_MEASURE)
    assert page.input_value(f"{SHOWN} [name=rafter_pitch_deg]") == ""
    page.go_back()
    walker.act("lights")
    page.locator("[data-list=lights] button", has_text="Light A").click()
    page.wait_for_selector(SHOWN)
    walker.walk("yes")
    assert page.input_value(f"{SHOWN} [name=rafter_pitch_deg]") == "22"


def test_numbers_outlast_a_reload_and_stand_with_a_reopened_answer(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*TO_MEASURE)
    _measure(walker, "22")
    while not any("15" in str(run.get("draft")) for run in walker.runs()):
        page.wait_for_timeout(20)
    page.reload()
    page.wait_for_selector(SHOWN)
    walker.walk("yes")
    assert (walker.asked, page.input_value(f"{SHOWN} [name=rafter_pitch_deg]")) == (MEASURE, "22")
    walker.walk("within")
    walker.act("back")
    page.wait_for_selector(f"#{MEASURE}:not([hidden])")
    assert page.input_value(f"{SHOWN} [name=rafter_pitch_deg]") == "22"


def test_a_note_comes_back_with_undo(walker: Walker) -> None:
    page = walker.begin(TREE)
    page.click("[data-part=note] summary")
    page.fill("[data-field=seen]", "drops in the lower corner")
    walker.walk(LINE[0][1])
    assert page.input_value("[data-field=seen]") == ""
    walker.act("undo")
    page.wait_for_selector(f"#{LINE[0][0]}:not([hidden])")
    assert page.input_value("[data-field=seen]") == "drops in the lower corner"


def test_a_file_opened_on_the_page_of_another_tree_is_kept(walker: Walker, tmp_path: Path) -> None:
    page = walker.begin(TREE)
    walker.walk(*(answer for _, answer in LINE))
    walker.act("keep")
    with page.expect_download() as waiting:
        page.locator("[data-act=save-file]:visible").click()
    waiting.value.save_as(tmp_path / "run.json")
    walker.act("return")
    walker.act("lights")
    page.click("[data-screen=lights] summary")
    page.get_by_role("button", name="Remove light A").click()
    page.get_by_role("button", name="Yes, remove").click()
    expect(page.locator("[data-list=removable] li")).to_have_count(0)
    walker.open(OTHER)
    page.click("[data-screen=lights] summary")
    page.set_input_files("[data-field=file]", tmp_path / "run.json")
    page.locator("[data-list=incoming-choices] button", has_text="As a new light").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert walker.way() == LINE


def test_a_reply_pasted_on_the_page_of_another_tree_goes_to_its_own(walker: Walker) -> None:
    page = walker.begin(TREE)
    (run,) = walker.runs()
    facts = {"a": LINE[0][1], "m": 1, "n": "turned \u202e round", "g": []}
    value = {"t": TREE, "v": "1.0.0", "s": LINE[0][0], "l": "A", "i": run["id"], **facts}
    reply = page.evaluate("(value) => Links.wrap('reply', value)", value)
    walker.open(OTHER)
    page.click("[data-screen=lights] summary")
    page.fill("[data-field=pasted]", f"https://guide.example/walk/{TREE}.html{reply}")
    walker.act("open-pasted")
    page.wait_for_url(f"**/walk/{TREE}.html*")
    expect(page.locator("[data-text=incoming-title]")).to_have_text("A reply from somebody there")
    expect(page.locator("[data-list=incoming] li")).to_contain_text("Seen: turned round (seen by somebody there")
