"""The author's commands: new, still-open, reach, coverage, find; what they say, and how a slip is told."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from guides import CLEAN, broken_guide, codes_of, edit, record, report_of, the_guide

from build_tools.__main__ import main
from build_tools.guide.walk import walk_data
from build_tools.proof.case_walks import answers_of
from build_tools.proof.checks import check
from build_tools.proof.walk import follow
from build_tools.shell.coverage import coverage
from build_tools.shell.find import MOST_SHOWN, find, stem
from build_tools.shell.scaffold import scaffold
from build_tools.sources import CASES
from build_tools.sources.blanks import BLANK
from build_tools.sources.library import read_cases, read_library

ROOT = Path(__file__).parent.parent
SHED = "trees/potting-shed.yaml"
FILLED = {
    "question": "Is the heap warm?",
    "where": "inside",
    "effort": "look",
    "remedy": "catch-the-drip",
    "covering": "any",
    "light": "any",
    "lasts": "lasting",
    "glass": "not-touched",
    "cautions": "slippery-floor",
    "after-failed-proof": "potting-shed",
}
"""What a blank is filled with by its key; text where it does not matter."""


def run(root, *words):
    return main(["--root", str(root), *words])


def filled(text, **more):
    """Fill every blank as its key asks; an item of a list stands under its key."""
    lines, key = [], ""
    for line in text.splitlines():
        key = (re.findall(r"([a-z-]+):", line.split(BLANK)[0]) or [key])[-1]
        said = {**FILLED, **more}.get(key, "Text.")
        lines.append(re.sub(rf'"?{BLANK}.*', said, line))
    return "\n".join(lines) + "\n"


def fill(root, path, **more):
    file = root / path
    file.write_text(filled(file.read_text(encoding="utf-8"), **more), encoding="utf-8")


def test_new_tree_and_remedy_pass_when_their_blanks_are_filled(good, capsys):
    assert [run(good, "new", "compost-heap"), run(good, "new", "--remedy", "turn-the-heap")] == [0, 0]
    assert "wrote trees/compost-heap.yaml" in capsys.readouterr().out
    fill(good, "trees/remedies/turn-the-heap.yaml")
    fill(good, "trees/compost-heap.yaml", remedy="turn-the-heap")
    assert codes_of(good) == ["version-not-raised"]
    record(good)
    assert report_of(good) == f"{CLEAN}\n"


@pytest.mark.parametrize("kind", ["tree", "remedy"])
def test_blank_that_is_not_needed_says_so(kind):
    _, text = scaffold("compost-heap", kind, date(2026, 11, 25))
    optional = [line for line in text.splitlines() if "None needed: take it out." in line]
    assert len(optional) == (1 if kind == "remedy" else 0)


@pytest.mark.parametrize("kind", ["tree", "remedy"])
def test_every_blank_is_told_and_nothing_else(kind, good):
    path, text = scaffold("compost-heap", kind, date(2026, 11, 25))
    (good / path).write_text(text, encoding="utf-8")
    problems = check(good).problems
    assert {each.code for each in problems} == {"blank-left"}
    assert [each.place.line for each in problems if each.place.path == path] == [
        number - (BLANK in line and line.lstrip().startswith(BLANK))
        for number, line in enumerate(text.splitlines(), start=1)
        if BLANK in line
    ]


@pytest.mark.parametrize("words", [["potting-shed"], ["--remedy", "air-the-shed"]])
def test_new_never_overwrites(words, good, capsys):
    before = {file: file.read_bytes() for file in (good / "trees").rglob("*.yaml")}
    assert run(good, "new", *words) == 2
    assert "is already there, and stays as it is" in capsys.readouterr().err
    assert {file: file.read_bytes() for file in (good / "trees").rglob("*.yaml")} == before


@pytest.mark.parametrize("name", ["Compost", "compost_heap", "../heap", "heap.yaml", "", "tables/heap"])
def test_new_takes_only_an_id(name, good, capsys):
    before = sorted(good.rglob("*"))
    assert run(good, "new", name) == 2
    assert "is not an id" in capsys.readouterr().err and sorted(good.rglob("*")) == before


def test_still_open_names_what_each_answer_closed(good, capsys):
    assert run(good, "still-open", "potting-shed", "--answers", "yes,no") == 0
    assert capsys.readouterr().out.splitlines() == [
        "potting-shed/drip-in-rain: Does it drip only in rain?  -> yes",
        "   3 still open",
        "   closed 1: air-the-shed",
        "potting-shed/plain-tiles: Do plain tiles cover the roof?  -> no",
        "   2 still open",
        "   closed 1: hang-the-tile-back",
        "potting-shed/catch-first: Catch the drip",
        "   1 still open",
        "",
        "Left at the end: catch-the-drip",
    ]


def test_still_open_as_json_holds_the_same(good, capsys):
    assert run(good, "still-open", "potting-shed", "--answers", "yes", "--format", "json") == 0
    found = json.loads(capsys.readouterr().out)
    assert [each["closed"] for each in found["steps"]] == [["air-the-shed"], []]
    assert found["left"] == ["catch-the-drip", "hang-the-tile-back"]


def test_reach_says_how_and_behind_what(good, capsys):
    assert run(good, "reach", "potting-shed/tile-slipped") == 0
    assert capsys.readouterr().out.splitlines() == [
        "potting-shed/tile-slipped: Has a tile slipped?",
        "",
        # Two answers lead to plain-tiles, one on, three verdicts and unsure less `below` on: 2 × 1 × 3.
        "From the start of potting-shed: 6 ways.",
        "   shortest: python -m build_tools walk potting-shed --answers yes,yes,at-limit,yes",
        "",
        "Every way into it passes:",
        "   potting-shed/up-the-ladder: Going up the ladder at the shed",
        "It needs ladder; every way passes one of:",
        "   potting-shed/up-the-ladder: Going up the ladder at the shed",
    ]


def test_reach_of_another_tree_counts_from_the_first_too(good, capsys):
    assert run(good, "reach", "cold-pane", "--format", "json") == 0
    found = json.loads(capsys.readouterr().out)
    assert [(each["start"], each["count"], each["answers"]) for each in found["ways"]] == [
        ("cold-pane", 1, []),
        ("potting-shed", 1, ["no"]),
    ]
    assert (found["step"], found["onEveryWay"]) == ("drops-inside", [])


TOLD = "title: A drip\nfacts: It drips.\n"
CASE = f"{TOLD}tree: potting-shed\nanswers:\n  - drip-in-rain: yes\n  - plain-tiles: no\nends-in: catch-the-drip\n"


def test_coverage_counts_what_cases_take_and_never_take(good, capsys, tmp_path):
    (tmp_path / "cases").mkdir()
    (tmp_path / "cases/one.yaml").write_text(CASE)
    (tmp_path / "cases/two.yaml").write_text(
        f"{TOLD}tree: potting-shed\nanswers:\n  - drip-in-rain: no\n  - drops-inside: yes\nends-in: air-the-shed\n"
    )
    assert run(good, "coverage", str(tmp_path / "cases")) == 0
    shown = capsys.readouterr().out.splitlines()
    assert "potting-shed: 3 of 16 exits taken" in shown and "cold-pane: 1 of 3 exits taken" in shown
    assert "   never: drip-in-rain -> unsure" in shown and "   never: drip-in-rain -> yes" not in shown
    assert shown[-1] == "4 of 19 exits taken; 15 never."
    assert run(good, "coverage", str(tmp_path / "cases"), "--tree", "cold-pane") == 0
    assert capsys.readouterr().out.splitlines()[0] == "cold-pane: 1 of 3 exits taken"


def test_coverage_of_the_guide_agrees_with_the_walks_of_its_cases():
    guide = the_guide()
    walks = {tree.id: walk_data(guide, tree) for tree in guide.trees}
    cases, problems = read_cases(ROOT, ROOT / CASES)
    assert problems == () and len(cases) == len(list((ROOT / CASES).glob("*.yaml")))
    stated = [each.record for each in cases.values()]
    courses = [follow(walks, case.tree, [said for _, said in answers_of(case)]) for case in stated]
    walked = [(stop.tree, stop.step, stop.answer) for course in courses for stop in course if stop.answer]
    counts = {key: count for tree in coverage(walks, cases.values()).trees for key, count in tree.taken.items()}
    assert sum(counts.values()) == len(walked) and {key for key, count in counts.items() if count} == set(walked)
    exits = {(t, n, a) for t, walk in walks.items() for n, step in walk["steps"].items() for a in step["exits"]}
    assert set(counts) == exits


ENDS = "ends-in: catch-the-drip\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "tree: poting-shed\nanswers:\n  - drip-in-rain: yes\n" + ENDS,
            'one.yaml:3:7: error: "poting-shed" is not a tree. Did you mean "p',
        ),
        (
            "tree: potting-shed\nanswers:\n  - drip-in-rain: maybe\n" + ENDS,
            'one.yaml:5:5: error: "maybe" is not an answer to "Does it drip',
        ),
        (
            "tree: potting-shed\nanswers:\n  - drip: yes\n" + ENDS,
            'one.yaml:5:5: error: this answers "drip", but the walk has',
        ),
        (
            "tree: potting-shed\nanswers:\n  - drip-in-rain: yes\n" + ENDS,
            "one.yaml:6:10: error: the walk is not at its end: it still asks",
        ),
        (
            CASE.removeprefix(TOLD).replace("catch-the-drip", "air-the-shed"),
            'one.yaml:7:10: error: the walk ends in "catch-the-drip", and not',
        ),
        (
            CASE.removeprefix(TOLD).replace("ends-in", "  - tile-slipped: no\nends-in"),
            "one.yaml:7:5: error: the walk ended at",
        ),
        ("tree: potting-shed\n" + ENDS, '"answers" is missing'),
        ("tree: potting-shed\nanswers:\n  - drip-in-rain: yes\n", '"ends-in" is missing'),
        ("tree: [", "not-yaml"),
    ],
)
def test_coverage_tells_a_case_that_does_not_walk_as_it_states(text, said, good, capsys, tmp_path):
    (tmp_path / "cases").mkdir()
    (tmp_path / "cases/one.yaml").write_text(TOLD + text)
    assert run(good, "coverage", str(tmp_path / "cases")) == 1
    assert said in capsys.readouterr().err


def test_coverage_tells_every_wrong_case_at_once_from_the_root(good, capsys):
    (good / CASES).mkdir()
    for name in ("one", "two"):
        (good / f"{CASES}/{name}.yaml").write_text(
            f"{TOLD}tree: potting-shed\nanswers:\n  - drip-in-rain: maybe\n{ENDS}"
        )
    assert run(good, "coverage") == 1
    told = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0] for line in told] == ["trees/cases/one.yaml", "trees/cases/two.yaml"]


def test_find_gives_the_line_of_each_hit_best_first(good, capsys):
    assert run(good, "find", "tile hang") == 0
    first = capsys.readouterr().out.splitlines()[0]
    assert first == "trees/remedies/hang-the-tile-back.yaml:1: remedy hang-the-tile-back: Hang the tile back"


def test_find_takes_words_in_any_order_with_other_endings(good):
    draft = read_library(good)[0]
    found = [each.id for each in find(draft, "hanging tiles")]
    assert "hang-the-tile-back" in found
    assert found == [each.id for each in find(draft, "TILES, hang")]


KINDS = {
    "tree": "tree potting",
    "step": "tile slipped",
    "remedy": "hang tile",
    "term": "headlap",
    "caution": "caution fall",
    "hazard": "hazard ladder",
    "gate": "gate ladder",
    "source": "common practice",
}


@pytest.mark.parametrize("kind", KINDS)
def test_find_reads_every_kind_and_holds_every_word(kind, good):
    found = find(read_library(good)[0], KINDS[kind])
    assert kind in {each.kind for each in found}
    assert {each.found for each in found} == {len(KINDS[kind].split())}


def test_find_looks_at_what_is_read_and_not_at_ids_that_are_named(good):
    draft = read_library(good)[0]
    remedy = draft.remedies["hang-the-tile-back"]
    assert "slippery-floor" in draft.remedies["catch-the-drip"].cautions and remedy.after_failed_proof
    assert {(each.kind, each.id) for each in find(draft, "slippery")} == {("caution", "slippery-floor")}


def test_find_shows_the_fewest_sentences_that_hold_the_words_and_where_a_remedy_is_reached(good, capsys):
    assert run(good, "find", "cracked", "batten") == 0
    hit = find(read_library(good)[0], "cracked batten")[0]
    shown = capsys.readouterr().out.splitlines()
    assert shown[0].endswith(f"{hit.kind} {hit.id}: {hit.title}")
    assert shown[1 : 1 + len(hit.lines)] == [f"    {each}" for each in hit.lines]
    assert f"    reached at: {', '.join(hit.reached_at)}" in shown and hit.reached_at
    assert hit.lines == ("One, if the old one is cracked.", "Hook the tile over its batten.")


def test_find_puts_what_holds_the_words_together_first(good):
    hits = find(read_library(good)[0], "tile slipped")
    assert [each.rank for each in hits] == sorted((each.rank for each in hits), reverse=True)
    assert hits[0].title == "Has a tile slipped?"


def test_find_shows_the_best_and_says_how_many_more(good, capsys):
    every = find(read_library(good)[0], "the")
    assert len(every) > MOST_SHOWN
    run(good, "find", "the")
    assert (
        capsys.readouterr().out.splitlines()[-1] == f"{len(every) - MOST_SHOWN} more: add a word, or --all to see them."
    )
    run(good, "find", "the", "--all")
    shown = capsys.readouterr().out
    assert all(f": {each.kind} {each.id}: " in shown for each in every) and "more: add" not in shown


def test_find_line_is_where_it_says(good):
    hits = find(read_library(good)[0], "ladder")
    assert hits
    for hit in hits:
        text = (good / hit.place.path).read_text(encoding="utf-8").splitlines()
        assert "ladder" in "\n".join(text[hit.place.line - 1 : hit.place.line + 3]).lower()


def test_find_says_when_no_entry_holds_all_the_words(good, capsys):
    assert run(good, "find", "tile", "zebra") == 0
    assert capsys.readouterr().out.startswith("No entry holds all the words; these hold 1 of 2.\n")


@pytest.mark.parametrize("words", ["zebra", "???"])
def test_find_of_nothing_ends_with_1(words, good, capsys):
    assert run(good, "find", words) == 1
    assert capsys.readouterr().err == f'Nothing holds "{words}".\n'


def test_find_works_while_the_sources_have_errors(good, capsys):
    edit(good, SHED, "then: steep-enough", "then: steep-enuf")
    assert run(good, "find", "slipped") == 0


@pytest.mark.parametrize(
    ("one", "other"),
    [
        *(("split", "splitting"), ("split", "splits"), ("tile", "tiles"), ("flash", "flashing")),
        *(("batch", "batches"), ("leak", "leaked"), ("glass", "glasses")),
    ],
)
def test_stem_is_the_beginning_of_both(one, other):
    assert one.startswith(stem(other)) and other.startswith(stem(one))


@pytest.mark.parametrize("word", ["gas", "ring", "bed", "red", "lead", "glass"])
def test_stem_leaves_a_short_word_whole(word):
    assert stem(word) == word


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["still-open", "poting-shed"], 'Did you mean "potting-shed"?'),
        (["still-open", "potting-shed", "--answers", "maybe"], '"maybe" is not an answer'),
        (["reach", "potting-shed/plane-tiles"], 'Did you mean "plain-tiles"?'),
        (["reach", "shed"], '"shed" is not a tree. The trees are: cold-pane, potting-shed.'),
        (["coverage", "--tree", "shed"], '"trees/cases" is not a folder.'),
        (["coverage", "nowhere"], '"nowhere" is not a folder.'),
    ],
)
def test_slip_is_told_in_one_line(words, said, good, capsys):
    assert run(good, *words) == 2
    shown = capsys.readouterr()
    assert said in shown.err and shown.err.count("\n") == 1 and shown.out == ""


@pytest.mark.parametrize("words", [["still-open", "potting-shed"], ["reach", "potting-shed"]])
def test_broken_sources_are_refused(words, tmp_path, capsys):
    assert run(broken_guide("ungated", tmp_path), *words) == 1
    assert "run `python -m build_tools check`" in capsys.readouterr().err
