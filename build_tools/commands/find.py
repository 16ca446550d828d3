"""`find`: trees, steps, remedies and rows of the tables by their words."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk
from build_tools.commands.walkable import aside


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="show every hit, not only the best")
    parser.add_argument("words", nargs="+", metavar="WORD", help="in any order; a word fits those it begins")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.model.problems import first_errors
    from build_tools.shell.find import find, hits_text
    from build_tools.sources.library import read_library

    query = " ".join(chosen.words)
    draft, _, problems = read_library(chosen.root)
    talk.aside(aside(first_errors(problems)))
    hits = find(draft, query)
    if not hits:
        raise Refused(f'Nothing holds "{query}".', 1)
    return Said(hits_text(hits, query, len(hits)) if chosen.all else hits_text(hits, query))


COMMAND = Command("find", "find trees, steps, remedies and rows of the tables by their words", _arguments, _run)
