"""The command line as a whole: every command in the order in which the help shows them."""

from __future__ import annotations

import argparse
from pathlib import Path

from build_tools.commands import (
    build,
    calc,
    check,
    coverage,
    find,
    migrate,
    new,
    reach,
    reading,
    record,
    review,
    schema,
    serve,
    still_open,
    take_off,
    walk,
)

MODULES = (check, build, serve, walk, calc, take_off, schema, record, review)
AUTHORS = (new, still_open, reach, coverage, reading, find, migrate)
COMMANDS = tuple(each.COMMAND for each in (*MODULES, *AUTHORS))


def parser(root: Path) -> argparse.ArgumentParser:
    """Make the parser of the command line; it gives the chosen `Command` as `command`. root: the project's folder."""
    whole = argparse.ArgumentParser(
        prog="python -m build_tools",
        description="Proves and builds the field guide.",
        epilog="Exit 0: good. 1: findings, or a file that cannot be read or written. 2: wrong use. 130: stopped.",
    )
    whole.add_argument("--root", type=Path, default=root, help="the project folder (default: this one)")
    commands = whole.add_subparsers(required=True, metavar="COMMAND")
    for command in COMMANDS:
        own = commands.add_parser(command.name, help=command.help, description=command.description)
        command.arguments(own)
        own.set_defaults(command=command)
    return whole
