"""`walk`: go through a tree, question by question or along given answers."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk, add_format, split_answers


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
    if chosen.answers is None and chosen.format == "text":
        if whole.aside:
            talk.aside(whole.aside)
        course = walk_along(whole.guide, whole.walks, chosen.tree, talk.ask, talk.say)
        return Said(f"\n{course_text(course)}", int(not can_go_on(course)))
    try:
        course = follow(whole.walks, chosen.tree, split_answers(chosen.answers))
    except WrongAnswer as wrong:
        raise Refused(wrong, aside=whole.aside) from None
    text = course_json(course) if chosen.format == "json" else course_text(course)
    return Said(text, int(not can_go_on(course)), whole.aside)


COMMAND = Command("walk", "walk a tree in the terminal, or one given path", _arguments, _run)
