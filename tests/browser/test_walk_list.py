"""A measure whose formula takes a list: kept half-written, with its answer, and in a link."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from build_up import BUILD_UP
from guides import ROOT, the_guide
from measured import measured_guide
from own_tables import FORMULAS
from playwright.sync_api import Locator, expect
from serving import serving
from test_reckon import fill_lines
from walker import STORE, Walker

from build_tools.guide.walk import walk_data
from build_tools.javascript import program
from build_tools.site.render import Renderer

TRIED = {**FORMULAS, BUILD_UP.id: BUILD_UP}


@pytest.fixture
def served(tmp_path: Path) -> Iterator[str]:
    """Serve, in place of the site, a walk of one tree: a measure whose step settles the hands, then a question."""
    view = measured_guide()
    page = Renderer(ROOT / "site_overrides", {}, dict(the_guide().sources)).page
    (tmp_path / "walk").mkdir()
    data = walk_data(view, view.first_tree)
    html = page("walk.html", "../", guide=view, tree=view.first_tree, data=data)
    (tmp_path / "walk" / "a.html").write_text(html, encoding="utf-8")
    shutil.copytree(ROOT / "site_overrides" / "scripts", tmp_path / "scripts")
    shutil.copytree(ROOT / "site_overrides" / "icons", tmp_path / "icons")
    (tmp_path / "manifest.webmanifest").write_text("{}")
    (tmp_path / "scripts" / "reckoning.js").write_text(program(TRIED), encoding="utf-8")
    with serving(tmp_path) as address:
        yield address


SHEETS = [("zinc", 0.8, 2), ("lead", 1.8, None)]


def fill_sheets(walker: Walker) -> Locator:
    listed = walker.page.locator("#stack [data-rows=layers]")
    fill_lines(listed, BUILD_UP.inputs[0], SHEETS)
    return listed


def test_half_written_list_is_there_again(walker: Walker) -> None:
    page = walker.begin("a")
    expect(page.locator("#stack [name=hands_count]")).to_have_value("2")
    fill_sheets(walker)
    expect(page.locator("#stack [data-output=mass_kg]")).to_have_text("32 kg")
    page.wait_for_function(f"{STORE}.then((store) => idbKeyval.values(store)).then(([run]) => run.draft?.typed.layers)")
    page.reload()
    page.wait_for_selector("#stack:not([hidden])")
    lines = page.locator("#stack [data-lines] > li")
    expect(lines).to_have_count(2)
    expect(lines.nth(0).get_by_label("Thickness")).to_have_value("0.8")
    expect(lines.nth(1).get_by_label("Metal")).to_have_value("lead")


def test_list_is_kept_with_its_answer_and_stands_there_when_it_is_reopened(walker: Walker) -> None:
    page = walker.begin("a")
    fill_sheets(walker)
    walker.walk("enough")
    expect(page.get_by_text("There are hands enough. Saved on this phone")).to_be_visible()
    (run,) = walker.runs()
    kept = run["entries"][-1]["measure"]
    assert kept["values"] == {"layers": [list(each) for each in SHEETS], "hands_count": 2, "wrapped": "no"}
    assert len(kept["working"]) == 2
    walker.act("back")
    lines = page.locator("#stack [data-lines] > li")
    expect(lines).to_have_count(2)
    expect(lines.nth(0).get_by_label("Metal")).to_have_value("zinc")
    expect(page.locator("#stack [data-output=mass_kg]")).to_have_text("32 kg")


def test_list_of_one_light_does_not_stand_at_another(walker: Walker) -> None:
    page = walker.begin("a")
    fill_sheets(walker)
    walker.begin("a")
    expect(page.locator("#stack [data-lines] > li")).to_have_count(1)


def test_list_goes_with_the_way_to_another_phone(phones: tuple[Walker, Walker]) -> None:
    walker, there = phones
    walker.begin("a")
    fill_sheets(walker)
    walker.walk("enough")
    walker.act("send-way")
    other = there.follow(walker.link)
    other.locator("[data-list=incoming-choices] button").first.click()
    other.wait_for_selector("#then:not([hidden])")
    own, taken = (each.runs()[0]["entries"][0]["measure"] for each in phones)
    assert (taken["values"], taken["working"]) == (own["values"], own["working"])
    there.act("back")
    expect(other.locator("#stack [data-lines] > li")).to_have_count(2)
