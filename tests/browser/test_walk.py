"""The walk with its script: every exit, across trees, taken back, changed. Outside reference: the same answers given to
the shell's `follow`, and the published rules named beside the checks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from walked import ANSWERS, CLICKED, FIRST, LINE, NEXT, SECOND, START, STEPS, THIRD, TREE, WALKS, hands_over
from walker import SHOWN, Walker, courses, phone_context, way_to

from build_tools.proof.walk import follow


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


@pytest.mark.parametrize("tree", CLICKED)
def test_every_exit_leads_where_the_shell_leads(walker: Walker, tree: str) -> None:
    """Progress never rises: GOV.UK Design System, question pages, "Using progress indicators"; here as a number."""
    page = walker.begin(tree)
    for answers in courses(WALKS[tree]):
        walked = walker.walk(*answers)
        stops = [stop for stop in follow(WALKS, tree, answers) if stop.tree == tree]
        # An open gate is passed without being shown.
        assert [each["step"] for each in walked["course"]] == [
            stop.step for stop in stops if stop.asked and stop.answer
        ]
        assert walked["end"] == stops[-1].step
        left = [_left(each["progress"]) for each in walked["course"] if each["progress"]]
        assert left == sorted(left, reverse=True)
        remedies = [each["open"] for each in walked["course"]]
        made_safe = any(stop.kind == "remedy" and stop.answer for stop in stops)
        assert made_safe or remedies == sorted(remedies, reverse=True)
        assert not any(each["guarded"] for each in walked["course"])
        page.evaluate("document.querySelector('[data-act=lights]').click()")
        page.wait_for_selector("[data-screen=lights]:not([hidden])")
        page.click("[data-act=new-light]")
        page.wait_for_selector(SHOWN)


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_answers_go_along_into_another_tree_and_back(chromium: Browser, site: Path, served: str, scheme: str) -> None:
    context = phone_context(chromium)
    walker = Walker(context, served if scheme == "http" else f"{site.as_uri()}/")
    page = walker.begin(START)
    answers, hand_over, other = hands_over()
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
    page.locator("[data-list=way] button", has_text="Answer again").first.click()
    page.wait_for_selector(f"#{WALKS[START]['start']}:not([hidden])")
    assert walker.faults == []
    context.close()


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
    """Each answer of the way has a button of its own that asks it anew, as summary lists of public services do."""
    page = walker.begin(TREE)
    before, forking, one, other = _fork()
    walker.walk(*before, one, "no")
    title = STEPS[forking]["title"]
    walker.act("way")
    page.locator("[data-list=way] li", has_text=title).get_by_text("Answer again", exact=True).click()
    walker.walk(other)
    assert walker.asked == STEPS[forking]["exits"][other]
    (run,) = walker.runs()
    aside = {(each["step"], each["answer"]) for each in run["entries"] if each.get("superseded")}
    assert aside == {(forking, one), (STEPS[forking]["exits"][one], "no")}
    walker.act("way")
    page.locator("[data-list=way] li", has_text=title).get_by_text("Answer again", exact=True).click()
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
    expect(page.locator("[data-screen=lights]")).to_be_visible()
    walker.later(400)
    page.click("[data-act=new-light]")
    page.wait_for_selector(SHOWN)
    walker.later(400)
    tap = "document.querySelector('[data-step]:not([hidden]) [data-answer=no]').click()"
    page.evaluate(tap)
    page.wait_for_selector(f"{SHOWN}:not(#{FIRST})")
    second = walker.asked
    walker.later(399)
    page.evaluate(tap)
    walker.later(1)
    page.evaluate(tap)
    page.wait_for_selector(f"{SHOWN}:not(#{second})")
    while len(walker.way()) < 2:
        page.wait_for_timeout(20)
    # Had the tap in between counted, the last one would have answered a third question.
    assert walker.way() == [(FIRST, "no"), (second, "no")]
    context.close()
