"""`still-open`: which remedies each answer of a walk closes."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, add_format, in_format, refusing, split_answers


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE")
    parser.add_argument("--answers", metavar="A,B,…", default="", help="answers in their order, as for walk")
    add_format(parser)


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.proof.walk import WrongAnswer, follow
    from build_tools.shell.narrowing import narrowing, narrowing_json, narrowing_text

    whole = walkable(chosen.root)
    whole.known_tree(chosen.tree)
    with refusing(WrongAnswer):
        course = follow(whole.walks, chosen.tree, split_answers(chosen.answers))
    steps = tuple(narrowing(whole.walks, course))
    return Said(in_format(chosen, narrowing_text, narrowing_json)(steps), aside=whole.aside)


COMMAND = Command("still-open", "show which remedies each answer of a walk closes", _arguments, _run)
