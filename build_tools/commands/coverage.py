"""`coverage`: which exits the stated cases never take."""

from __future__ import annotations

import argparse
from pathlib import Path

from build_tools.commands.command import Command, Refused, Said, Talk, add_format, in_format, refusing
from build_tools.sources import CASES


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR", help=f"the stated cases (default: {CASES})")
    parser.add_argument("--tree", metavar="TREE", help="show only this tree")
    add_format(parser)


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.proof.report import as_text
    from build_tools.shell.coverage import WrongCase, coverage, coverage_json, coverage_text
    from build_tools.sources.library import read_cases

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
    with refusing(WrongCase, code=1):
        covered = coverage(whole.walks, cases.values(), whole.lost_trees, chosen.tree)
    return Said(in_format(chosen, coverage_text, coverage_json)(covered), aside=whole.aside)


COMMAND = Command("coverage", "show which exits the stated cases never take", _arguments, _run)
