"""The walk as it looks and reads: large enough for gloves, narrow phones, large type, axe, and without its script.

Sizes: WCAG 2.2 SC 2.5.5 asks for 44 px; Parhi, Karlson and Bederson, MobileHCI 2006, 9.2 to 9.6 mm for a thumb, about
60 px; 72 px is the project's own least for an answer in gloves.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any
from urllib.parse import urldefrag

import pytest
from made_values import THOROUGH
from playwright.sync_api import Browser, Page, expect
from walked import BROWSED, LINE, NEXT, TREE, WALKS
from walker import SHOWN, Walker, courses, phone_context

AXE = Path(__file__).parent / "vendor" / "axe.min.js"
SCREENS = ("lights", "way", "send", "finding", "keep", "stop", "note", "incoming")


@pytest.fixture(scope="module")
def walker(chromium: Browser, served: str) -> Iterator[Walker]:
    """One phone for all looks; the policy is set aside for axe, which comes as inline script."""
    context = phone_context(chromium, bypass_csp=True)
    walker = Walker(context, served)
    yield walker
    assert walker.faults == []
    context.close()


def _show(page: Page, step: str) -> None:
    """Put a step on the screen, all of it, as if the walk stood there."""
    page.evaluate(
        """(step) => {
          const section = document.querySelector(`[data-step="${step}"]`);
          const shown = document.querySelector("[data-step]:not([hidden]), [data-screen]:not([hidden])");
          if (shown) shown.hidden = true;
          section.hidden = false;
          const held = "[data-body], [data-answers], [data-answers] > li, [data-conditions], [data-going-up]";
          for (const part of section.querySelectorAll(held)) part.hidden = false;
        }""",
        step,
    )


def _one_of_each() -> dict[str, list[str]]:
    """By tree: together one step of every kind and place in the guide."""
    found: dict[tuple[str, str], tuple[str, str]] = {}
    for tree, walk in WALKS.items():
        for name, step in walk["steps"].items():
            found.setdefault((step["kind"], step["where"]), (tree, name))
    return {tree: [name for of, name in found.values() if of == tree] for tree in WALKS}


@pytest.mark.parametrize("tree", BROWSED)
def test_answers_and_ticks_are_large_enough_for_gloves(walker: Walker, tree: str) -> None:
    page = walker.begin(tree)
    for step in WALKS[tree]["steps"]:
        _show(page, step)
        sizes = page.evaluate(
            """(step) => [...document.querySelectorAll(`[data-step="${step}"] :is(.answer, .tick)`)].filter(
              (each) => !each.closest("[data-on][hidden], [data-roofs][hidden]")).map((each) => {
              const { top, bottom, height, width } = each.getBoundingClientRect();
              return { top, bottom, height, full: width >= innerWidth - 40, tick: each.matches(".tick") };
            })""",
            step,
        )
        for each in sizes:
            assert each["height"] >= (56 if each["tick"] else 72) and each["full"], step
        answers = [each for each in sizes if not each["tick"]]
        gaps = [low["top"] - high["bottom"] for high, low in pairwise(answers)]
        assert all(gap >= 12 for gap in gaps), step


@pytest.mark.parametrize("tree", BROWSED)
def test_no_step_scrolls_sideways_on_a_narrow_phone_or_in_large_type(walker: Walker, tree: str) -> None:
    """WCAG 2.2 SC 1.4.10 at 320 px, and SC 1.4.4 at 200 %."""
    page = walker.begin(tree)
    for width, size in ((320, "100%"), (390, "200%")):
        page.set_viewport_size({"width": width, "height": 700})
        page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", size)
        for step in WALKS[tree]["steps"]:
            _show(page, step)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (step, width, size)
    page.set_viewport_size({"width": 390, "height": 844})


def test_no_screen_scrolls_sideways(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*[answer for _, answer in LINE])
    page.set_viewport_size({"width": 320, "height": 700})
    for screen in SCREENS:
        _screen(page, screen)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, screen
    page.set_viewport_size({"width": 390, "height": 844})


def _screen(page: Page, name: str) -> None:
    """Put a screen up that has been filled before where it can be."""
    page.evaluate(
        """(name) => {
          for (const each of document.querySelectorAll("[data-step], [data-screen]")) each.hidden = true;
          for (const part of ["frame", "tools"]) Dom.show(part, false);
          Dom.screen(name).hidden = false;
        }""",
        name,
    )


RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OF_COLOUR = ["cat.color"]
SCHEMES = {"light": RULES, "dark": RULES if THOROUGH else OF_COLOUR}
"""The dark scheme differs in its colours alone; with THOROUGH=1 it is held to all other rules as well."""
OTHER_THAN_COLOUR = """() => [...document.querySelectorAll("body, body *")].map((each) => {
  const { x, y, width, height } = each.getBoundingClientRect();
  const { display, visibility, opacity, font, borderWidth, textDecorationLine } = getComputedStyle(each);
  return [x, y, width, height, display, visibility, opacity, font, borderWidth, textDecorationLine].join(" ");
})"""
"""Where all that is on the page stands, and how it looks but for its colours."""


def _faults(page: Page, rules: list[str] = RULES) -> list[str]:
    if not page.evaluate("Boolean(window.axe)"):
        page.add_script_tag(path=AXE)
    found: dict[str, Any] = page.evaluate(
        """(rules) => axe.run({ runOnly: rules, rules: { "color-contrast-enhanced": { enabled: true } } })""", rules
    )
    return [f"{each['id']}: {node['html'][:120]}" for each in found["violations"] for node in each["nodes"]]


def test_axe_would_find_a_picture_without_words_and_grey_text(walker: Walker) -> None:
    page = walker.begin(TREE)
    page.evaluate(
        """() => {
          const grey = Dom.make("p", "", "Grey words");
          grey.style.color = "#6b6b6b";
          document.querySelector("[data-step]:not([hidden])").append(Dom.make("img", ""), grey);
        }"""
    )
    assert {each.split(":")[0] for each in _faults(page)} == {"image-alt", "color-contrast-enhanced"}


def test_axe_finds_nothing(walker: Walker) -> None:
    for tree, steps in _one_of_each().items():
        page = walker.begin(tree)
        for place, step in enumerate(steps):
            _show(page, step)
            if place == 1:
                _take_away_other_steps(page, steps)
            for scheme, rules in SCHEMES.items():
                _wear(page, scheme)
                assert _faults(page, rules) == [], (tree, step, scheme)


def _take_away_other_steps(page: Page, steps: list[str]) -> None:
    """Leave out the hidden steps once a page was looked at whole: axe goes through them all again for each look."""
    if not THOROUGH:
        page.evaluate(
            """(steps) => {
              for (const each of document.querySelectorAll("[data-step]")) {
                if (!steps.includes(each.dataset.step)) each.remove();
              }
            }""",
            steps,
        )


def _wear(page: Page, scheme: str) -> None:
    page.evaluate("(scheme) => { document.documentElement.dataset.scheme = scheme; }", scheme)


def test_dark_differs_from_light_in_colours_alone(walker: Walker) -> None:
    page = walker.begin(TREE)
    _wear(page, "light")
    light = page.evaluate(OTHER_THAN_COLOUR)
    _wear(page, "dark")
    assert page.evaluate(OTHER_THAN_COLOUR) == light


def test_axe_would_find_dark_words_on_the_dark_ground(walker: Walker) -> None:
    page = walker.begin(TREE)
    _wear(page, "dark")
    page.evaluate(
        """() => {
          const dim = Dom.make("p", "", "Dim words");
          dim.style.color = "#8a8a8a";
          document.querySelector("[data-step]:not([hidden])").append(dim);
        }"""
    )
    assert {each.split(":")[0] for each in _faults(page, OF_COLOUR)} == {"color-contrast-enhanced"}


def test_axe_finds_nothing_on_the_screens(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*[answer for _, answer in LINE])
    for act in ("way", "send-way"):
        page.evaluate("(act) => document.querySelector(`[data-act='${act}']`).click()", act)
        page.wait_for_selector("[data-screen]:not([hidden])")
    page.evaluate("for (const title of document.querySelectorAll('h2:empty')) title.textContent = 'Title'")
    for place, name in enumerate(SCREENS):
        _screen(page, name)
        if place == 1:
            _take_away_other_steps(page, [])
        for scheme, rules in SCHEMES.items():
            _wear(page, scheme)
            assert _faults(page, rules) == [], (name, scheme)


def test_stop_is_always_on_the_screen_and_never_over_the_last_answer(walker: Walker) -> None:
    page = walker.begin(TREE)
    bar = page.locator("[data-act=stop]")
    expect(bar).to_be_in_viewport()
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    expect(bar).to_be_in_viewport()
    last = page.locator(f"{SHOWN} [data-answer]").last
    last.scroll_into_view_if_needed()
    foot = page.locator(".foot").bounding_box()
    assert foot is not None
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    end, stop = page.locator(".foot > :last-child").bounding_box(), bar.bounding_box()
    assert end is not None and stop is not None and end["y"] + end["height"] <= stop["y"]


def test_cautions_are_told_apart_without_colour(walker: Walker) -> None:
    """ANSI Z535.4 signal words; frames are the project's own, since red and blue print as one grey."""
    page = walker.begin(TREE)
    page.evaluate(
        """() => {
          const section = document.querySelector("[data-step]:not([hidden])");
          for (const signal of ["danger", "warning", "caution", "notice"]) {
            const one = Dom.make("div", `caution caution--${signal}`, signal);
            one.id = `looks-${signal}`;
            section.append(one);
          }
        }"""
    )
    style = """(signal) => {
      const look = getComputedStyle(document.getElementById(`looks-${signal}`));
      return [look.borderTopStyle, look.borderTopWidth, look.backgroundColor === "rgb(17, 17, 17)"].join(" ");
    }"""
    frames = [page.evaluate(style, signal) for signal in ("danger", "warning", "caution", "notice")]
    assert frames == ["solid 3px true", "solid 7px false", "solid 2px false", "dashed 3px false"]


def test_answers_are_told_apart_without_colour(walker: Walker) -> None:
    page = walker.begin(TREE)
    look = """(answer) => {
      const style = getComputedStyle(document.querySelector(`[data-step]:not([hidden]) [data-answer="${answer}"]`));
      return `${style.borderTopStyle} ${style.backgroundImage}`;
    }"""
    looks = {page.evaluate(look, answer) for answer in ("yes", "no", "unsure")}
    assert len(looks) == 3
    assert any(each.startswith("dotted") for each in looks)


def test_the_walk_is_light_until_the_reader_asks_for_dark(chromium: Browser, served: str) -> None:
    """Outdoors a dark ground needs 7.46:1 where white needs 2.77:1 (a Korean study of outdoor phones, its abstract)."""
    context = phone_context(chromium, color_scheme="dark")
    walker = Walker(context, served)
    page = walker.begin(TREE)
    ground = "getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    walker.act("scheme")
    assert page.evaluate(ground) == "rgb(27, 31, 36)"
    page.reload()
    page.wait_for_selector(SHOWN)
    assert page.evaluate(ground) == "rgb(27, 31, 36)"
    context.close()


LINKS_AND_GUARDS = """(steps) => steps.map((step) => {
  const section = document.querySelector(`section#${step}`);
  const links = [...section.querySelectorAll("[data-answer]")].map((link) =>
    [link.dataset.answer, link.getAttribute("href")]);
  const guard = section.querySelector(".step__guard");
  const isSeen = guard?.checkVisibility({ visibilityProperty: true }) && guard.getBoundingClientRect().height > 0;
  return [Object.fromEntries(links), isSeen ? guard.innerText.replace(/\\s+/g, " ") : ""];
})"""
"""Of each step where its answers lead, and what it says of the gate before it, if that can be seen."""


@pytest.mark.parametrize("scheme", ["http", "file"])
@pytest.mark.parametrize("tree", BROWSED)
def test_without_script_every_answer_is_a_link_to_its_step(
    chromium: Browser, site: Path, served: str, tree: str, scheme: str
) -> None:
    context = phone_context(chromium, java_script_enabled=False)
    page = context.new_page()
    base = served if scheme == "http" else f"{site.as_uri()}/"
    page.goto(f"{base}walk/{tree}.html")
    steps = WALKS[tree]["steps"]
    seen = page.evaluate(LINKS_AND_GUARDS, list(steps))
    for (name, step), (links, guard) in zip(steps.items(), seen, strict=True):
        assert links == {answer: f"#{target}" for answer, target in step["exits"].items()}, name
        if step["guards"]:
            assert f"Only after: {steps[step['guards'][0]]['title']}" in guard, name
    for answers in list(courses(WALKS[tree]))[:2]:
        page.click("text=Begin")
        at = WALKS[tree]["start"]
        for answer in answers:
            page.click(f"#{at} [data-answer={answer}]")
            at = steps[at]["exits"][answer]
            assert urldefrag(page.url)[1] == at
            expect(page.locator(f"#{at}")).to_be_in_viewport()
    expect(page.locator("#walk--stop")).to_be_visible()
    expect(page.locator("[data-screen=lights]")).to_be_hidden()
    context.close()


@pytest.mark.parametrize("script", [True, False])
def test_a_page_saved_alone_walks_by_its_links(chromium: Browser, site: Path, tmp_path: Path, script: bool) -> None:
    """Its scripts are missing then, with or without script allowed; its style is inside."""
    alone = tmp_path / "saved.html"
    shutil.copy(site / "walk" / f"{TREE}.html", alone)
    context = phone_context(chromium, java_script_enabled=script)
    page = context.new_page()
    page.goto(alone.as_uri())
    at = WALKS[TREE]["start"]
    for step, answer in LINE:
        page.click(f"#{step} [data-answer={answer}]")
        at = WALKS[TREE]["steps"][step]["exits"][answer]
    assert at == NEXT
    expect(page.locator(f"#{NEXT}")).to_be_in_viewport()
    box = page.locator(f"#{NEXT} [data-answer=yes]").bounding_box()
    assert box is not None and box["height"] >= 72
    context.close()


def test_a_fault_in_the_script_leaves_the_page_whole(chromium: Browser, served: str) -> None:
    context = phone_context(chromium)
    page = context.new_page()
    page.route("**/walk/runs.js", lambda route: route.abort())
    page.goto(f"{served}walk/{TREE}.html")
    expect(page.locator("html.js")).to_have_count(0)
    expect(page.locator(f"#{NEXT}")).to_be_visible()
    page.click(f"#{LINE[0][0]} [data-answer={LINE[0][1]}]")
    assert urldefrag(page.url)[1] == WALKS[TREE]["steps"][LINE[0][0]]["exits"][LINE[0][1]]
    context.close()
