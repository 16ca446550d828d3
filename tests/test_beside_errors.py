"""The author's tools beside errors: what is whole can be walked, and what is left out is said."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest
from guides import BROKEN, broken_guide, broken_names, edit, the_checked

from build_tools.__main__ import main
from build_tools.guide.pages import guide_view
from build_tools.guide.walk import walk_data
from build_tools.proof import checks
from build_tools.proof.stand_ins import WARNING_TABLES, with_stand_ins, without
from build_tools.sources.library import tree_path

SHED = "trees/potting-shed.yaml"
COLD = "trees/cold-pane.yaml"
AIR = "trees/remedies/air-the-shed.yaml"
STEPS = {"potting-shed": "plain-tiles", "cold-pane": "drops-inside"}
CASE = (
    "title: A drip\nfacts: It drips.\ntree: potting-shed\n"
    "answers:\n  - drip-in-rain: no\n  - drops-inside: yes\nends-in: air-the-shed\n"
)
FORM = ("--format", "json")
Output = pytest.CaptureFixture[str]


def run(root: Path, *words: str) -> int:
    return main(["--root", str(root), *words])


def add_case(root: Path) -> None:
    (root / "trees" / "cases").mkdir(exist_ok=True)
    (root / "trees" / "cases" / "shed.yaml").write_text(CASE, encoding="utf-8")


def tools(tree: str) -> list[tuple[str, ...]]:
    """Give every tool of an author, on one tree where it takes one."""
    return [
        ("walk", tree, "--answers", "no"),
        ("still-open", tree, "--answers", "no"),
        ("reach", f"{tree}/{STEPS[tree]}"),
        ("coverage", "--tree", tree),
        ("coverage", *FORM),
        ("take-off", "air-the-shed"),
        ("reading",),
        ("find", "drip"),
    ]


def told(name: str) -> list[str]:
    """Give the headlines of all errors in a broken guide that stop a walk: a chapter or drawing stops none."""
    report = (BROKEN / f"{name}.expected.txt").read_text(encoding="utf-8").splitlines()
    return [line for line in report if ": error: " in line and not line.startswith((" ", "guide/"))]


@pytest.mark.parametrize("name", [name for name in broken_names() if told(name)])
def test_error_leaves_the_tools_to_every_other_tree(
    name: str, tmp_path: Path, capsys: Output, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = broken_guide(name, tmp_path)
    add_case(root)
    monkeypatch.setattr(checks, "check_beside", cache(checks.check_beside))
    faulty = {line.split(".")[0] for line in told(name)}
    shut = checks.check_beside(root).guide is None
    # A misnamed table is told by the name that it has.
    assert shut == any(table.startswith(Path(path).name) for path in faulty for table in WARNING_TABLES)
    whole = next((tree for tree in STEPS if f"trees/{tree}" not in faulty), None)
    for words in tools(whole or "cold-pane"):
        code = run(root, *words)
        said = capsys.readouterr()
        if words[0] in ("reading", "find"):
            assert code == 0 and said.out
        elif shut:
            assert code == 1 and said.err.startswith("The sources have errors") and told(name)[0] in said.err
        elif words[0] not in ("coverage", "take-off") and whole:
            assert said.out and said.err.startswith("Left out") and told(name)[0] in said.err
            assert code == ("Can go no further" in said.out)
    for tree in STEPS.keys() - {whole}:
        first = next((line for line in told(name) if line.startswith(f"trees/{tree}.")), None)
        assert shut or first is None or (run(root, "reach", tree) == 1 and first in capsys.readouterr().err)
    assert run(root, "record") == 1


def lose(root: Path, path: str) -> str:
    """Spoil the first line of a file; gives the headline of what is told."""
    file = root / path
    file.write_text("titel" + file.read_text(encoding="utf-8").removeprefix("title"), encoding="utf-8")
    return f'{path}:1:1: error: the key "titel" is not known here.'


def test_walk_goes_as_far_as_the_hand_over(good: Path, capsys: Output) -> None:
    fault = lose(good, COLD)
    assert run(good, "walk", "potting-shed", "--answers", "no") == 1
    said = capsys.readouterr()
    assert said.out.splitlines()[-4:-1] == [
        f"potting-shed/to-cold-pane: {COLD}, which has errors and is left out",
        "",
        f"Can go no further: {COLD}, which has errors and is left out",
    ]
    assert "Left out" in said.err and COLD in said.err and said.err.count("\n") <= 4, fault
    assert run(good, "walk", "potting-shed", "--answers", "no", *FORM) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["ended"] is False and found["steps"][-1]["kind"] == "go-to"
    assert run(good, "walk", "potting-shed", "--answers", "yes,no") == 0


def test_talk_ends_at_the_hand_over(good: Path, capsys: Output, monkeypatch: pytest.MonkeyPatch) -> None:
    lose(good, COLD)
    typed = iter(["no"])
    monkeypatch.setattr("builtins.input", lambda _: next(typed))
    assert run(good, "walk", "potting-shed") == 1
    assert f"Can go no further: {COLD}" in capsys.readouterr().out


def test_walk_ends_in_a_remedy_that_cannot_be_shown(
    good: Path, capsys: Output, monkeypatch: pytest.MonkeyPatch
) -> None:
    lose(good, AIR)
    typed = iter(["no", "yes"])
    monkeypatch.setattr("builtins.input", lambda _: next(typed))
    assert run(good, "walk", "potting-shed") == 0
    said = capsys.readouterr()
    assert f"{AIR} has errors: mend it, and it is shown here." in said.out and "Who:" not in said.out
    assert run(good, "take-off", "air-the-shed") == 1
    assert (
        f'"air-the-shed" has errors: run `python -m build_tools check` and mend it first.\n  {AIR}:1:1'
        in capsys.readouterr().err
    )


def test_still_open_counts_what_is_left_out_by_its_file(good: Path, capsys: Output) -> None:
    lose(good, COLD)
    assert run(good, "still-open", "potting-shed", *FORM) == 0
    assert json.loads(capsys.readouterr().out)["left"] == ["catch-the-drip", "hang-the-tile-back", COLD]


def test_reach_names_the_files_whose_ways_it_could_not_count(good: Path, capsys: Output) -> None:
    lose(good, SHED)
    assert run(good, "reach", "cold-pane") == 0
    said = capsys.readouterr()
    assert f"Not counted, for errors: ways through {SHED}." in said.out
    assert "From the start of potting-shed" not in said.out
    assert run(good, "reach", "cold-pane", *FORM) == 0
    assert json.loads(capsys.readouterr().out)["leftOut"] == [SHED]


def test_coverage_counts_what_a_case_takes_before_the_tree_that_is_left_out(good: Path, capsys: Output) -> None:
    add_case(good)
    lose(good, COLD)
    assert run(good, "coverage") == 0
    said = capsys.readouterr().out
    assert "cold-pane:" not in said and "drip-in-rain -> no" not in said
    assert "Cases that come to a tree that is left out, and are not walked further: 1." in said
    lose(good, SHED)
    assert run(good, "coverage", *FORM) == 0
    assert json.loads(capsys.readouterr().out) == {"trees": [], "cutShort": 1}


def test_what_an_error_hid_is_found_before_anything_is_walked(good: Path, capsys: Output) -> None:
    """A walk in a circle hides what does not suit; without the tree that goes round, it is seen."""
    edit(good, SHED, "go-to: cold-pane\n", "go-to: potting-shed\n")
    edit(good, COLD, "remedy: air-the-shed", "remedy: hang-the-tile-back")
    assert run(good, "reach", "cold-pane") == 1
    assert '"cold-pane" has errors' in capsys.readouterr().err


@pytest.mark.parametrize("table", WARNING_TABLES)
def test_nothing_is_walked_without_what_warns(good: Path, capsys: Output, table: str) -> None:
    (good / "trees" / "tables" / f"{table}.yaml").write_text("a: b\n", encoding="utf-8")
    assert run(good, "walk", "potting-shed", "--answers", "no") == 1
    said = capsys.readouterr()
    assert said.out == "" and said.err.startswith("The sources have errors") and f"tables/{table}.yaml" in said.err


@pytest.mark.parametrize("table", ["sources", "terms", "settings", "versions"])
def test_table_that_warns_of_nothing_stops_no_walk(good: Path, capsys: Output, table: str) -> None:
    (good / "trees" / "tables" / f"{table}.yaml").write_text("a: b\n", encoding="utf-8")
    for words in tools("potting-shed"):
        assert words[0] == "coverage" or run(good, *words) == 0
        assert words[0] == "coverage" or f"trees/tables/{table}.yaml" in capsys.readouterr().err


@pytest.mark.parametrize("lost", sorted(the_checked().draft.trees)[::8])
def test_real_trees_are_walked_beside_one_that_is_lost(lost: str) -> None:
    draft = with_stand_ins(without(the_checked().draft, [tree_path(lost)]))
    guide = guide_view(checks.CheckedGuide(draft))
    walks = {tree.id: walk_data(guide, tree) for tree in guide.trees}
    assert set(walks) >= {*the_checked().draft.trees} - {lost}
    assert walks[draft.settings.first_tree]["steps"] and all(walk["makeSafe"]["title"] for walk in walks.values())
