"""`check`: prove the sources, and report every problem in them."""

from __future__ import annotations

import argparse
from pathlib import Path

from build_tools.commands.command import Command, Refused, Said, Talk
from build_tools.proof.report import FORMATS


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("paths", nargs="*", metavar="PATH", help="show only problems in these files or folders")
    parser.add_argument("--format", choices=tuple(FORMATS), default="text")
    parser.add_argument("--strict", action="store_true", help="fail on warnings too")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.model.problems import has_errors
    from build_tools.proof.checks import check

    wanted = [_wanted(chosen.root, path) for path in chosen.paths]
    with talk.progress() as tell:
        tell("Proving the sources")
        checked = check(chosen.root)
    problems = tuple(
        each
        for each in checked.problems
        if not wanted or any(Path(each.place.path).is_relative_to(path) for path in wanted)
    )
    code = int(has_errors(problems) or bool(chosen.strict and problems))
    return Said(FORMATS[chosen.format](problems, checked.sources), code)


def _wanted(root: Path, path: str) -> Path:
    """Give a path relative to the project, whether it was written from there or from here."""
    from build_tools.proof.checks import is_read

    tried = (place.resolve() for place in (root / path, Path(path)))
    found = (place for place in tried if place.exists() and place.is_relative_to(root.resolve()))
    place = next((place.relative_to(root.resolve()) for place in found), None)
    if place is None:
        raise Refused(f'"{path}" is not a file or folder of the project.')
    if not is_read(place):
        raise Refused(f'"{place.as_posix()}" is nothing that `check` reads: the guide stands in trees/ and guide/.')
    return place


COMMAND = Command("check", "prove the sources", _arguments, _run)
