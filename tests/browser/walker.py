"""Walking a page as a person does, and paths that take every exit of every tree."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator, Mapping
from typing import Any

from guides import the_guide
from playwright.sync_api import Browser, BrowserContext, Page

from build_tools.guide.walk import walk_data
from build_tools.proof.walk import State, answered, unasked

SHOWN = "[data-step]:not([hidden])"
LONG = 60_000
"""Milliseconds that a test waits for what has to come: far more than it takes, so that a busy machine fails no test."""
NO_GUARD = "addEventListener('DOMContentLoaded', () => { if (typeof Screens === 'function') Screens.GUARD_MS = 0; })"
"""A test taps faster than any hand; without this the guard against double taps would hold it up."""
STILL = "{ let now = 0; performance.now = () => now; window.pass = (ms) => { now += ms; }; }"
"""Between taps no time passes but what a test lets pass."""
STORE = "PhoneStore.open(Runs.KIND)"
"""Where a page keeps its walks."""


def walks() -> dict[str, Mapping[str, Any]]:
    """Give the walk of every tree of the guide, by id."""
    return {tree.id: walk_data(the_guide(), tree) for tree in the_guide().trees}


def courses(walk: Mapping[str, Any]) -> Iterator[tuple[str, ...]]:
    """Give answers that lead from the start to ends of one tree and together take every exit that can be taken."""
    steps = walk["steps"]
    taken: set[tuple[str, str]] = set()
    for step, answer in _exits(steps):
        if (step, answer) in taken:
            continue
        for before in _ways_to(steps, walk["start"], step):
            course = _finished(walk, [*before, answer])
            if (step, answer) in course:
                taken.update(course)
                yield tuple(said for at, said in course if at)
                break


def _exits(steps: Mapping[str, Any]) -> list[tuple[str, str]]:
    return [(name, answer) for name, step in steps.items() for answer in step["exits"]]


def _ways_to(steps: Mapping[str, Any], start: str, goal: str) -> Iterator[list[str]]:
    """Give ways to a step, the shortest first; a bounded number, since a tree can hold thousands."""
    ways: list[tuple[str, list[str]]] = [(start, [])]
    for _ in range(50_000):
        if not ways:
            return
        step, said = ways.pop(0)
        if step == goal:
            yield said
        else:
            ways += [(target, [*said, answer]) for answer, target in steps[step]["exits"].items()]


def _finished(walk: Mapping[str, Any], wanted: list[str]) -> list[tuple[str, str]]:
    """Play answers out and go on to an end by the last exit of each step; a gate that is open asks nothing."""
    course: list[tuple[str, str]] = []
    here = State("", walk["start"])
    while exits := walk["steps"][here.step]["exits"]:
        onward = unasked({"": walk}, here)
        answer = wanted[0] if wanted else "yes" if onward else list(exits)[-1]
        wanted = wanted[1:]
        if onward and answer != "yes":
            return []
        if not onward:
            course.append((here.step, answer))
        here = onward or answered({"": walk}, here, answer)
    return course


def line(walk: Mapping[str, Any], count: int) -> tuple[list[tuple[str, str]], str]:
    """Give so many plain questions from the start, each with an answer, and the question that comes then."""
    found = _line(walk["steps"], walk["start"], count)
    assert found, f"{walk['tree']['id']} does not begin with {count + 1} plain questions"
    return found


def _line(steps: Mapping[str, Any], step: str, count: int) -> tuple[list[tuple[str, str]], str] | None:
    if steps[step]["kind"] != "question" or steps[step]["needs"]:
        return None
    if count == 0:
        return [], step
    for answer, target in reversed(steps[step]["exits"].items()):
        rest = _line(steps, target, count - 1)
        if rest:
            return [(step, answer), *rest[0]], rest[1]
    return None


def way_to(walk: Mapping[str, Any], step: str) -> list[str]:
    """Give the answers of a shortest way from the start to a step."""
    return next(iter(_ways_to(walk["steps"], walk["start"], step)))


WALK = """async (answers) => {
  const shown = () => document.querySelector("[data-step]:not([hidden])");
  const changed = async (from) => {
    for (let n = 0; n < 12000 && shown() === from; n += 1) await new Promise((done) => setTimeout(done, 5));
    if (shown() === from) throw new Error(`nothing came after ${from.id}`);
  };
  const course = [];
  for (const answer of answers) {
    const section = shown();
    section.querySelector("[data-packed-done]")?.click();
    section.querySelector("[data-reading-done]")?.click();
    if (answer === "yes") section.querySelector('[data-roof="any"]')?.click();
    if (answer === "yes") for (const box of section.querySelectorAll("[data-condition]")) box.click();
    const link = section.querySelector(`[data-answer="${answer}"]`);
    course.push({
      step: section.dataset.step,
      progress: document.querySelector('[data-text="progress"]').textContent,
      open: document.querySelectorAll('[data-list="open-remedies"] li').length,
      guarded: section.contains(link) && Boolean(link.closest("[hidden]")) && !link.matches(".answer--verdict"),
    });
    link.click();
    await changed(section);
  }
  return { course, end: shown().dataset.step };
}"""


class Walker:
    """A phone with a walk open on it."""

    def __init__(self, context: BrowserContext, base: str, quick: bool = True) -> None:
        """Open a new page of a phone; `base` is the address of the site."""
        self.context = context
        self.base = base
        self.page = context.new_page()
        self.page.set_default_timeout(LONG)
        self.faults: list[str] = []
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", lambda said: self.faults.append(said.text) if said.type == "error" else None)
        self.page.add_init_script(NO_GUARD if quick else STILL)

    def open(self, tree: str, fragment: str = "") -> Page:
        """Open a tree's walk; afterwards the page says which light, or what the fragment asks."""
        # From the same page a new fragment would not load it anew.
        self.page.goto("about:blank")
        self.page.goto(f"{self.base}walk/{tree}.html{fragment}")
        self.page.wait_for_selector("html.js")
        return self.page

    def begin(self, tree: str, fragment: str = "") -> Page:
        """Open a tree's walk for a new light."""
        self.open(tree, fragment)
        self.page.click("[data-act=new-light]")
        self.page.wait_for_selector(SHOWN)
        return self.page

    @property
    def asked(self) -> str:
        """The step that is on the screen."""
        return str(self.page.locator(SHOWN).get_attribute("data-step"))

    def walk(self, *answers: str) -> dict[str, Any]:
        """Answer one question after the other; gates are ticked, and what is held back is released."""
        self.page.wait_for_selector(SHOWN)
        return dict(self.page.evaluate(WALK, list(answers)))

    def later(self, milliseconds: int) -> None:
        """Let time pass on a page that is not quick."""
        self.page.evaluate("(ms) => pass(ms)", milliseconds)

    def act(self, name: str) -> None:
        """Tap what has this name, where it is on the screen."""
        self.page.locator(f"[data-act={name}]:visible").first.click()

    def text(self, part: str) -> str:
        """Give the text of a part of the frame."""
        return " ".join(self.page.locator(f"[data-part={part}], [data-text={part}]").first.inner_text().split())

    @property
    def link(self) -> str:
        """Give the link that stands ready to be sent."""
        return self.page.input_value("[data-field=link]")

    def follow(self, link: str) -> Page:
        """Open a link that was sent."""
        self.page.goto("about:blank")
        self.page.goto(link)
        self.page.wait_for_selector("html.js")
        return self.page

    def runs(self) -> list[dict[str, Any]]:
        """Give what is kept in the phone."""
        return list(self.page.evaluate(f"{STORE}.then((store) => idbKeyval.values(store))"))

    def way(self) -> list[tuple[str, str]]:
        """Give the kept way of the only light: steps and answers that are not set aside."""
        (run,) = self.runs()
        return [(each["step"], each["answer"]) for each in run["entries"] if not each.get("superseded")]


def value_of(link: str) -> Any:
    """Read what a link carries."""
    body = link.split(".")[-2]
    return json.loads(base64.urlsafe_b64decode(body + "=" * (-len(body) % 4)))


def phone_context(chromium: Browser, **more: Any) -> BrowserContext:
    """Give a fresh phone, that saves no guide unless it is told to: saving takes longer than most tests."""
    kept = {"service_workers": "block", **more}
    return chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, **kept)
