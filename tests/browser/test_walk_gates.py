"""Gates in the walk: nobody is let past one, by an answer, a link, a break, the clock or somebody else's answers.

That any roof is treated as fragile, and that going up is asked first: HSE, HSG33, Health and safety in roof work.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect
from walked import BROWSED, WALKS
from walker import SHOWN, Walker, phone_context, way_to

GUARDED = [(tree, name) for tree, walk in WALKS.items() for name, step in walk["steps"].items() if step["needs"]]
TREE, UP, ON = next(
    (tree, name, answer)
    for tree, name in GUARDED
    for steps in [WALKS[tree]["steps"]]
    for answer, to in steps[name]["exits"].items()
    if steps[name]["needs"] == steps[to]["needs"] == ["roof"]
)
STEPS = WALKS[TREE]["steps"]
GATE = STEPS[UP]["guards"][0]
WAY = way_to(WALKS[TREE], UP)
"""Answers from the start to a question on the roof, with an answer there that leads on to another up there."""


def _tick(page: Page) -> int:
    """Tick all conditions of the gate on the screen; give how many there were."""
    packed = page.locator(f"{SHOWN} [data-packed-done]")
    if packed.is_visible():
        packed.click()
    boxes = page.locator(f"{SHOWN} [data-condition]").all()
    for box in boxes:
        box.check()
    return len(boxes)


def _yes(page: Page) -> None:
    page.locator(f"{SHOWN} [data-answer=yes]").click()


def test_yes_opens_only_when_every_condition_is_ticked(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY[:-1])
    assert walker.asked == GATE
    page.locator(f"{SHOWN} [data-packed-done]").click()
    yes = page.locator(f"{SHOWN} [data-answer=yes]")
    boxes = page.locator(f"{SHOWN} [data-condition]").all()
    for n, box in enumerate(boxes):
        expect(yes).to_be_disabled()
        expect(page.locator(f"{SHOWN} [data-ticks-left]")).to_contain_text(f"{n} of {len(boxes)} ticked")
        box.check()
    expect(yes).to_be_enabled()
    boxes[0].uncheck()
    expect(yes).to_be_disabled()
    page.evaluate("document.querySelector('[data-step]:not([hidden]) [data-answer=yes]').click()")
    assert walker.asked == GATE
    for refusal in ("no", "unsure"):
        expect(page.locator(f"{SHOWN} [data-answer={refusal}]")).to_be_enabled()


@pytest.mark.parametrize("refusal", ["no", "unsure"])
def test_a_refused_gate_leads_to_nothing_up_there(walker: Walker, refusal: str) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY[:-1])
    walker.walk(refusal)
    assert walker.asked == STEPS[GATE]["exits"][refusal]
    expect(page.locator("[data-part=open-gates]")).to_be_hidden()


def test_what_to_look_at_and_carry_stands_before_the_gate(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY[:-1])
    rows = page.locator(f"{SHOWN} [data-going-up] .tick")
    expect(page.locator(f"{SHOWN} [data-conditions]")).to_be_hidden()
    assert STEPS[UP]["title"] in [" ".join(each.split()) for each in rows.all_inner_texts()]
    rows.first.locator("input").check()
    page.locator(f"{SHOWN} [data-packed-done]").click()
    expect(page.locator(f"{SHOWN} [data-conditions]")).to_be_visible()
    while walker.runs()[0]["packed"].get(GATE) != [0, "done"]:
        page.wait_for_timeout(20)
    page.reload()
    page.wait_for_selector(f"#{GATE}:not([hidden])")
    # It was read once; the conditions alone are asked again.
    expect(page.locator(f"{SHOWN} [data-conditions]")).to_be_visible()


@pytest.mark.parametrize("tree", sorted({tree for tree, _ in GUARDED}.intersection(BROWSED)))
def test_a_link_to_a_guarded_step_goes_through_its_gate(walker: Walker, tree: str) -> None:
    for step in (name for of, name in GUARDED if of == tree):
        page = walker.begin(tree, f"#{step}")
        wanted = WALKS[tree]["steps"][step]
        opened: set[str] = set()
        while not set(wanted["needs"]) <= opened:
            gate = WALKS[tree]["steps"][walker.asked]
            assert gate["kind"] == "gate" and walker.asked in wanted["guards"]
            expect(page.locator("[data-text=progress]")).to_contain_text(f"Then: {wanted['title']}")
            opened |= set(gate["gate"]["opens"])
            walker.walk("yes")
        assert walker.asked == step


def test_a_link_that_is_refused_at_the_gate_does_not_arrive(walker: Walker) -> None:
    page = walker.begin(TREE, f"#{UP}")
    walker.walk("no")
    assert walker.asked == STEPS[GATE]["exits"]["no"]
    page.goto(page.url.split("#")[0] + f"#{UP}")
    page.wait_for_selector("[data-screen=lights]:not([hidden])")
    expect(page.locator("[data-part=lights-notice]")).to_contain_text(STEPS[UP]["title"])


def test_a_link_to_a_step_that_no_gate_here_opens_goes_to_the_start(walker: Walker) -> None:
    page = walker.open(TREE)
    start = page.evaluate(
        """(step) => {
          const data = Dom.json("walk--data");
          data.steps[step].guards = [];
          const walk = new Walk(data, Walk.begin(data, "x", "A", 0));
          walk.followLink(step, 0);
          return walk.asked;
        }""",
        UP,
    )
    assert start == WALKS[TREE]["start"]


def test_a_reload_asks_the_gate_again(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY)
    assert walker.asked == UP
    page.reload()
    page.wait_for_selector(f"#{GATE}:not([hidden])")
    expect(page.locator("[data-part=notice]")).to_contain_text("You took a break: the gate is asked again.")
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    walker.walk("yes")
    assert walker.asked == UP


def test_an_open_gate_is_passed_with_a_notice(walker: Walker) -> None:
    """Between the trees' own ways no gate comes twice, so two gates are made one in the page's data."""
    page = walker.open(TREE)
    passed = page.evaluate(
        """([gate, way]) => {
          const data = Dom.json("walk--data");
          const first = data.steps[gate];
          const twin = structuredClone(first);
          data.steps.twin = twin;
          first.exits = { ...first.exits, yes: "twin" };
          const walk = new Walk(data, Walk.begin(data, "x", "A", 0));
          for (const answer of way) walk.answer(answer, { at: 0 });
          return { asked: walk.asked, last: walk.way.at(-1) };
        }""",
        [GATE, WAY],
    )
    assert (passed["asked"], passed["last"]["step"], passed["last"]["passed"]) == (UP, "twin", True)


def test_stop_closes_every_gate_and_shows_how_to_make_it_safe(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY)
    walker.act("stop")
    expect(page.locator("[data-screen=stop]")).to_contain_text("Every gate is closed")
    expect(page.locator("[data-screen=stop] a.button")).to_have_attribute("href", "../remedies/contain-the-water.html")
    (run,) = walker.runs()
    assert run["gates"] == {}
    assert [gate["why"] for gate in run["closed"]] == ["came-down"]
    walker.act("return")
    assert walker.asked == GATE
    walker.walk("yes")
    assert walker.asked == UP


@pytest.mark.parametrize("ending", ["came-down", "weather-turned"])
def test_a_tap_says_that_the_gate_has_ended(walker: Walker, ending: str) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY)
    page.click("[data-part=open-gates] summary")
    expect(page.locator("[data-ending=test-failed]")).to_be_hidden()
    page.click(f"[data-ending={ending}]")
    page.wait_for_selector(f"#{GATE}:not([hidden])")
    expect(page.locator("[data-part=notice]")).to_contain_text("is closed, since")


def test_time_ends_a_gate_when_the_phone_is_looked_at(chromium: Browser, served: str) -> None:
    context = phone_context(chromium)
    walker = Walker(context, served)
    walker.page.clock.install()
    page = walker.begin(TREE)
    walker.page.clock.resume()
    walker.walk(*WAY)
    minutes = STEPS[GATE]["gate"]["minutes"]
    expect(page.locator("[data-text=open-gates]")).to_contain_text(f"{minutes} minutes left")
    page.clock.fast_forward((minutes - 2) * 60_000)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator("[data-text=open-gates]")).to_contain_text("2 minutes left")
    assert walker.asked == UP
    page.clock.fast_forward(3 * 60_000)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_selector(f"#{GATE}:not([hidden])")
    expect(page.locator("[data-part=notice]")).to_contain_text("its time ran out")
    context.close()


def test_time_that_ran_out_asks_the_gate_before_the_next_step_up_there(walker: Walker) -> None:
    """What was seen before the time was over still counts; going on does not."""
    page = walker.open(TREE)
    asked = page.evaluate(
        """([way, answer, minutes]) => {
          const data = Dom.json("walk--data");
          const walk = new Walk(data, Walk.begin(data, "x", "A", 0));
          for (const each of way) walk.answer(each, { at: 0 });
          const closed = walk.answer(answer, { at: minutes * 60_000 });
          return { asked: walk.asked, here: walk.here, why: closed.map((gate) => gate.why) };
        }""",
        [WAY, ON, STEPS[GATE]["gate"]["minutes"]],
    )
    assert asked == {"asked": GATE, "here": STEPS[UP]["exits"][ON], "why": ["time-limit"]}


def test_a_question_on_the_roof_is_held_until_the_reader_is_secured(walker: Walker) -> None:
    page = walker.begin(TREE)
    walker.walk(*WAY)
    section = page.locator(SHOWN)
    expect(section.locator("[data-reading]")).to_contain_text("Never read and move")
    expect(section.locator("[data-body]")).to_be_hidden()
    expect(section.locator("[data-answers]")).to_be_hidden()
    section.locator("[data-reading-done]").click()
    expect(section.locator("[data-body]")).to_be_visible()
    expect(section.locator("[data-answers]")).to_be_visible()


def test_answers_on_a_ladder_wait_until_the_reader_is_down(walker: Walker) -> None:
    tree, step = next((tree, name) for tree, name in GUARDED if WALKS[tree]["steps"][name]["where"] == "ladder")
    page = walker.begin(tree, f"#{step}")
    walker.walk("yes")
    section = page.locator(SHOWN)
    expect(section.locator("[data-reading]")).to_contain_text("Answer when you are down")
    expect(section.locator("[data-body]")).to_be_visible()
    for part in ("[data-answers]", "[data-since]"):
        expect(section.locator(part)).to_be_hidden()
    section.locator("[data-reading-done]").click()
    for part in ("[data-answers]", "[data-since]"):
        expect(section.locator(part)).to_be_visible()


def test_a_caution_stands_in_full_first_and_as_a_reminder_after(walker: Walker) -> None:
    """Full text on entering a hazard, a reminder after, full again on coming back: a project choice on GOV.UK
    `interruption-pages`, "less effective the more often users see them"."""
    page = walker.begin(TREE)
    walker.walk(*WAY[:-1])
    full = page.locator(f"{SHOWN} div.caution:visible")
    page.locator(f"{SHOWN} [data-packed-done]").click()
    assert full.count() >= 2
    walker.walk("yes")
    standing = page.locator(f"{SHOWN} details.caution--reminder:visible")
    assert standing.count() >= 2
    expect(standing.first.locator(".caution__rest")).to_be_hidden()
    shown = [page.evaluate(f"[...document.querySelectorAll('{SHOWN} div.caution')].filter(e => !e.hidden).length")]
    page.evaluate("document.querySelector('[data-act=way]').click()")
    walker.act("return")
    page.wait_for_selector(SHOWN)
    shown.append(page.evaluate(f"[...document.querySelectorAll('{SHOWN} div.caution')].filter(e => !e.hidden).length"))
    assert shown[1] == 0
    walker.act("stop")
    walker.act("return")
    page.locator(f"#{GATE} div.caution").first.wait_for(state="visible")


def test_a_gate_whose_time_ran_out_up_there_is_asked_with_reminders(chromium: Browser, served: str) -> None:
    """Not full again where nobody left the place; full again after coming down."""
    context = phone_context(chromium)
    walker = Walker(context, served)
    walker.page.clock.install()
    page = walker.begin(TREE)
    page.clock.resume()
    walker.walk(*WAY)
    page.clock.fast_forward(STEPS[GATE]["gate"]["minutes"] * 60_000)
    walker.walk(ON)
    assert walker.asked == GATE
    expect(page.locator(f"{SHOWN} div.caution:visible")).to_have_count(0)
    assert page.locator(f"{SHOWN} details.caution--reminder:visible").count() >= 2
    page.locator(f"{SHOWN} details.caution--reminder summary").first.click()
    expect(page.locator(f"{SHOWN} details.caution--reminder .caution__rest").first).to_be_visible()
    expect(page.locator(f"{SHOWN} [data-answer=yes]")).to_be_disabled()
    walker.act("stop")
    walker.act("return")
    page.locator(f"#{GATE} div.caution").first.wait_for(state="visible")
    context.close()
