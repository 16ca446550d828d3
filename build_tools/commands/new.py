"""`new`: write a new tree or remedy with blanks to fill."""

from __future__ import annotations

import argparse
import re
from datetime import date

from build_tools.commands.command import Command, Refused, Said, Talk


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("id", metavar="ID", help="lower-case words joined by hyphens")
    parser.add_argument("--remedy", action="store_true", help="a remedy instead of a tree")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
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


COMMAND = Command("new", "write a new tree or remedy with blanks to fill", _arguments, _run)
