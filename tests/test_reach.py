"""How steps are reached and guarded: against every way walked one by one, and against the rule of safety."""

from functools import cache

import pytest
from guides import good_guide, the_checked, the_guide

from build_tools.guide.pages import guide_view
from build_tools.guide.walk import walk_data
from build_tools.proof.checks import check
from build_tools.proof.graph import needs
from build_tools.proof.rules.safety import GUARDED
from build_tools.proof.walk import follow
from build_tools.shell.narrowing import narrowing
from build_tools.shell.reach import Spot, Ways, entries_of, guards_of, ways_to


def walked(guide):
    walks = {each.id: walk_data(guide, each) for each in guide.trees}
    return walks, entries_of(guide, walks)


@cache
def project():
    return walked(the_guide())


def guards(walks, entries, goal):
    return guards_of(walks, entries, [goal])[goal]


@pytest.fixture
def shed(tmp_path):
    """The walks of the good guide, and where they begin."""
    return walked(guide_view(check(good_guide(tmp_path / "guide")).guide))


def spots(walks):
    return [Spot(tree, step) for tree, walk in walks.items() for step in walk["steps"]]


def every_walk(walks, tree, answers=()):
    """List every walk from a tree's start as the shell takes it, with the answers that it was given."""
    course = follow(walks, tree, answers)
    last = course[-1]
    onward = walks[last.tree]["steps"][last.step]["exits"]
    return [found for answer in onward for found in every_walk(walks, tree, (*answers, answer))] or [(answers, course)]


def ways_listed(walks, tree, goal):
    """List the ways to a step: each way in a walk up to it, once."""
    ways = set()
    for _, course in every_walk(walks, tree):
        for number, stop in enumerate(course):
            if (stop.tree, stop.step) == (goal.tree, goal.step):
                ways.add(tuple((each.tree, each.step, each.answer) for each in course[:number]))
    return ways


@pytest.mark.parametrize("start", ["potting-shed", "cold-pane"])
def test_ways_are_those_that_listing_finds(start, shed):
    walks, _ = shed
    for goal, ways in ways_to(walks, start, spots(walks)).items():
        assert ways.count == len(ways_listed(walks, start, goal)), goal


def walks_from(walks, tree):
    """Count every walk from a tree's start without listing it; a gate counts as asked each time."""

    @cache
    def count(tree, step):
        data = walks[tree]["steps"][step]
        if data["kind"] == "go-to":
            return count(data["goTo"]["tree"], data["goTo"]["step"])
        return sum(count(tree, target) for target in data["exits"].values()) or 1

    return count(tree, walks[tree]["start"])


def test_ways_are_those_that_listing_finds_where_a_gate_stays_open():
    walks, _ = project()
    listed = ((name, every_walk(walks, name)) for name in sorted(walks, key=lambda name: walks_from(walks, name)))
    passes_an_open_gate = (
        (name, walked) for name, walked in listed if any(not stop.asked for _, course in walked for stop in course)
    )
    tree, walked = next(passes_an_open_gate)
    for goal, found in ways_to(walks, tree, spots({tree: walks[tree]})).items():
        ways = set()
        for _, course in walked:
            steps = [(each.tree, each.step) for each in course]
            if (goal.tree, goal.step) in steps:
                upto = course[: steps.index((goal.tree, goal.step))]
                ways.add(tuple((each.tree, each.step, each.answer) for each in upto))
        assert found.count == len(ways), goal


def test_shortest_answers_lead_to_the_step():
    walks, _ = project()
    for tree in walks:
        for goal, found in ways_to(walks, tree, spots({tree: walks[tree]})).items():
            course = follow(walks, tree, found.answers)
            assert (goal.tree, goal.step) in [(each.tree, each.step) for each in course], goal


def test_no_way_is_told_as_none(shed):
    walks, _ = shed
    there = Spot("potting-shed", "plain-tiles")
    assert ways_to(walks, "cold-pane", [there]) == {there: Ways("cold-pane", 0, None)}


def test_every_guarded_step_of_the_guide_has_its_gates():
    walks, entries = project()
    draft = the_checked().draft
    for goal, guards in guards_of(walks, entries, list(spots(walks))).items():
        step = draft.trees[goal.tree].steps[goal.step]
        assert set(guards.needs) == {str(each) for each in needs(step) if each in GUARDED}
        for need, gates in guards.openers.items():
            assert gates, (goal, need)
            assert all(need in walks[each.tree]["steps"][each.step]["gate"]["opens"] for each in gates)


def test_gate_on_every_way_is_the_one_that_stands_there(shed):
    walks, entries = shed
    gate = Spot("potting-shed", "up-the-ladder")
    found = guards(walks, entries, Spot("potting-shed", "tile-slipped"))
    assert (found.needs, found.on_every_way, found.openers) == (("ladder",), (gate,), {"ladder": (gate,)})
    assert guards(walks, entries, Spot("potting-shed", "catch-first")).on_every_way == ()
    assert guards(walks, entries, gate).on_every_way == ()


def test_step_that_a_way_reaches_round_its_gate_has_no_opener(shed):
    # The rule `ungated` refuses such a guide, so the way round is put into the data of a proved one.
    walks, entries = shed
    walks["potting-shed"]["steps"]["plain-tiles"]["exits"]["no"] = "tile-slipped"
    found = guards(walks, entries, Spot("potting-shed", "tile-slipped"))
    assert (found.on_every_way, found.openers) == ((), {"ladder": ()})


def test_two_gates_guard_a_step_together_where_neither_does_alone(shed):
    walks, entries = shed
    steps = walks["potting-shed"]["steps"]
    steps["again"] = {**steps["up-the-ladder"], "title": "Another gate"}
    steps["plain-tiles"]["exits"]["no"] = "again"
    found = guards(walks, entries, Spot("potting-shed", "tile-slipped"))
    assert found.on_every_way == ()
    assert set(found.openers["ladder"]) == {Spot("potting-shed", "again"), Spot("potting-shed", "up-the-ladder")}


def test_way_in_by_a_failed_proof_counts_as_a_way_in():
    walks, entries = project()
    assert set(entries) >= {Spot(tree, walk["start"]) for tree, walk in walks.items()}
    draft = the_checked().draft
    named = {each.after_failed_proof for each in draft.remedies.values() if "/" in each.after_failed_proof}
    assert {str(each) for each in entries} >= named


def test_each_remedy_is_left_at_the_end_or_closed_at_one_step():
    walks, _ = project()
    for tree in walks:
        start = set(walks[tree]["steps"][walks[tree]["start"]]["ends"])
        for found in ways_to(walks, tree, spots({tree: walks[tree]})).values():
            course = follow(walks, tree, found.answers)
            steps = list(narrowing(walks, course))
            closed = [name for each in steps for name in each.closed]
            assert len(closed) == len(set(closed)) and set(closed) | set(steps[-1].left) == start
            assert not set(closed) & set(steps[-1].left)


def test_answer_that_closed_a_remedy_is_named(shed):
    walks, _ = shed
    steps = list(narrowing(walks, follow(walks, "potting-shed", ["yes", "no"])))
    assert [(each.stop.step, each.left, each.closed) for each in steps] == [
        ("drip-in-rain", ("air-the-shed", "catch-the-drip", "hang-the-tile-back"), ("air-the-shed",)),
        ("plain-tiles", ("catch-the-drip", "hang-the-tile-back"), ("hang-the-tile-back",)),
        ("catch-first", ("catch-the-drip",), ()),
    ]
