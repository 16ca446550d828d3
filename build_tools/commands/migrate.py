"""`migrate`: write trees of the old form anew, with their answers as blocks."""

from __future__ import annotations

import argparse
from pathlib import Path

from build_tools.commands.command import Command, Refused, Said, Talk


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("paths", nargs="*", type=Path, metavar="FILE", help="only these trees")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.model.problems import Problem
    from build_tools.sources.old_form import in_new_form
    from build_tools.sources.source import read_source

    root = chosen.root.resolve()
    wrote = False
    for file in [(root / path).resolve() for path in chosen.paths] or sorted((root / "trees").glob("*.yaml")):
        if not file.is_relative_to(root):
            raise Refused(f'"{file}" is not a file of the project.')
        read = read_source(root, file)
        if isinstance(read, Problem):
            raise Refused(f"{read.place.path}: {read.what}. {read.mend}", 1)
        text = in_new_form(read)
        if text != read.text:
            file.write_text(text, encoding="utf-8", newline="")
            talk.say(f"wrote {read.path}")
            wrote = True
    return Said(None if wrote else "Nothing to write: no tree that can be read is in the old form.")


COMMAND = Command("migrate", "write trees of the old form anew: answers as blocks", _arguments, _run)
