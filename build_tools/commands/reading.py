"""`reading`: how hard each tree, remedy and chapter reads."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, add_format, in_format
from build_tools.commands.walkable import aside


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.model.problems import first_errors
    from build_tools.shell.readability import readability, readability_json, readability_text
    from build_tools.sources.guide_files import chapters
    from build_tools.sources.library import read_library

    draft, _, problems = read_library(chosen.root)
    files, unread = chapters(chosen.root)
    read = readability(draft, {each.path: each.text for each in files})
    return Said(
        in_format(chosen, readability_text, readability_json)(read), aside=aside(first_errors((*problems, *unread)))
    )


COMMAND = Command("reading", "measure how hard each tree, remedy and chapter reads", add_format, _run)
