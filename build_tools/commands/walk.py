"""`walk`: go through a tree, question by question or along given answers."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, add_format, in_format, refusing, split_answers


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE", help="where to begin: the name of a tree's file, without .yaml")
    parser.add_argument("--answers", metavar="A,B,…", help="answers in their order: yes, no, unsure, or a verdict")
    add_format(parser)


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.proof.walk import WrongAnswer, follow
    from build_tools.shell.walk_shell import walk_along
    from build_tools.shell.walk_text import can_go_on, course_json, course_text

    whole = walkable(chosen.root)
    whole.known_tree(chosen.tree)
    talk.aside(whole.aside)
    if chosen.answers is None and chosen.format == "text":
        course = walk_along(whole.guide, whole.walks, chosen.tree, talk.ask, talk.say)
        return Said(f"\n{course_text(course)}", int(not can_go_on(course)))
    with refusing(WrongAnswer):
        course = follow(whole.walks, chosen.tree, split_answers(chosen.answers))
    return Said(in_format(chosen, course_text, course_json)(course), int(not can_go_on(course)))


COMMAND = Command("walk", "walk a tree in the terminal, or one given path", _arguments, _run)
