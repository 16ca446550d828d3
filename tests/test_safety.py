"""The proof of safety, against every way walked one by one, and against dominators as networkx finds them.

The rules work on the graph with edges taken away. Here a walker carries what was opened and what was
established through the plain steps, with none of the program's graphs. The published idea is that of
dominators: Lengauer and Tarjan 1979, "A fast algorithm for finding dominators in a flowgraph" (from
memory, not seen); networkx computes them by another algorithm, of Cooper, Harvey and Kennedy.
"""

import re
from collections.abc import Iterator
from itertools import product, takewhile
from typing import NamedTuple

import networkx as nx
from guides import SMALLEST, draft_of, gate, opens, question, remedy, tree
from hypothesis import given, settings
from hypothesis import strategies as st

from build_tools.proof.rules.safety import GUARDED, safety

GATES = {"up": opens("ladder"), "top": opens("ladder", "roof"), "glass": opens("lift-glass")}
OPENINGS = [str(each) for each in GUARDED]
FACTS = ({}, {"yes": {"covering": "plain-tile"}}, {"yes": {"covering": "slate"}, "no": {"covering": "plain-tile"}})


@st.composite
def trees(draw, home, size, go_to=()):
    """A tree whose exits all lead forward, so that it has no circle; its last step is a remedy."""
    names = [f"{home}{number}" for number in range(size)]
    steps = {}
    for number, name in enumerate(names[:-1]):
        # Most often on by one and out to the end, since that is what makes a gate guard anything.
        ahead = st.sampled_from([names[number + 1], names[-1], *names[number + 1 :]])
        exits = [draw(ahead) for _ in range(3)]
        kind = draw(st.sampled_from(["question", "question", "gate", *(["go-to"] if go_to else [])]))
        if kind == "gate":
            steps[name] = gate(draw(st.sampled_from(list(GATES))), *exits)
        elif kind == "go-to":
            steps[name] = {"go-to": draw(st.sampled_from(go_to))}
        else:
            where = draw(st.sampled_from(["inside", "ladder", "roof"]))
            acts = draw(st.sampled_from([(), (), ("lift-glass",)]))
            steps[name] = question(name, *exits, where=where, acts=acts, establishes=draw(st.sampled_from(FACTS)))
    steps[names[-1]] = {"remedy": draw(st.sampled_from(["r", "s"]))}
    return tree(steps, assumes=draw(st.sampled_from([{}, {}, {"covering": ("plain-tile",)}])))


@st.composite
def forests(draw):
    """Two trees, the first handing over to the second, and two remedies with work of their own."""
    b = draw(trees("b", draw(st.integers(1, 4))))
    a = draw(trees("a", draw(st.integers(2, 5)), go_to=["b", *(f"b/{name}" for name in b["steps"])]))
    works = st.sampled_from(
        [{"gate": "up"}, {"gate": "top"}, {"do": "Go.", "where": "ladder"}, {"do": "Go.", "where": "roof"}]
    )
    again = st.sampled_from(["a", "b", *(f"a/{name}" for name in a["steps"])])
    coverings = st.sampled_from([("any",), ("plain-tile",), ("slate",)])
    remedies = {}
    for name in ("r", "s"):
        suits = {"covering": draw(coverings), "light": ("any",)}
        work = draw(st.lists(works, min_size=1, max_size=4))
        remedies[name] = remedy(*work, **{"after-failed-proof": draw(again), "suits": suits})
    return {"a": a, "b": b}, remedies


class Stop(NamedTuple):
    """Where a walker is, what gates have opened on the way, and what covering was established."""

    path: str
    step: str | int
    opened: frozenset[str]
    covering: str


def walks(plain_trees, remedies) -> Iterator[Stop]:
    """Walk every way from every entry, and give each stop on it."""

    def through_tree(home, name, opened, covering):
        here = plain_trees[home]
        name = name or here["starts-at"]
        covering = here["assumes"].get("covering", ("unknown",))[0] if covering == "unknown" else covering
        yield Stop(f"trees/{home}.yaml", name, opened, covering)
        step = here["steps"][name]
        if "remedy" in step:
            yield from through_work(step["remedy"], opened)
        elif "go-to" in step:
            yield from through_tree(*(*step["go-to"].split("/"), "")[:2], opened, covering)
        for answer, target in step.get("exits", {}).items():
            now = opened | set(GATES[step["gate"]]["opens"]) if "gate" in step and answer == "yes" else opened
            fact = step.get("establishes", {}).get(answer, {}).get("covering", covering)
            yield from through_tree(home, target, now, fact)

    def through_work(name, opened):
        for number, work in enumerate(remedies[name]["steps"]):
            yield Stop(f"trees/remedies/{name}.yaml", number, opened, "")
            opened = opened | set(GATES[work["gate"]]["opens"]) if "gate" in work else opened

    nothing = frozenset()
    for home in plain_trees:
        yield from through_tree(home, "", nothing, "unknown")
    for name, each in remedies.items():
        yield from through_work(name, nothing)
        home, _, begin = each["after-failed-proof"].partition("/")
        anew = begin in ("", plain_trees[home]["starts-at"]) or each["suits"]["covering"] == ("any",)
        yield from through_tree(home, begin, nothing, "unknown" if anew else each["suits"]["covering"][0])


def step_at(plain_trees, remedies, stop):
    home = stop.path.removesuffix(".yaml").removeprefix("trees/")
    return (plain_trees[home] if home in plain_trees else remedies[home.removeprefix("remedies/")])["steps"][stop.step]


def needed(plain_trees, remedies, stop):
    step = step_at(plain_trees, remedies, stop)
    return {step.get("where"), *step.get("acts", ())} & set(OPENINGS)


@given(forests())
@settings(max_examples=150)
def test_ungated_finds_what_some_walker_reaches_unopened(forest):
    told = {
        (each.path, each.keys[1], re.match(r'"([^"]+)"', each.what)[1])
        for each in safety(draft_of(*forest, gates=GATES))
        if each.code == "ungated"
    }
    walked = {
        (stop.path, stop.step, opening) for stop in walks(*forest) for opening in needed(*forest, stop) - stop.opened
    }
    assert told == walked


ROOFS = {"up": ("slope",), "top": ("flat",), "glass": ("slope", "flat")}
LIES_ON = {"plain-tile": ("slope",), "slate": ("flat",)}


@given(forests())
@settings(max_examples=150)
def test_gate_does_not_fit_finds_what_some_walker_meets_on_another_roof(forest):
    gates = {name: {**opens("ladder", "roof"), "roofs": roofs} for name, roofs in ROOFS.items()}
    vocabulary = {**SMALLEST["vocabulary"], "roof": {"slope": "a slope", "flat": "a flat roof"}, "lies-on": LIES_ON}
    findings = safety(draft_of(*forest, gates=gates, vocabulary=vocabulary))
    told = {(each.path, each.keys[1]) for each in findings if each.code == "gate-does-not-fit"}

    def misfits(step, covering):
        return "gate" in step and not set(LIES_ON.get(covering, ("slope", "flat"))) <= set(ROOFS[step["gate"]])

    remedies = forest[1]
    stops = [stop for stop in walks(*forest) if stop.path.count("/") == 1]
    met = {(stop.path, stop.step) for stop in stops if misfits(step_at(*forest, stop), stop.covering)}
    for name, each in remedies.items():
        # Whoever comes to it on a walk, and whoever it suits, since its page is also found by a search.
        coming = {stop.covering for stop in stops if step_at(*forest, stop).get("remedy") == name}
        met |= {
            (f"trees/remedies/{name}.yaml", number)
            for covering in coming | set(each["suits"]["covering"])
            for number, work in enumerate(each["steps"])
            if misfits(work, covering)
        }
    assert told == met


@given(forests())
@settings(max_examples=150)
def test_does_not_suit_finds_what_some_walker_has_not_established(forest):
    told = {
        (each.path, each.keys[1]) for each in safety(draft_of(*forest, gates=GATES)) if each.code == "does-not-suit"
    }
    walked = {(stop.path, stop.step) for stop in walks(*forest) if not suits(forest, stop)}
    assert told == walked


def suits(forest, stop):
    name = step_at(*forest, stop).get("remedy")
    return not name or {"any", stop.covering}.intersection(forest[1][name]["suits"]["covering"])


@given(trees("a", 7))
def test_ungated_agrees_with_immediate_dominators(plain):
    steps = dict(plain["steps"])
    one_gate = [name for name, step in steps.items() if step.get("gate") == "top"][:1]
    for name, step in steps.items():
        if "gate" in step and name not in one_gate:
            steps[name] = question(name, *step["exits"].values())
    flow = nx.DiGraph()
    flow.add_nodes_from(steps)
    for name, step in steps.items():
        for answer, target in step.get("exits", {}).items():
            opened = name in one_gate and answer == "yes"
            flow.add_edges_from([(name, "opened"), ("opened", target)] if opened else [(name, target)])
    told = {
        each.keys[1]
        for each in safety(draft_of({"a": tree(steps)}, {"r": remedy(), "s": remedy()}, gates=GATES))
        if each.code == "ungated" and each.what.startswith('"roof"')
    }
    above = nx.immediate_dominators(flow, "a0")
    on_roof = {name for name in steps if steps[name].get("where") == "roof" and nx.has_path(flow, "a0", name)}
    assert told == {name for name in on_roof if "opened" not in chain(above, name)}


def chain(above, name):
    """Give all dominators of a node, from what immediately dominates what."""
    found = [name]
    while above.get(found[-1], found[-1]) not in (found[-1], None):
        found.append(above[found[-1]])
    return found


@given(forests())
@settings(max_examples=150)
def test_refused_leads_up_finds_what_a_refused_walker_reaches(forest):
    plain, remedies = forest
    told = {
        (each.path, each.keys[1], each.keys[3], re.search(r'needs "([^"]+)"', each.what)[1])
        for each in safety(draft_of(plain, remedies, gates=GATES))
        if each.code == "refused-leads-up"
    }
    assert told == set(refusals(plain, remedies))


def refusals(plain, remedies):
    """Refuse each gate in turn and walk on; its own yes further on opens nothing for who was refused."""
    for home, each_tree in plain.items():
        for name, step in each_tree["steps"].items():
            for answer, opening in product(("no", "unsure"), GATES[step["gate"]]["opens"]) if "gate" in step else ():
                if any(goes_there(plain, remedies, home, step["exits"][answer], step["gate"], opening)):
                    yield f"trees/{home}.yaml", name, answer, opening


def goes_there(plain, remedies, home, name, refused, opening):
    """Tell of every step that a refused walker comes to whether it takes what was refused."""

    def lets_through(step):
        return "gate" in step and step["gate"] != refused and opening in GATES[step["gate"]]["opens"]

    step = plain[home]["steps"][name or plain[home]["starts-at"]]
    yield opening in (step.get("where"), *step.get("acts", ()))
    if "go-to" in step:
        yield from goes_there(plain, remedies, *(*step["go-to"].split("/"), "")[:2], refused, opening)
    for answer, target in step.get("exits", {}).items():
        if not (answer == "yes" and lets_through(step)):
            yield from goes_there(plain, remedies, home, target, refused, opening)
    works = remedies[step["remedy"]]["steps"] if "remedy" in step else ()
    for work in takewhile(lambda work: not lets_through(work), works):
        yield work.get("where") == opening
