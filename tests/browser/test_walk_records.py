"""Each light's answers are a record of their own: a bad one stops no other, two guides of one host have their own,
and a file brings back all of it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, FilePayload, Page, expect
from serving import serving
from walked import ANSWERS, LINE, NEXT, TREE
from walker import SHOWN, STORE, Walker, phone_context

PUT = f"""(records) => {STORE}.then((store) => idbKeyval.setMany(records, store))"""
SHARED = "idbKeyval.createStore('rooflight-walks', 'runs')"
"""Where version 1.2.0 and older kept the walks of every guide of a host."""
BAD: dict[str, Any] = {
    "nothing": None,
    "format-alone": {"format": 1},
    "other-format": {"format": 9, "id": "other-format", "light": "Y"},
    "no-format": {"id": "no-format", "light": "X"},
    "a-word": "a word",
}
SPOILT: dict[str, Any] = {
    "light": 7,
    "entries": None,
    "current": {"tree": TREE},
    "start": None,
    "stops": [1],
    "closed": "none",
    "gates": {"roof": None},
    "id": "another",
}


def _good(walker: Walker) -> dict[str, Any]:
    """Walk three questions for light A, and give the record."""
    walker.begin(TREE)
    walker.walk(*ANSWERS)
    (run,) = walker.runs()
    return dict(run)


def test_a_bad_record_is_set_aside_and_every_other_walk_goes_on(walker: Walker) -> None:
    run = _good(walker)
    spoilt = {f"spoilt-{name}": {**run, "id": f"spoilt-{name}", name: value} for name, value in SPOILT.items()}
    entries = [{**run["entries"][0], "to": None}, *run["entries"][1:]]
    spoilt["spoilt-entry"] = {**run, "id": "spoilt-entry", "entries": entries}
    bad = {**BAD, **spoilt}
    walker.page.evaluate(PUT, list(bad.items()))
    page = walker.open(TREE)
    expect(page.locator("[data-list=lights] button")).to_have_count(1)
    expect(page.locator("[data-part=unread]")).to_contain_text(f"the answers of {len(bad)} lights")
    rows = page.locator("[data-list=unread] li")
    expect(rows.filter(has_text="Light Y")).to_contain_text("written by another version of the guide, in format 9")
    with page.expect_download() as download:
        rows.filter(has_text="Light Y").get_by_text("Save it as a file").click()
    assert json.loads(Path(download.value.path()).read_text()) == BAD["other-format"]
    page.locator("[data-list=lights] button").click()
    page.wait_for_selector(f"#{NEXT}:not([hidden])")
    assert len(walker.runs()) == len(bad) + 1


def test_a_bad_record_can_be_removed(walker: Walker) -> None:
    page = walker.open(TREE)
    page.evaluate(PUT, list(BAD.items()))
    walker.open(TREE)
    page.locator("[data-list=unread] li", has_text="Light Y").get_by_text("Remove it").click()
    page.get_by_role("button", name="Yes, remove").click()
    expect(page.locator("[data-list=unread] li")).to_have_count(len(BAD) - 1)
    assert len(walker.runs()) == len(BAD) - 1


def _file(run: Any) -> FilePayload:
    return {"name": "light.json", "mimeType": "application/json", "buffer": json.dumps(run).encode()}


def _bring(walker: Walker, run: Any) -> Page:
    page = walker.open(TREE)
    page.click("summary:has-text('Bring answers back')")
    page.set_input_files("[data-field=file]", _file(run))
    return page


def _whole(run: dict[str, Any]) -> dict[str, Any]:
    """A run with more of everything than anybody would type."""
    first = run["entries"][0]
    measure = {
        **{"formula": "pitch", "values": {"rise_mm": 400, "list": [[1, "lead"]]}, "outputs": {"pitch_deg": 21.8}},
        **{"verdict": None, "working": [f"Line {n}." for n in range(40)]},
    }
    aside = [{**first, "superseded": first["at"] + n, "seen": f"look {n}"} for n in range(300)]
    entries = [{**first, "measure": measure, "draft": {"seen": "half", "who": "me"}}, *run["entries"][1:], *aside]
    return {
        **run,
        "entries": entries,
        "place": "Over the stairs",
        "who": "me",
        "stops": [{"at": first["at"], "tree": TREE, "step": LINE[1][0]}],
        "closed": [{"gate": "loft-access", "title": "Going into the loft", "why": "came-down", "at": first["at"]}],
        "draft": {"step": NEXT, "seen": "half a note", "typed": {"rise_mm": "40"}},
    }


@pytest.mark.parametrize("choice", ["As a new light", "For light A"])
def test_a_whole_file_comes_back_whole(walker: Walker, choice: str) -> None:
    run = _good(walker)
    whole = _whole(run)
    if choice == "As a new light":
        walker.page.evaluate(f"{STORE}.then((store) => idbKeyval.clear(store))")
    page = _bring(walker, whole)
    page.locator("[data-list=incoming-choices] button", has_text=choice).click()
    page.wait_for_selector(SHOWN)
    assert page.input_value("[data-field=seen]") == "half a note"
    (back,) = walker.runs()
    for name in ("light", "place", "stops", "closed", "draft", "start", "started", "current"):
        assert back[name] == whole[name], name
    # Joined to a light, the own answer stands, with what the file adds to it.
    measured = {} if choice == "For light A" else {"measure": whole["entries"][0]["measure"]}
    first = {**run["entries"][0], **measured, "draft": {"seen": "half", "who": "me"}}
    assert back["entries"] == [first, *whole["entries"][1:]]


def test_a_file_of_another_format_is_refused_in_a_sentence(walker: Walker) -> None:
    run = _good(walker)
    page = _bring(walker, {**run, "format": 9})
    fault = page.locator("[data-part=bring-fault]")
    expect(fault).to_contain_text("written by another version of the guide, in format 9. This guide reads format 1.")
    for broken in ({**run, "entries": [*run["entries"], None]}, {**run, "format": None}, [], "run"):
        page.set_input_files("[data-field=file]", _file(broken))
        expect(fault).to_contain_text("It holds no answers of a walk, or was cut off.")
    expect(page.locator("[data-screen=lights]")).to_be_visible()


def test_two_guides_of_one_host_have_walks_of_their_own(chromium: Browser, site: Path, tmp_path: Path) -> None:
    for name in ("one", "two"):
        shutil.copytree(site, tmp_path / name)
    context = phone_context(chromium)
    with serving(tmp_path) as address:
        one, two = (Walker(context, f"{address}{name}/") for name in ("one", "two"))
        one.begin(TREE)
        one.walk(*ANSWERS)
        page = two.begin(TREE)
        expect(page.locator("[data-text=light]")).to_have_text("Light A")
        two.walk(ANSWERS[0])
        assert (two.way(), one.way()) == (LINE[:1], LINE)
        page.goto(f"{two.base}reckon/sheet-lap.html")
        page.locator("[name=pitch_deg]").fill("15")
        page.wait_for_function("Typed.read('reckoning sheet-lap').then((kept) => kept.pitch_deg === '15')")
        page.goto(f"{one.base}reckon/sheet-lap.html")
        assert page.evaluate("Typed.read('reckoning sheet-lap')") == {}
    context.close()


def test_walks_of_an_older_version_are_taken_over_once_and_removed_for_good(
    chromium: Browser, site: Path, tmp_path: Path
) -> None:
    for name in ("one", "two"):
        shutil.copytree(site, tmp_path / name)
    context = phone_context(chromium)
    with serving(tmp_path) as address:
        one, two = (Walker(context, f"{address}{name}/") for name in ("one", "two"))
        run = _good(one)
        one.page.goto("about:blank")
        # A phone that has only ever seen version 1.2.0.
        two.page.goto(f"{address}two/licences.txt")
        two.page.add_script_tag(path=site / "scripts/vendor/idb-keyval.js")
        two.page.evaluate(
            """async ([run, own]) => {
              for (const { name } of await indexedDB.databases()) {
                await new Promise((done) => Object.assign(indexedDB.deleteDatabase(name), { onsuccess: done }));
              }
              const shared = idbKeyval.createStore("rooflight-walks", "runs");
              await idbKeyval.setMany([[run.id, run], [own.id, own]], shared);
            }""",
            [run, {**run, "id": "second", "light": "B"}],
        )
        for guide in (one, two):
            page = guide.open(TREE)
            expect(page.locator("[data-list=lights] button")).to_have_count(2)
            assert sorted(guide.runs(), key=lambda each: each["light"]) == [run, {**run, "id": "second", "light": "B"}]
        page = one.open(TREE)
        page.click("summary:has-text('Bring answers back')")
        page.click("text=Remove light B")
        page.click("text=Yes, remove these answers for good")
        expect(page.locator("[data-list=removable] li")).to_have_count(1)
        assert page.evaluate(f"idbKeyval.keys({SHARED})") == [run["id"]]
        one.open(TREE)
        expect(page.locator("[data-list=lights] button")).to_have_count(1)
    context.close()
