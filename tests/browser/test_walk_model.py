"""The walk's script as a model, without page or storage: every exit of every tree, and long ways through many trees,
lead where the shell's `follow` leads. Clicked through on two trees in test_walk.py."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Sequence
from typing import Any

import pytest
from guides import ROOT
from made_values import tried
from playwright.sync_api import Browser, Page
from walked import WALKS
from walker import courses

from build_tools.proof.walk import Stop, answers_to, follow

MODEL = ("gates", "walk", "standing")
"""The scripts that say of themselves that they know no page, no storage and no clock."""
DRIVE = """(given) => {
  const over = (walk) => {
    while (walk.here && walk.step(walk.here).kind === "go-to") {
      const { tree } = walk.handOver(0);
      walk = new Walk(WALKS[tree], walk.run);
      walk.arrive(0);
    }
    return walk;
  };
  return JSON.stringify(JSON.parse(given).map(([tree, answers]) => {
    let walk = over(new Walk(WALKS[tree], Walk.begin(WALKS[tree], "run", "1", 0)));
    const asked = [];
    for (const answer of answers) {
      const { picks = {} } = walk.step(walk.asked).gate ?? {};
      const { progress, remedies } = new Standing(walk);
      const step = { tree: walk.data.tree.id, step: walk.asked, guarded: walk.asked !== walk.here };
      asked.push({ ...step, left: progress.left, open: remedies.open.length });
      const [said, roof] = Object.hasOwn(picks, answer) ? ["yes", answer] : [answer, "any"];
      walk.answer(said, { at: 0, roof });
      walk = over(walk);
    }
    const way = walk.way.map((entry) => [entry.tree, entry.step, entry.answer, Boolean(entry.passed)]);
    return { asked, way, end: [walk.run.current.tree, walk.run.current.step] };
  }));
}"""
Walked = dict[str, Any]


@pytest.fixture(scope="module")
def blank(chromium: Browser) -> Iterator[Page]:
    """A blank page with the model alone in it, and the walks of all trees."""
    page = chromium.new_page()
    for name in MODEL:
        page.add_script_tag(path=ROOT / "site_overrides" / "scripts" / "walk" / f"{name}.js")
    page.add_script_tag(content=f"const WALKS = {json.dumps(WALKS)};")
    yield page
    page.close()


def walked(page: Page, tree: str, courses: Sequence[Sequence[str]]) -> list[Walked]:
    """Give what the model asks and where it ends, for each course of answers from the start of one tree."""
    return list(json.loads(page.evaluate(DRIVE, json.dumps([[tree, answers] for answers in courses]))))


def assert_same(found: Walked, stops: Sequence[Stop]) -> None:
    """Hold a walk of the model against the shell's, the gates that are passed unasked too."""
    way = [[stop.tree, stop.step, stop.answer or "go-on", not stop.asked] for stop in stops[:-1]]
    assert found["way"] == way
    assert found["end"] == [stops[-1].tree, stops[-1].step]
    answered = [(stop.tree, stop.step) for stop in stops[:-1] if stop.asked and stop.answer]
    assert [(each["tree"], each["step"]) for each in found["asked"]] == answered
    # No gate is asked in the place of a step: whoever comes there has passed it.
    assert not any(each["guarded"] for each in found["asked"])


def test_a_model_that_led_elsewhere_would_be_seen(blank: Page) -> None:
    tree, walk = next((name, walk) for name, walk in WALKS.items() if len(walk["steps"]) > 10)
    first = walk["steps"][walk["start"]]["exits"]
    one, other = next((a, b) for a in first for b in first if first[a] != first[b])
    (found,) = walked(blank, tree, [[one]])
    with pytest.raises(AssertionError):
        assert_same(found, follow(WALKS, tree, [other]))


@pytest.mark.parametrize("tree", WALKS)
def test_every_exit_leads_where_the_shell_leads(blank: Page, tree: str) -> None:
    """Progress never rises: GOV.UK Design System, question pages, "Using progress indicators"; here as a number."""
    plays = list(courses(WALKS[tree]))
    assert plays
    for answers, found in zip(plays, walked(blank, tree, plays), strict=True):
        stops = follow(WALKS, tree, answers)
        assert_same(found, stops)
        here = [each for each in found["asked"] if each["tree"] == tree]
        left = [each["left"] for each in here]
        assert left == sorted(left, reverse=True)
        remedies = [each["open"] for each in here]
        made_safe = any(stop.kind == "remedy" and stop.answer for stop in stops)
        assert made_safe or remedies == sorted(remedies, reverse=True)


@pytest.mark.parametrize("tree", WALKS)
def test_ways_through_many_trees_lead_where_the_shell_leads(blank: Page, tree: str) -> None:
    chance = random.Random(tree)
    plays = [_wander(chance, tree) for _ in range(tried(10, 500))]
    for answers, found in zip(plays, walked(blank, tree, plays), strict=True):
        assert_same(found, follow(WALKS, tree, answers))


def _wander(chance: random.Random, tree: str) -> list[str]:
    """Answer by chance until a remedy ends the walk, or after so many answers; at a joined gate a roof may be told."""
    answers: list[str] = []
    for _ in range(60):
        last = follow(WALKS, tree, answers)[-1]
        step = WALKS[last.tree]["steps"][last.step]
        if not step["exits"]:
            break
        answers.append(chance.choice(answers_to(step)))
    return answers
