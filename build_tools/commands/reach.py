"""`reach`: how a step is reached, and what guards it."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, add_format, look_up


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("step", metavar="TREE/STEP")
    add_format(parser)


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.shell.reach import Spot, entries_of, guards_of, ways_to
    from build_tools.shell.reach_text import Reached, reach_json, reach_text

    whole = walkable(chosen.root)
    walks = whole.walks
    tree, _, step = chosen.step.partition("/")
    walk = whole.known_tree(tree)
    spot = Spot(tree, step or walk["start"])
    look_up(spot.step, walk["steps"], f"step of {tree}", f"steps of {tree}")
    starts = [each for each in dict.fromkeys((tree, whole.guide.first_tree.id)) if each in walks]
    ways = [ways_to(walks, start, [spot])[spot] for start in starts]
    guards = guards_of(walks, entries_of(whole.guide, walks), [spot])[spot]
    found = Reached(spot, ways, guards, tuple(whole.left_out))
    return Said(reach_json(found) if chosen.format == "json" else reach_text(walks, found), aside=whole.aside)


COMMAND = Command("reach", "show how a step is reached and what guards it", _arguments, _run)
