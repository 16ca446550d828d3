"""The author's commands beside check and build: what each takes, and what it says; `__main__` speaks it."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from build_tools.review import CASES

if TYPE_CHECKING:
    from build_tools.checks import CheckedGuide
    from build_tools.views import GuideView
    from build_tools.walk import WalkData


@dataclass(frozen=True, slots=True)
class Said:
    """What a command says and how it ends: 0 good, 1 findings, 2 wrong use."""

    text: str
    code: int = 0


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name, what it is for, its arguments, and what it does."""

    name: str
    help: str
    arguments: Callable[[argparse.ArgumentParser], object]
    run: Callable[[argparse.Namespace], Said]


class _Refused(Exception):
    """A command that cannot go on; it ends with what it said."""

    def __init__(self, text: str, code: int = 2) -> None:
        super().__init__(text)
        self.said = Said(text, code)


def run(command: Command, chosen: argparse.Namespace) -> Said:
    """Run a command; a refusal is said like anything else."""
    try:
        return command.run(chosen)
    except _Refused as refused:
        return refused.said


def _proved(root: Path) -> CheckedGuide:
    from build_tools.checks import check

    checked = check(root)
    if checked.guide is None:
        raise _Refused("The sources have errors: run `python -m build_tools check` and mend them first.", 1)
    return checked.guide


def _walks(root: Path) -> tuple[GuideView, Mapping[str, WalkData]]:
    from build_tools.pages import guide_view
    from build_tools.walk import walk_data

    guide = guide_view(_proved(root))
    return guide, {tree.id: walk_data(guide, tree) for tree in guide.trees}


def _new(chosen: argparse.Namespace) -> Said:
    from build_tools.model import ID_PATTERN
    from build_tools.scaffold import scaffold

    if not re.fullmatch(ID_PATTERN, chosen.id):
        raise _Refused(f'"{chosen.id}" is not an id: lower-case words joined by hyphens, as in wet-in-cold-weather.')
    path, text = scaffold(chosen.id, "remedy" if chosen.remedy else "tree", date.today())
    file = chosen.root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(text)
    except FileExistsError:
        raise _Refused(f"{path} is already there, and stays as it is. Choose another id.") from None
    return Said(f"wrote {path}\nFill each blank (___), then run: python -m build_tools check {path}")


def _new_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("id", metavar="ID", help="lower-case words joined by hyphens")
    parser.add_argument("--remedy", action="store_true", help="a remedy instead of a tree")


def _still_open(chosen: argparse.Namespace) -> Said:
    from build_tools.narrowing import narrowing, narrowing_json, narrowing_text
    from build_tools.walk import WrongAnswer, follow

    _, walks = _walks(chosen.root)
    _known_tree(chosen.tree, walks)
    answers = [each.strip() for each in chosen.answers.split(",") if each.strip()]
    try:
        steps = tuple(narrowing(walks, follow(walks, chosen.tree, answers)))
    except WrongAnswer as wrong:
        raise _Refused(str(wrong)) from None
    return Said(narrowing_json(steps) if chosen.format == "json" else narrowing_text(steps))


def _known_tree(name: str, walks: Mapping[str, WalkData]) -> None:
    from build_tools.problems import did_you_mean

    if name not in walks:
        advice = did_you_mean(name, walks, f"The trees are: {', '.join(walks)}.")
        raise _Refused(f'"{name}" is not a tree. {advice}')


def _still_open_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE")
    parser.add_argument("--answers", metavar="A,B,…", default="", help="answers in their order, as for walk")
    _format(parser)


def _format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--format", choices=("text", "json"), default="text")


def _reach(chosen: argparse.Namespace) -> Said:
    from build_tools.problems import did_you_mean
    from build_tools.reach import Spot, entries_of, guards_of, ways_to
    from build_tools.reach_text import reach_json, reach_text

    guide, walks = _walks(chosen.root)
    tree, _, step = chosen.step.partition("/")
    _known_tree(tree, walks)
    spot = Spot(tree, step or walks[tree]["start"])
    if spot.step not in walks[tree]["steps"]:
        steps = walks[tree]["steps"]
        advice = did_you_mean(spot.step, steps, f"The steps of {tree} are: {', '.join(steps)}.")
        raise _Refused(f'"{spot.step}" is not a step of {tree}. {advice}')
    ways = [ways_to(walks, start, [spot])[spot] for start in dict.fromkeys((tree, guide.first_tree.id))]
    guards = guards_of(walks, entries_of(guide, walks), [spot])[spot]
    return Said(reach_json(spot, ways, guards) if chosen.format == "json" else reach_text(walks, spot, ways, guards))


def _reach_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("step", metavar="TREE/STEP")
    _format(parser)


def _coverage(chosen: argparse.Namespace) -> Said:
    from build_tools.cases import read_cases
    from build_tools.coverage import WrongCase, coverage, coverage_json, coverage_text
    from build_tools.report import as_text

    root = chosen.root.resolve()
    folder = chosen.folder.resolve() if chosen.folder else root / CASES
    if not folder.is_dir():
        raise _Refused(f'"{chosen.folder or CASES}" is not a folder.')
    cases, problems = read_cases(root, folder)
    if problems:
        raise _Refused(as_text(problems, {}), 1)
    _, walks = _walks(chosen.root)
    if chosen.tree is not None:
        _known_tree(chosen.tree, walks)
    try:
        trees = [each for each in coverage(walks, cases) if chosen.tree in (None, each.tree)]
    except WrongCase as wrong:
        raise _Refused(str(wrong), 1) from None
    return Said(coverage_json(trees) if chosen.format == "json" else coverage_text(trees))


def _reading(chosen: argparse.Namespace) -> Said:
    from build_tools.readability import readability, readability_json, readability_text

    guide = _proved(chosen.root)
    files = sorted((chosen.root / "guide").glob("*.md"))
    chapters = {each.relative_to(chosen.root).as_posix(): each.read_text(encoding="utf-8") for each in files}
    read = readability(guide.draft, chapters)
    return Said(readability_json(read) if chosen.format == "json" else readability_text(read))


def _coverage_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR", help=f"the stated cases (default: {CASES})")
    parser.add_argument("--tree", metavar="TREE", help="show only this tree")
    _format(parser)


def _find(chosen: argparse.Namespace) -> Said:
    from build_tools.find import find, hits_text
    from build_tools.library import read_library

    query = " ".join(chosen.words)
    hits = find(read_library(chosen.root)[0], query)
    if not hits:
        raise _Refused(f'Nothing holds "{query}".', 1)
    return Said(hits_text(hits, query, len(hits)) if chosen.all else hits_text(hits, query))


def _find_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="show every hit, not only the best")
    parser.add_argument("words", nargs="+", metavar="WORD", help="in any order; a word fits those it begins")


COMMANDS = (
    Command("new", "write a new tree or remedy with blanks to fill", _new_arguments, _new),
    Command("still-open", "show which remedies each answer of a walk closes", _still_open_arguments, _still_open),
    Command("reach", "show how a step is reached and what guards it", _reach_arguments, _reach),
    Command("coverage", "show which exits the stated cases never take", _coverage_arguments, _coverage),
    Command("reading", "measure how hard each tree, remedy and chapter reads", _format, _reading),
    Command("find", "find trees, steps, remedies and rows of the tables by their words", _find_arguments, _find),
)
