"""What is kept on the phone: lights with their answers, over a reload, a newer tree, a second window and a lost signal;
and the copy of it in a file."""

from __future__ import annotations

import json
from pathlib import Path

from playwright.sync_api import Browser, FilePayload, expect
from walked import ANSWERS, FIRST, LINE, NEXT, SECOND, START, STEPS, TREE, WALKS, hands_over
from walker import SHOWN, Walker, phone_context


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


def test_back_goes_through_the_answers_of_a_resumed_walk_and_then_to_the_lights(walker: Walker) -> None:
    """GOV.UK Design System, Back link: Back, the browser's too, shows the page before, as it was left."""
    walker.begin(TREE)
    walker.walk(*ANSWERS)
    page = walker.open(TREE)
    page.locator("[data-list=lights] button").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    for step, answer in reversed(LINE):
        page.go_back()
        page.wait_for_selector(f"#{step}:not([hidden])")
        expect(page.locator(f"#{step} [aria-current]")).to_have_attribute("data-answer", answer)
    page.go_back()
    page.wait_for_selector("[data-screen=lights]:not([hidden])")
    page.go_forward()
    page.wait_for_selector(f"#{FIRST}:not([hidden])")
    walker.walk(ANSWERS[0])
    assert (walker.asked, walker.way()) == (NEXT, LINE)


def test_back_from_the_first_question_of_a_new_light_shows_the_lights(walker: Walker) -> None:
    page = walker.begin(TREE)
    page.go_back()
    page.wait_for_selector("[data-screen=lights]:not([hidden])")
    expect(page.locator("[data-list=lights] button")).to_contain_text(f"Stands at: {STEPS[FIRST]['title']}")


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
    answers, _, other = hands_over()
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
          const store = await PhoneStore.open(Runs.KIND);
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


def _file(walker: Walker, folder: Path) -> Path:
    """Keep a copy of the light that is walked, as a file."""
    walker.act("keep")
    with walker.page.expect_download() as download:
        walker.act("save-file")
    download.value.save_as(folder / "light-a.json")
    return folder / "light-a.json"


def _offer(walker: Walker, file: Path | FilePayload) -> None:
    """Bring a file back, up to the question where to take it."""
    walker.open(TREE)
    walker.page.click("summary:has-text('Bring answers back')")
    walker.page.set_input_files("[data-field=file]", file)


def _remove_light_a(walker: Walker) -> None:
    page = walker.open(TREE)
    page.click("summary:has-text('Bring answers back')")
    page.click("text=Remove light A")
    page.click("text=Yes, remove")
    expect(page.locator("[data-list=removable] li")).to_have_count(0)


def test_kept_file_comes_back(walker: Walker, tmp_path: Path) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    file = _file(walker, tmp_path)
    assert json.loads(file.read_text())["light"] == "A"
    before = walker.way()
    _remove_light_a(walker)
    _offer(walker, file)
    page.locator("[data-list=incoming-choices] button", has_text="As a new light: A").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert walker.way() == before
    _offer(walker, {"name": "x.json", "mimeType": "application/json", "buffer": b"{}"})
    expect(page.locator("[data-part=bring-fault]")).to_contain_text("holds no answers of a walk")


def _aside(walker: Walker) -> list[tuple[str, str]]:
    (run,) = walker.runs()
    return sorted((each["step"], each["answer"]) for each in run["entries"] if each.get("superseded"))


def test_answers_set_aside_come_back_with_the_file(walker: Walker, tmp_path: Path) -> None:
    page = walker.begin(TREE)
    walker.walk(*ANSWERS)
    walker.act("way")
    page.locator("[data-list=way] li", has_text=STEPS[FIRST]["title"]).get_by_text("Answer again", exact=True).click()
    other = next(each for each, to in STEPS[FIRST]["exits"].items() if each != ANSWERS[0] and to != SECOND)
    walker.walk(other)
    way, aside, asked = walker.way(), _aside(walker), walker.asked
    assert aside == sorted(LINE)
    file = _file(walker, tmp_path)
    _remove_light_a(walker)
    for choice in ("As a new light: A", "For light A"):
        _offer(walker, file)
        expect(page.locator("[data-list=incoming] li")).to_have_count(1)
        expect(page.locator("[data-list=incoming-says]")).to_contain_text("3 answers set aside before come along.")
        page.locator("[data-list=incoming-choices] button", has_text=choice).click()
        page.wait_for_selector(f"#{asked}:not([hidden])")
        assert (walker.way(), _aside(walker)) == (way, aside)
    walker.act("way")
    page.locator("[data-list=way] li", has_text=STEPS[FIRST]["title"]).get_by_text("Answer again", exact=True).click()
    walker.walk(ANSWERS[0])
    expect(page.locator("[data-part=kept]")).to_contain_text("Answered before: ")


def test_walk_goes_on_without_network(chromium: Browser, served: str) -> None:
    context = phone_context(chromium, service_workers="allow")
    walker = Walker(context, served)
    page = walker.begin(START)
    expect(page.locator("[data-offline-text]")).to_contain_text("The whole guide is saved")
    context.set_offline(True)
    page.reload()
    page.wait_for_selector(SHOWN)
    answers, _, other = hands_over()
    walker.walk(*answers)
    page.click("[data-hand-over]:visible")
    page.wait_for_url(f"**/walk/{other}.html#*")
    page.wait_for_selector(SHOWN)
    first = walker.asked
    walker.walk("no")
    assert walker.asked != first
    context.close()
