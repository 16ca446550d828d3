"""The reckoning form in a browser: live results, plain sentences, the event for the walk, and no script at all."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import jinja2
import pytest
from build_up import BUILD_UP
from filling import fill, fill_lines, put
from guides import ROOT, the_checked
from own_tables import FORMULAS
from playwright.sync_api import Browser, Error, Locator, Page, expect

from build_tools.formulas import Formula, Input, reckon, validate
from build_tools.guide import words
from build_tools.javascript import program

OVERRIDES = ROOT / "site_overrides"
SOURCES = the_checked().draft.sources
PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Forms</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,"><link rel="stylesheet" href="base.css"><link rel="stylesheet" href="reckon.css">
{% for script in scripts %}<script defer src="{{ script }}"></script>{% endfor %}</head><body>
{% from "reckoning.html" import form %}
{% for formula, given, prefix in forms %}<section id="{{ prefix }}form">{{ form(formula, given, prefix) }}</section>
{% endfor %}</body></html>"""
SCRIPTS = ("reckoning.js", "reckon_rows.js", "reckon.js")
TRIED = {**FORMULAS, BUILD_UP.id: BUILD_UP}
"""All formulas, and one of the tests that has every kind of input."""
RECORD = "window.told = []; addEventListener('reckoned', (event) => told.push(event.detail))"

Open = Callable[..., Page]


@pytest.fixture(scope="module")
def small_phone(chromium: Browser) -> Iterator[Page]:
    """One page of a small phone. Forms keep nothing, so each that is opened in it begins anew."""
    context = chromium.new_context(viewport={"width": 320, "height": 700}, has_touch=True)
    page = context.new_page()
    page.add_init_script(RECORD)
    yield page
    context.close()


@pytest.fixture(scope="module")
def still_page(chromium: Browser) -> Iterator[Page]:
    """One page without scripts."""
    context = chromium.new_context(java_script_enabled=False)
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for pages of forms, to be opened from disk."""
    folder = tmp_path_factory.mktemp("forms")
    for style in ("base.css", "reckon.css"):
        shutil.copy(OVERRIDES / "styles" / style, folder)
    for script in SCRIPTS[1:]:
        shutil.copy(OVERRIDES / "scripts" / script, folder)
    (folder / SCRIPTS[0]).write_text(program(TRIED), encoding="utf-8")
    return folder


def write_page(folder: Path, *forms: tuple[str, dict[str, Any], str]) -> Path:
    """Render forms into a page of its own."""
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(OVERRIDES / "pages"), autoescape=True, undefined=jinja2.StrictUndefined
    )
    environment.globals.update(words=words, sources=SOURCES)
    rows = [(TRIED[name], given, prefix) for name, given, prefix in forms]
    path = folder / f"page-{len(list(folder.iterdir()))}.html"
    path.write_text(environment.from_string(PAGE).render(forms=rows, scripts=SCRIPTS), encoding="utf-8")
    return path


@pytest.fixture
def open_form(small_phone: Page, folder: Path) -> Iterator[Open]:
    """Open a page of forms on a small phone; what goes wrong in its scripts fails the test."""
    faults: list[str] = []

    def note(error: Error) -> None:
        faults.append(str(error))

    def open_page(*forms: tuple[str, dict[str, Any], str]) -> Page:
        small_phone.goto(write_page(folder, *forms).as_uri())
        return small_phone

    small_phone.on("pageerror", note)
    yield open_page
    small_phone.remove_listener("pageerror", note)
    assert faults == []


def last_told(page: Page) -> Any:
    return page.evaluate("told.at(-1)")


def as_json(values: Mapping[str, Any]) -> Any:
    """Turn what Python holds into what comes out of a page."""
    return json.loads(json.dumps(values))


@pytest.mark.parametrize("name", TRIED)
def test_example_gives_on_the_page_what_python_gives(open_form: Open, name: str) -> None:
    formula = TRIED[name]
    page = open_form((name, {}, ""))
    fill(page.locator("form"), formula, formula.example)
    values = validate(formula, formula.example).values
    result = reckon(formula, values)
    said = "" if result.verdict is None else formula.verdicts[result.verdict]
    expect(page.locator("[data-verdict]")).to_have_text(said)
    assert page.locator("[data-working] li").all_inner_texts() == list(result.working)
    assert last_told(page) == {
        "formula": name,
        "values": as_json(values),
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
        "values": {"pitch_deg": None, "measured_lap_mm": 300, "metal": "lead", "declared_lap_mm": None},
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
    fill(page.locator("form"), formula, formula.example)
    expect(page.locator("[data-caption]")).to_be_hidden()
    shown = page.locator("[data-picture]").inner_html()
    fields = list(_fields(page, formula))
    assert any(_moves_the_drawing(page, *each, shown) for each in fields)
    for field, _, _ in fields:
        put(field, "")
    expect(page.locator("[data-caption]")).to_be_visible()
    assert f'aria-label="{page.locator("[data-picture] svg").get_attribute("aria-label")}"' in formula.example_drawing()


def _fields(page: Page, formula: Formula) -> Iterator[tuple[Locator, Input, Any]]:
    """Give each field that the example fills, with its input and value: of a list, the fields of its first line."""
    for spec in formula.inputs:
        if spec.name not in formula.example:
            continue
        if not spec.columns:
            yield page.locator(f"[name={spec.name}]"), spec, formula.example[spec.name]
            continue
        line = page.locator(f"[data-rows={spec.name}] [data-lines] > li").first
        for column, cell in zip(spec.columns, formula.example[spec.name][0], strict=True):
            yield line.locator(f"[data-cell={column.name}]").locator("input, select"), column, cell


def _moves_the_drawing(page: Page, field: Locator, spec: Input, usual: Any, shown: str) -> bool:
    """Tell whether another value of one field draws another picture of what was typed; put the usual one back."""
    others = [option.value for option in spec.choices] or [spec.low, spec.high]
    moved = False
    for other in others:
        put(field, other)
        typed = page.locator("[data-caption]").is_hidden()
        moved = moved or (typed and page.locator("[data-picture]").inner_html() != shown)
    put(field, usual)
    return moved


def test_everything_fits_a_small_phone_and_a_gloved_thumb(open_form: Open) -> None:
    page = open_form(*((name, dict(formula.example), f"{name}-") for name, formula in TRIED.items()))
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    for control in page.locator(":is(input, select, button, summary):visible").all():
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


def test_form_that_fails_leaves_its_rule_by_hand_and_the_others_alive(chromium: Browser, folder: Path) -> None:
    path = write_page(folder, ("pitch", {}, "broken-"), ("sheet-lap", {}, ""))
    path.write_text(path.read_text(encoding="utf-8").replace('data-formula="pitch"', 'data-formula="gone"'))
    page = chromium.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(path.as_uri())
    assert len(said) == 1 and said[0].startswith("The form for gone did not start.")
    expect(page.locator("#broken-form [data-hand] table")).to_be_visible()
    expect(page.locator("#broken-form [data-live]")).to_be_hidden()
    page.locator("#form [name=pitch_deg]").fill("15")
    expect(page.locator("#form [data-output=lap_mm]")).to_have_text("290 mm")
    page.close()


@pytest.mark.parametrize("name", TRIED)
def test_without_script_the_rule_by_hand_stands_open(still_page: Page, folder: Path, name: str) -> None:
    page = still_page
    page.goto(write_page(folder, (name, {}, "")).as_uri())
    formula = TRIED[name]
    expect(page.locator("[data-live]")).to_be_hidden()
    for sentence in formula.by_hand.rule:
        expect(page.get_by_text(sentence)).to_be_visible()
    expect(page.locator("table tbody tr")).to_have_count(len(formula.by_hand.rows))
    expect(page.get_by_text(formula.limits)).to_be_visible()
    assert page.locator("svg").count() == (1 if formula.draw else 0)


def test_with_script_the_rule_by_hand_is_folded_away(open_form: Open) -> None:
    page = open_form(("sheet-lap", {}, ""))
    expect(page.locator("table")).to_be_hidden()
    page.get_by_text("By hand").click()
    expect(page.locator("table")).to_be_visible()


# --- lists

LIST = "[data-rows=layers]"


def test_list_begins_with_its_default_or_with_what_is_given(open_form: Open) -> None:
    given = {"layers": "zinc,0.8,2; copper,0.7,", "hands_count": 1}
    page = open_form(("stack-mass", {}, ""), ("stack-mass", given, "again-"))
    expect(page.locator("#form [data-lines] > li")).to_have_count(1)
    expect(page.locator("#form [data-count]")).to_have_text("1 of at most 4 lines.")
    page.locator("#form [name=hands_count]").fill("1")
    told = page.evaluate("told.filter((each) => each.outputs).map((each) => each.values.layers)")
    assert [told[0], told[-1]] == [[["zinc", 0.8, 2], ["copper", 0.7, None]], [["lead", 1.8, 1]]]


def test_lines_are_added_and_taken_out_within_their_limits(open_form: Open) -> None:
    page = open_form(("stack-mass", {"hands_count": 2}, ""))
    lines, add = page.locator(f"{LIST} [data-lines] > li"), page.get_by_role("button", name="Add a line")
    expect(page.get_by_role("button", name="Take out line 1")).to_be_hidden()
    add.press("Enter")
    expect(lines.nth(1).get_by_label("Metal")).to_be_focused()
    expect(page.locator("[data-result]")).to_be_hidden()
    fill_lines(
        page.locator(LIST), BUILD_UP.inputs[0], [("lead", 1, 1), ("zinc", 2, 1), ("copper", 3, 1), ("lead", 4, 1)]
    )
    expect(add).to_be_hidden()
    expect(page.locator("[data-count]")).to_have_text("4 of at most 4 lines.")
    page.get_by_role("button", name="Take out line 2").press("Enter")
    expect(lines.nth(1).get_by_label("Metal")).to_be_focused()
    assert last_told(page)["values"]["layers"] == [["lead", 1, 1], ["copper", 3, 1], ["lead", 4, 1]]
    expect(add).to_be_visible()


def test_each_field_of_a_list_has_its_own_label_and_sentence(open_form: Open) -> None:
    page = open_form(("stack-mass", {"hands_count": 2}, ""))
    page.get_by_role("button", name="Add a line").click()
    second = page.locator(f"{LIST} [data-lines] > li").nth(1)
    thick = second.get_by_label("Thickness")
    thick.fill("9")
    errors = page.locator(f"{LIST} .reckon__error:visible")
    expect(errors).to_have_count(0)
    thick.press("Tab")
    expect(errors).to_have_text(["Thickness: it has to be from 0.1 to 5 mm. Look at the number again."])
    described = thick.get_attribute("aria-describedby")
    assert described and errors.get_attribute("id") in described.split()
    assert all(page.locator(f"#{each}").count() == 1 for each in described.split())
    expect(thick).to_have_attribute("aria-invalid", "true")
    second.get_by_label("Sheets").fill("1.5")
    second.get_by_label("Sheets").press("Tab")
    expect(errors).to_have_text(
        [
            "Thickness: it has to be from 0.1 to 5 mm. Look at the number again.",
            "Sheets: 1.5 is not a whole number. Count whole ones.",
        ]
    )
    assert last_told(page)["values"]["layers"] is None


def test_form_filled_anew_has_the_lines_that_its_field_carries(open_form: Open) -> None:
    page = open_form(("stack-mass", {"hands_count": 2}, ""))
    page.evaluate(
        """() => {
          const form = document.forms[0];
          form.elements.layers.value = JSON.stringify([["zinc", 0.8, null], ["lead", 1.8, 2]]);
          form.dispatchEvent(new Event("input"));
        }"""
    )
    assert last_told(page)["values"]["layers"] == [["zinc", 0.8, None], ["lead", 1.8, 2]]
    page.evaluate("document.forms[0].reset(), document.forms[0].dispatchEvent(new Event('input'))")
    assert last_told(page)["values"]["layers"] == [["lead", 1.8, 1]]
    for nonsense in ("", "no list", "{}", "[[]]", "[1, 2]", "null"):
        page.evaluate(
            """(text) => {
              document.forms[0].elements.layers.value = text;
              document.forms[0].dispatchEvent(new Event("input"));
            }""",
            nonsense,
        )
        assert page.locator(f"{LIST} [data-lines] > li").count() >= 1


def test_axe_finds_nothing_in_a_list_with_slips_in_it(open_form: Open) -> None:
    page = open_form(("stack-mass", {"hands_count": 2}, ""))
    page.get_by_role("button", name="Add a line").click()
    thick = page.locator(f"{LIST} [data-lines] > li").nth(1).get_by_label("Thickness")
    thick.fill("9")
    thick.press("Tab")
    page.add_script_tag(path=str(Path(__file__).parent / "vendor" / "axe.min.js"))
    found = page.evaluate("axe.run(document.forms[0]).then(({ violations }) => violations.map((each) => each.id))")
    assert found == []
