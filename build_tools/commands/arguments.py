"""What can be typed on the command line: every command with its arguments, and the help."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeAlias

from build_tools.proof.report import FORMATS
from build_tools.review import FORMATS as REVIEW_FORMATS
from build_tools.review import PATTERN

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"
Run = Callable[[argparse.Namespace], int]
"""Runs a command with its arguments and gives the exit code."""


def parser(root: Path, runs: Mapping[str, Run]) -> argparse.ArgumentParser:
    """Make the parser of the command line; `runs` holds what runs each command, `author` the author's ones."""
    whole = argparse.ArgumentParser(
        prog="python -m build_tools",
        description="Proves and builds the field guide.",
        epilog="Exit 0: good. 1: findings, or a file that cannot be read or written. 2: wrong use. 130: stopped.",
    )
    whole.add_argument("--root", type=Path, default=root, help="the project folder (default: this one)")
    commands = whole.add_subparsers(required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="prove the sources")
    check.add_argument("paths", nargs="*", metavar="PATH", help="show only problems in these files or folders")
    check.add_argument("--format", choices=tuple(FORMATS), default="text")
    check.add_argument("--strict", action="store_true", help="fail on warnings too")
    check.set_defaults(run=runs["check"])

    build = commands.add_parser("build", help="check, then write the site; a failed check leaves the old one whole")
    build.add_argument("--out", type=Path, metavar="DIR", help="where to write it (default: site)")
    build.set_defaults(run=runs["build"])

    _add_serve(commands, runs)
    _add_walk_and_calc(commands, runs)

    schema = commands.add_parser("schema", help="write the JSON Schema that editors use")
    schema.set_defaults(run=runs["schema"])

    record = commands.add_parser("record", help="record each tree's content under its version")
    record.set_defaults(run=runs["record"])

    _add_review(commands, runs)
    _add_authors(commands, runs)
    return whole


def _add_serve(commands: Commands, runs: Mapping[str, Run]) -> None:
    serve = commands.add_parser("serve", help="show the guide in a browser, anew after each edit, mistakes in the page")
    serve.add_argument("--port", type=int, default=8000, help="a free port of this machine (default: 8000)")
    serve.add_argument(
        "--host",
        default="127.0.0.1",
        help="this machine's address in your network, to look with a phone: everybody there can then read the preview",
    )
    serve.set_defaults(run=runs["serve"])


def _add_walk_and_calc(commands: Commands, runs: Mapping[str, Run]) -> None:
    walk = commands.add_parser("walk", help="walk a tree in the terminal, or one given path")
    walk.add_argument("tree", metavar="TREE", help="where to begin: the name of a tree's file, without .yaml")
    walk.add_argument("--answers", metavar="A,B,…", help="answers in their order: yes, no, unsure, or a verdict")
    walk.add_argument("--format", choices=("text", "json"), default="text")
    walk.set_defaults(run=runs["walk"])

    calc = commands.add_parser("calc", help="reckon a formula; without a name, list them")
    calc.add_argument("name", nargs="?", metavar="NAME", help="a formula; by itself it tells what it needs")
    calc.add_argument("inputs", nargs="*", metavar="input=value", help="numbers in the unit that the name ends in")
    calc.add_argument("--format", choices=("text", "json"), default="text")
    calc.set_defaults(run=runs["calc"])

    take_off = commands.add_parser("take-off", help="a remedy's materials as a list to buy from")
    take_off.add_argument("remedy", metavar="REMEDY", help="a remedy; by itself it tells what it asks for")
    take_off.add_argument("inputs", nargs="*", metavar="input=value", help="sizes in the unit that the name ends in")
    take_off.add_argument("--format", choices=("text", "json"), default="text")
    take_off.set_defaults(run=runs["take-off"])


def _add_review(commands: Commands, runs: Mapping[str, Run]) -> None:
    review = commands.add_parser(
        "review",
        help="what changed for a reader; ends with 1 where somebody has to look, or agree",
        description="Tells what changed for a reader between two versions, which must be readable; `check` proves "
        "them. Where the program or the tables of formulas differ, it runs the formulas of both versions, with all "
        "that their code does besides. A stranger's change is reviewed with --without-running, by a program that you "
        "trust: start that one, and name the project of the change with --root, before `review`.",
    )
    review.add_argument("base", nargs="?", metavar="BASE", help="a git revision or a folder (default: the main branch)")
    review.add_argument("head", nargs="?", metavar="HEAD", help="the same (default: the working tree)")
    review.add_argument("--format", choices=REVIEW_FORMATS, default="text")
    review.add_argument(
        "--link-to",
        metavar="ADDRESS",
        default="",
        help="make each place a link (Markdown and HTML): {revision}, {path} and {line} are filled in, as in "
        f"{PATTERN}; places of files that are in no commit stay text "
        "(default: paths from the project folder, for places in the working tree)",
    )
    review.add_argument(
        "--without-running",
        action="store_true",
        help="run no code of either version; which results of formulas move is then not told, and the review says so",
    )
    review.set_defaults(run=runs["review"])


def _add_authors(commands: Commands, runs: Mapping[str, Run]) -> None:
    from build_tools.commands.authoring import COMMANDS

    for command in COMMANDS:
        author = commands.add_parser(command.name, help=command.help)
        command.arguments(author)
        author.set_defaults(run=runs["author"], command=command)
