"""`review`: what changed for a reader between two versions."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk
from build_tools.review import FORMATS, PATTERN


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("base", nargs="?", metavar="BASE", help="a git revision or a folder (default: the main branch)")
    parser.add_argument("head", nargs="?", metavar="HEAD", help="the same (default: the working tree)")
    parser.add_argument("--format", choices=FORMATS, default="text")
    parser.add_argument(
        "--link-to",
        metavar="ADDRESS",
        default="",
        help="make each place a link (Markdown and HTML): {revision}, {path} and {line} are filled in, as in "
        f"{PATTERN}; places of files that are in no commit stay text "
        "(default: paths from the project folder, for places in the working tree)",
    )
    parser.add_argument(
        "--without-running",
        action="store_true",
        help="run no code of either version; which results of formulas move is then not told, and the review says so",
    )


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.review.command import review_text

    asked = chosen.base, chosen.head, chosen.format, chosen.link_to
    with talk.progress() as tell:
        text, code = review_text(chosen.root, *asked, tell, not chosen.without_running)
    if code == 2:
        raise Refused(text)
    return Said(text, code)


COMMAND = Command(
    "review",
    "what changed for a reader; ends with 1 where somebody has to look, or agree",
    _arguments,
    _run,
    "Tells what changed for a reader between two versions, which must be readable; `check` proves them. Where the "
    "program or the tables of formulas differ, it runs the formulas of both versions, with all that their code does "
    "besides. A stranger's change is reviewed with --without-running, by a program that you trust: start that one, "
    "and name the project of the change with --root, before `review`.",
)
