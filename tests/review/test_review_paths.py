"""Paths counted over states, against every pair of paths listed and held against each other."""

from collections import Counter

import pytest
from guides import draft_of, question, remedy, tree
from hypothesis import given, settings
from reviewed import edited, guides, reviewed, version

from build_tools.proof.counting import ways_from
from build_tools.proof.graph import Node, tree_graph
from build_tools.review.differences.paths import NOWHERE, Uncounted, walk_in_step, walk_of
from build_tools.review.versions.matching import Match


def both_walks(before, after, name):
    match = Match(version(before).draft, version(after).draft)
    back = {new: old for old, new in match.nodes.items()}
    remedies = {new: old for old, new in match.remedies.items()}
    return walk_of(match.before, name, {}, {}), walk_of(match.after, name, back, remedies)


def every_path(walk, answers, place=None, given=()):
    """List the paths of one version: the answers given by question, and the end."""
    place = walk.start if place is None else place
    if place in walk.ends:
        return [(dict(given), walk.ends[place])]
    key = walk.asks[place]
    heads = [(answer, walk.exits[place].get(answer, NOWHERE)) for answer in sorted(answers[key])]
    return [path for answer, head in heads for path in every_path(walk, answers, head, (*given, (key, answer)))]


def pairs_listed(before, after):
    """Count, by both ends, the pairs of paths that agree wherever both ask the same, and find the shortest."""
    answers = {}
    for walk in (before, after):
        for place, key in walk.asks.items():
            answers.setdefault(key, set()).update(walk.exits[place])
    counts, shortest = Counter(), {}
    for one, here in every_path(before, answers):
        for other, there in every_path(after, answers):
            if all(one[key] == other[key] for key in one.keys() & other.keys()):
                counts[here, there] += 1
                shortest[here, there] = min(len(one | other), shortest.get((here, there), 99))
    return {ends: (count, shortest[ends]) for ends, count in counts.items()}


@settings(max_examples=50)
@given(edited())
def test_paths_are_counted_as_listing_counts_them(versions):
    for name in {**versions[0]["trees"], **versions[1]["trees"]}:
        walks = both_walks(*versions, name)
        counted = {ends: (tally.ways, len(tally.shortest)) for ends, tally in walk_in_step(*walks).items()}
        assert counted == pairs_listed(*walks)


@settings(max_examples=50)
@given(guides())
def test_version_in_step_with_itself_has_the_paths_of_the_tree(plain):
    draft = version(plain).draft
    for name, made in draft.trees.items():
        tallies = walk_in_step(*both_walks(plain, plain, name))
        ways = ways_from(tree_graph(name, made))[Node(name, made.starts_at)]
        assert sum(each.ways for each in tallies.values()) == ways
        assert all(here == there for here, there in tallies)


def chain(names, last="r"):
    heads = [*names[1:], "end"]
    asked = {name: question(name, head, head, head) for name, head in zip(names, heads, strict=True)}
    return {"trees": {"a": tree({**asked, "end": {"remedy": last}})}, "remedies": {"r": remedy(), "s": remedy()}}


def test_paths_are_counted_where_they_could_not_be_listed():
    names = [f"q{number}" for number in range(50)]
    (told,) = reviewed(chain(names), chain(names, "s")).paths
    assert (told.changed, told.total) == (3**50, 3**50)


def test_question_asked_later_is_answered_once():
    assert pairs_counted(["p", "q", "r"], ["q", "r", "p"]) == 27


def pairs_counted(before, after):
    return sum(each.ways for each in walk_in_step(*both_walks(chain(before), chain(after), "a")).values())


def test_tree_turned_upside_down_is_told_and_not_counted():
    names = [f"q{number}" for number in range(16)]
    found = reviewed(chain(names), chain(names[::-1]))
    assert found.uncounted == ("a: its questions changed their order too much",)
    assert (found.paths, found.step) == ((), "major")


def test_circle_is_told_and_not_counted():
    round_and_round = {"a": question("a", "b", "b", "b"), "b": question("b", "a", "end", "end"), "end": {"remedy": "r"}}
    circle = {**chain(["a", "b"]), "trees": {"a": tree(round_and_round)}}
    assert reviewed(chain(["a", "b"]), circle).uncounted == ("a: the walk goes round in a circle",)
    with pytest.raises(Uncounted):
        walk_of(draft_of(**circle), "a", {}, {})


def test_exit_to_a_step_that_is_not_there_is_an_end_of_its_own():
    broken = chain(["p", "q"])
    broken["trees"]["a"]["steps"]["p"]["exits"]["no"] = "gone"
    (told,) = reviewed(chain(["p", "q"]), broken).paths
    (ending,) = told.endings
    assert (ending.after.kind, ending.after.name, ending.count, told.total) == ("missing", "gone", 3, 9)
