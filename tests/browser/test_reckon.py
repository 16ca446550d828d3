"""The reckoning form in a browser: live results, plain sentences, the event for the walk, and no script at all."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import jinja2
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from build_tools import words
from build_tools.formulas import FORMULAS, reckon, validate
from build_tools.javascript import program
from build_tools.library import read_library

ROOT = Path(__file__).resolve().parents[2]
OVERRIDES = ROOT / "site_overrides"
SOURCES = read_library(ROOT)[0].sources
PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Forms</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,"><link rel="stylesheet" href="base.css"><link rel="stylesheet" href="reckon.css">
<script defer src="reckoning.js"></script><script defer src="reckon.js"></script></head><body>
{% from "reckoning.html" import form %}
{% for formula, given, prefix in forms %}<section id="{{ prefix }}form">{{ form(formula, given, prefix) }}</section>
{% endfor %}</body></html>"""
RECORD = "window.told = []; addEventListener('reckoned', (event) => told.push(event.detail))"

Open = Callable[..., Page]


@pytest.fixture
def phone_context(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport={"width": 320, "height": 700}, has_touch=True)
    yield context
    context.close()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a page of forms, to be opened from disk."""
    for style in ("base.css", "reckon.css"):
        shutil.copy(OVERRIDES / "styles" / style, tmp_path)
    shutil.copy(OVERRIDES / "scripts" / "reckon.js", tmp_path)
    (tmp_path / "reckoning.js").write_text(program(FORMULAS), encoding="utf-8")
    return tmp_path


def write_page(folder: Path, *forms: tuple[str, dict[str, Any], str]) -> str:
    """Render forms into a page; gives its address."""
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(OVERRIDES / "pages"), autoescape=True, undefined=jinja2.StrictUndefined
    )
    environment.globals.update(words=words, sources=SOURCES)
    rows = [(FORMULAS[name], given, prefix) for name, given, prefix in forms]
    path = folder / "page.html"
    path.write_text(environment.from_string(PAGE).render(forms=rows), encoding="utf-8")
    return path.as_uri()


@pytest.fixture
def open_form(phone_context: BrowserContext, folder: Path) -> Open:
    """Open a page of forms on a small phone; what goes wrong in its scripts fails the test."""

    def open_page(*forms: tuple[str, dict[str, Any], str]) -> Page:
        page = phone_context.new_page()
        page.on("pageerror", lambda error: pytest.fail(str(error)))
        page.add_init_script(RECORD)
        page.goto(write_page(folder, *forms))
        return page

    return open_page


def last_told(page: Page) -> Any:
    return page.evaluate("told.at(-1)")


@pytest.mark.parametrize("name", FORMULAS)
def test_example_gives_on_the_page_what_python_gives(open_form: Open, name: str) -> None:
    formula = FORMULAS[name]
    page = open_form((name, {}, ""))
    for entry in formula.inputs:
        page.locator(f"[name={entry.name}]").fill(str(formula.example[entry.name]))
    values = validate(formula, formula.example).values
    result = reckon(formula, values)
    assert result.verdict is not None
    expect(page.locator("[data-verdict]")).to_have_text(formula.verdicts[result.verdict])
    assert page.locator("[data-working] li").all_inner_texts() == list(result.working)
    assert last_told(page) == {
        "formula": name,
        "values": dict(values),
        "outputs": dict(result.outputs),
        "verdict": result.verdict,
        "working": list(result.working),
    }


def test_output_is_shown_with_its_unit(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""))
    page.get_by_label("Pitch at which the sheet lies").fill("22")
    expect(page.locator("[data-output=lap_mm]")).to_have_text("205 mm")
    expect(page.locator("[data-verdict]")).to_have_text("")
    page.get_by_label("Pitch at which the sheet lies").fill("5")
    expect(page.locator("[data-output=lap_mm]")).to_have_text("none")
    expect(page.locator("[data-verdict]")).to_have_text(FORMULAS["sheet-lap"].verdicts["too-flat"])


def test_given_and_default_values_stand_in_their_fields(open_form: Open) -> None:
    page = open_form(("pitch", {"least_pitch_deg": 17.5}, ""))
    expect(page.locator("[name=least_pitch_deg]")).to_have_value("17.5")
    expect(page.locator("[name=run_mm]")).to_have_value("1000")
    expect(page.locator("[name=rise_mm]")).to_have_value("")
    page.locator("[name=rise_mm]").fill("312")
    assert last_told(page)["verdict"] == "below"


def test_result_goes_and_the_walk_is_told_when_a_value_goes(open_form: Open) -> None:
    page = open_form(("sheet-lap", {"pitch_deg": 15, "measured_lap_mm": 300}, ""))
    assert last_told(page)["verdict"] == "enough"
    expect(page.locator("[data-result]")).to_be_visible()
    page.locator("[name=pitch_deg]").fill("")
    expect(page.locator("[data-result]")).to_be_hidden()
    assert last_told(page) == {
        "formula": "sheet-lap",
        "values": {"pitch_deg": None, "measured_lap_mm": 300},
        "outputs": None,
        "verdict": None,
        "working": [],
    }


def test_field_is_judged_only_once_it_was_left(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""))
    field = page.locator("[name=pitch_deg]")
    error = page.locator("[data-error=pitch_deg]")
    field.press_sequentially("12o")
    expect(error).to_be_hidden()
    field.press("Tab")
    expect(error).to_have_text(
        "Pitch at which the sheet lies: “12o” is not a number. Write it like 17.5 or 17,5, without the unit."
    )
    expect(field).to_have_attribute("aria-invalid", "true")
    described = field.get_attribute("aria-describedby")
    assert described and error.get_attribute("id") in described.split()
    field.fill("12,5")
    expect(error).to_be_hidden()
    expect(field).to_have_attribute("aria-invalid", "false")
    expect(page.locator("[data-output=lap_mm]")).to_have_text("350 mm")


@pytest.mark.parametrize("text", ["", "abc", "120", "1,500"])
def test_sentence_on_the_page_is_the_one_of_the_shell(open_form: Open, text: str) -> None:
    page = open_form(("sheet-lap", {"pitch_deg": 22}, ""))
    field = page.locator("[name=pitch_deg]")
    field.fill(text)
    field.blur()
    sentence = validate(FORMULAS["sheet-lap"], {"pitch_deg": text}).errors["pitch_deg"]
    expect(page.locator("[data-error=pitch_deg]")).to_have_text(sentence)


def test_what_is_typed_is_never_read_as_markup(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""))
    page.locator("[name=pitch_deg]").fill("<img src=x>")
    page.locator("[name=pitch_deg]").blur()
    expect(page.locator("[data-error=pitch_deg]")).to_contain_text("“<img src=x>” is not a number")
    assert page.locator("img").count() == 0


@pytest.mark.parametrize("name", [name for name, formula in FORMULAS.items() if formula.draw])
def test_drawing_moves_with_the_numbers_and_comes_back(open_form: Open, name: str) -> None:
    formula = FORMULAS[name]
    page = open_form((name, {}, ""))
    drawing = page.locator("[data-picture] svg")
    example = drawing.get_attribute("aria-label")
    expect(page.locator("[data-caption]")).to_be_visible()
    first, *others = [entry.name for entry in formula.inputs]
    for entry in others:
        page.locator(f"[name={entry}]").fill(str(formula.example[entry]))
    page.locator(f"[name={first}]").fill("25")
    expect(page.locator("[data-caption]")).to_be_hidden()
    assert drawing.get_attribute("aria-label") != example
    page.locator(f"[name={first}]").fill("")
    expect(page.locator("[data-caption]")).to_be_visible()
    assert drawing.get_attribute("aria-label") == example


def test_everything_fits_a_small_phone_and_a_gloved_thumb(open_form: Open) -> None:
    page = open_form(*((name, dict(formula.example), f"{name}-") for name, formula in FORMULAS.items()))
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    for control in page.locator("input, summary").all():
        box = control.bounding_box()
        assert box and box["height"] >= 48


def test_drawn_text_stays_inside_its_picture(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""), ("pitch", {}, "other-"))
    rows = [("sheet-lap", {"pitch_deg": p, "measured_lap_mm": m}) for p in (0, 11, 22, 45, 90) for m in ("", 100, 390)]
    rows += [("pitch", {"rise_mm": r, "least_pitch_deg": d}) for r in (0, 100, 312, 1000, 5000) for d in ("", 12.5, 60)]
    for name, values in rows:
        form = page.locator(f"[data-formula={name}]")
        for entry, value in values.items():
            form.locator(f"[name={entry}]").fill(str(value))
        outside = form.locator("svg").evaluate(
            """(svg) => [...svg.querySelectorAll("text")].filter((text) => {
              const [inner, outer] = [text.getBoundingClientRect(), svg.getBoundingClientRect()];
              return inner.left < outer.left || inner.right > outer.right || inner.top < outer.top ||
                inner.bottom > outer.bottom;
            }).map((text) => text.textContent)"""
        )
        assert outside == [], (name, values)


def test_two_forms_of_one_formula_keep_apart(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""), ("sheet-lap", {}, "again-"))
    page.locator("#again-form [name=pitch_deg]").fill("15")
    expect(page.locator("#again-form [data-output=lap_mm]")).to_have_text("290 mm")
    expect(page.locator("#form [data-result]")).to_be_hidden()
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((each) => each.id)")
    assert len(ids) == len(set(ids))
    for label in page.locator("label").all():
        assert label.get_attribute("for") in ids


def test_enter_sends_nothing_anywhere(open_form: Open) -> None:
    page = open_form(("sheet-lap", {"pitch_deg": 15}, ""))
    address = page.url
    page.locator("[name=pitch_deg]").press("Enter")
    assert page.url == address
    expect(page.locator("[data-output=lap_mm]")).to_have_text("290 mm")


def test_form_that_fails_leaves_its_rule_by_hand_and_the_others_alive(
    phone_context: BrowserContext, folder: Path
) -> None:
    address = write_page(folder, ("pitch", {}, "broken-"), ("sheet-lap", {}, ""))
    path = folder / "page.html"
    path.write_text(path.read_text(encoding="utf-8").replace('data-formula="pitch"', 'data-formula="gone"'))
    page = phone_context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(address)
    assert len(said) == 1 and said[0].startswith("The form for gone did not start.")
    expect(page.locator("#broken-form [data-hand] table")).to_be_visible()
    expect(page.locator("#broken-form [data-live]")).to_be_hidden()
    page.locator("#form [name=pitch_deg]").fill("15")
    expect(page.locator("#form [data-output=lap_mm]")).to_have_text("290 mm")


@pytest.mark.parametrize("name", FORMULAS)
def test_without_script_the_rule_by_hand_stands_open(chromium: Browser, folder: Path, name: str) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(write_page(folder, (name, {}, "")))
    formula = FORMULAS[name]
    expect(page.locator("[data-live]")).to_be_hidden()
    for sentence in formula.by_hand.rule:
        expect(page.get_by_text(sentence)).to_be_visible()
    expect(page.locator("table tbody tr")).to_have_count(len(formula.by_hand.rows))
    expect(page.get_by_text(formula.limits)).to_be_visible()
    assert page.locator("svg").count() == (1 if formula.draw else 0)
    context.close()


def test_with_script_the_rule_by_hand_is_folded_away(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""))
    expect(page.locator("table")).to_be_hidden()
    page.get_by_text("By hand").click()
    expect(page.locator("table")).to_be_visible()
