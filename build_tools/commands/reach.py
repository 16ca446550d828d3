"""`reach`: how a step is reached, and what guards it."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk, add_format


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("step", metavar="TREE/STEP")
    add_format(parser)


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.model.problems import did_you_mean
    from build_tools.shell.reach import Spot, entries_of, guards_of, ways_to
    from build_tools.shell.reach_text import Reached, reach_json, reach_text

    whole = walkable(chosen.root)
    walks = whole.walks
    tree, _, step = chosen.step.partition("/")
    whole.known_tree(tree)
    spot = Spot(tree, step or walks[tree]["start"])
    if spot.step not in walks[tree]["steps"]:
        steps = walks[tree]["steps"]
        advice = did_you_mean(spot.step, steps, f"The steps of {tree} are: {', '.join(steps)}.")
        raise Refused(f'"{spot.step}" is not a step of {tree}. {advice}')
    starts = [each for each in dict.fromkeys((tree, whole.guide.first_tree.id)) if each in walks]
    ways = [ways_to(walks, start, [spot])[spot] for start in starts]
    guards = guards_of(walks, entries_of(whole.guide, walks), [spot])[spot]
    found = Reached(spot, ways, guards, tuple(whole.left_out))
    return Said(reach_json(found) if chosen.format == "json" else reach_text(walks, found), aside=whole.aside)


COMMAND = Command("reach", "show how a step is reached and what guards it", _arguments, _run)
