"""The author's commands beside check and build: what each takes, and what it says; `__main__` speaks it."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from build_tools.commands.walkable import Refused, Said, aside, walkable
from build_tools.review import CASES


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name, what it is for, its arguments, and what it does."""

    name: str
    help: str
    arguments: Callable[[argparse.ArgumentParser], object]
    run: Callable[[argparse.Namespace], Said]


def _new(chosen: argparse.Namespace) -> Said:
    from build_tools.model import ID_PATTERN
    from build_tools.shell.scaffold import scaffold

    if not re.fullmatch(ID_PATTERN, chosen.id):
        raise Refused(f'"{chosen.id}" is not an id: lower-case words joined by hyphens, as in wet-in-cold-weather.')
    path, text = scaffold(chosen.id, "remedy" if chosen.remedy else "tree", date.today())
    file = chosen.root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(text)
    except FileExistsError:
        raise Refused(f"{path} is already there, and stays as it is. Choose another id.") from None
    return Said(f"wrote {path}\nFill each blank (___), then run: python -m build_tools check {path}")


def _new_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("id", metavar="ID", help="lower-case words joined by hyphens")
    parser.add_argument("--remedy", action="store_true", help="a remedy instead of a tree")


def _still_open(chosen: argparse.Namespace) -> Said:
    from build_tools.guide.walk import WrongAnswer, follow
    from build_tools.shell.narrowing import narrowing, narrowing_json, narrowing_text

    whole = walkable(chosen.root)
    whole.known_tree(chosen.tree)
    answers = [each.strip() for each in chosen.answers.split(",") if each.strip()]
    try:
        steps = tuple(narrowing(whole.walks, follow(whole.walks, chosen.tree, answers)))
    except WrongAnswer as wrong:
        raise Refused(str(wrong)) from None
    return Said(narrowing_json(steps) if chosen.format == "json" else narrowing_text(steps), aside=whole.aside)


def _still_open_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE")
    parser.add_argument("--answers", metavar="A,B,…", default="", help="answers in their order, as for walk")
    _format(parser)


def _format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--format", choices=("text", "json"), default="text")


def _reach(chosen: argparse.Namespace) -> Said:
    from build_tools.model.problems import did_you_mean
    from build_tools.shell.reach import Spot, entries_of, guards_of, ways_to
    from build_tools.shell.reach_text import Reached, reach_json, reach_text

    whole = walkable(chosen.root)
    walks = whole.walks
    tree, _, step = chosen.step.partition("/")
    whole.known_tree(tree)
    spot = Spot(tree, step or walks[tree]["start"])
    if spot.step not in walks[tree]["steps"]:
        steps = walks[tree]["steps"]
        advice = did_you_mean(spot.step, steps, f"The steps of {tree} are: {', '.join(steps)}.")
        raise Refused(f'"{spot.step}" is not a step of {tree}. {advice}')
    starts = [each for each in dict.fromkeys((tree, whole.guide.first_tree.id)) if each in walks]
    ways = [ways_to(walks, start, [spot])[spot] for start in starts]
    guards = guards_of(walks, entries_of(whole.guide, walks), [spot])[spot]
    found = Reached(spot, ways, guards, tuple(whole.left_out))
    return Said(reach_json(found) if chosen.format == "json" else reach_text(walks, found), aside=whole.aside)


def _reach_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("step", metavar="TREE/STEP")
    _format(parser)


def _coverage(chosen: argparse.Namespace) -> Said:
    from build_tools.proof.report import as_text
    from build_tools.shell.coverage import WrongCase, coverage, coverage_json, coverage_text
    from build_tools.sources.cases import read_cases

    root = chosen.root.resolve()
    folder = chosen.folder.resolve() if chosen.folder else root / CASES
    if not folder.is_dir():
        raise Refused(f'"{chosen.folder or CASES}" is not a folder.')
    cases, problems = read_cases(root, folder)
    if problems:
        raise Refused(as_text(problems, {}), 1)
    whole = walkable(chosen.root)
    if chosen.tree is not None:
        whole.known_tree(chosen.tree)
    try:
        covered = coverage(whole.walks, cases, whole.lost_trees, chosen.tree)
    except WrongCase as wrong:
        raise Refused(str(wrong), 1) from None
    return Said(coverage_json(covered) if chosen.format == "json" else coverage_text(covered), aside=whole.aside)


def _reading(chosen: argparse.Namespace) -> Said:
    from build_tools.model.problems import first_errors
    from build_tools.shell.readability import readability, readability_json, readability_text
    from build_tools.sources.guide_files import chapters
    from build_tools.sources.library import read_library

    draft, _, problems = read_library(chosen.root)
    files, unread = chapters(chosen.root)
    read = readability(draft, {each.path: each.text for each in files})
    said = readability_json(read) if chosen.format == "json" else readability_text(read)
    return Said(said, aside=aside(first_errors((*problems, *unread))))


def _coverage_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR", help=f"the stated cases (default: {CASES})")
    parser.add_argument("--tree", metavar="TREE", help="show only this tree")
    _format(parser)


def _find(chosen: argparse.Namespace) -> Said:
    from build_tools.model.problems import first_errors
    from build_tools.shell.find import find, hits_text
    from build_tools.sources.library import read_library

    query = " ".join(chosen.words)
    draft, _, problems = read_library(chosen.root)
    unread = aside(first_errors(problems))
    hits = find(draft, query)
    if not hits:
        return Said(f'Nothing holds "{query}".', 1, unread)
    return Said(hits_text(hits, query, len(hits)) if chosen.all else hits_text(hits, query), aside=unread)


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
