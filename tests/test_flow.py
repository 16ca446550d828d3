"""The rules of the graph, against every way followed one by one; circles against networkx's listing of them."""

import networkx as nx
from guides import draft_of, question, remedy, tree
from hypothesis import given, settings
from hypothesis import strategies as st

from build_tools.proof.rules.flow import DEEP, flow


@st.composite
def trees(draw, home, go_to=()):
    """A tree whose exits may lead anywhere, circles and unreachable steps among them."""
    names = [f"{home}{number}" for number in range(draw(st.integers(1, 5)))]
    ends = [{"remedy": "r"}, *({"go-to": each} for each in go_to)]
    steps = {}
    for name in names:
        if draw(st.integers(0, 2)):
            exits = [draw(st.sampled_from(names)) for _ in range(3)]
            steps[name] = question(draw(st.sampled_from("pqrst")), *exits)
        else:
            steps[name] = draw(st.sampled_from(ends))
    return tree(steps)


@st.composite
def forests(draw):
    """Two trees that may hand over to each other."""
    return {"a": draw(trees("a", ["b", "b/b0"])), "b": draw(trees("b", ["a", "a/a0"]))}


def told(plain, code):
    found = flow(draft_of(plain, {"r": remedy()}))
    return {(each.path.removeprefix("trees/")[0], each.keys[1]) for each in found if each.code == code}


def onward(plain, home, name):
    """Give where each exit of a step leads, with the tree."""
    step = plain[home]["steps"][name]
    if "go-to" in step:
        there, _, begin = step["go-to"].partition("/")
        return [(there, begin or plain[there]["starts-at"])]
    return [(home, target) for target in step.get("exits", {}).values()]


def reached(plain, home, name, within):
    """Give every step that a walker can come to from a step, itself among them."""
    seen, waiting = set(), [(home, name)]
    while waiting:
        here = waiting.pop()
        if here not in seen and here[1] in plain[here[0]]["steps"]:
            seen.add(here)
            waiting += [each for each in onward(plain, *here) if each[0] == home or not within]
    return seen


@given(forests())
def test_unreachable_steps_are_those_no_walk_comes_to(plain):
    missed = {
        (home, name)
        for home, each in plain.items()
        for name in each["steps"]
        if (home, name) not in reached(plain, home, each["starts-at"], within=True)
    }
    assert told(plain, "unreachable-step") == missed


@given(forests())
def test_dead_ends_are_steps_from_which_no_walk_ends(plain):
    stuck = {
        (home, name)
        for home, each in plain.items()
        for name in each["steps"]
        if not any("exits" not in each["steps"][step] for _, step in reached(plain, home, name, within=True))
    }
    assert told(plain, "dead-end") == stuck


def listed_circles(plain):
    """List the circles as networkx lists them, by Johnson's algorithm: each as the trees it goes through."""
    graph = nx.DiGraph()
    for home, each in plain.items():
        for name in each["steps"]:
            graph.add_edges_from(
                ((home, name), head) for head in onward(plain, home, name) if head[1] in plain[head[0]]["steps"]
            )
    return [{home for home, _ in circle} for circle in nx.simple_cycles(graph)]


@given(forests())
@settings(max_examples=200)
def test_circle_is_told_for_each_tree_that_has_one_and_for_the_trees_together(plain):
    circles = listed_circles(plain)
    found = [each for each in flow(draft_of(plain, {"r": remedy()})) if each.code == "circle"]
    alone = {home for home in plain if {home} in circles}
    assert {each.path.removeprefix("trees/")[0] for each in found if "go-to" not in each.keys} == alone
    assert len([each for each in found if "go-to" in each.keys]) == ({"a", "b"} in circles)


@given(forests())
@settings(max_examples=200)
def test_asked_twice_are_questions_that_some_walk_meets_again(plain):
    words = {
        (home, name): step["question"]
        for home, t in plain.items()
        for name, step in t["steps"].items()
        if "exits" in step
    }
    again = {
        later
        for first in words
        for later in reached(plain, *first, within=False) - {first}
        if words.get(later) == words[first]
    }
    assert told(plain, "asked-twice") == (set() if listed_circles(plain) else again)


@given(st.integers(1, 16), st.integers(0, 15))
def test_depth_is_the_number_of_questions_on_the_longest_way(size, short):
    steps = {f"a{n}": question(f"a{n}", f"a{n + 1}", f"a{size}", f"a{min(n + 1 + short, size)}") for n in range(size)}
    plain = {"a": tree({**steps, f"a{size}": {"remedy": "r"}})}
    found = [each for each in flow(draft_of(plain, {"r": remedy()})) if each.code in ("deep", "too-deep")]
    assert [(each.code, each.keys) for each in found] == (
        [("too-deep" if size > 13 else "deep", ("starts-at",))] if size > DEEP else []
    )
    assert all(f"asks {size} times" in each.what for each in found)
