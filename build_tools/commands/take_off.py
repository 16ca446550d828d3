"""`take-off`: a remedy's materials in words, or as a list to buy from."""

from __future__ import annotations

import argparse

from build_tools.commands.calc import explained_or_run
from build_tools.commands.command import Command, Said, Talk, add_inputs


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("remedy", metavar="REMEDY", help="a remedy; by itself it tells what it asks for")
    add_inputs(parser, "sizes in the unit that the name ends in")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import known, walkable
    from build_tools.proof.take_off import TAKE_OFF
    from build_tools.shell import take_off_text
    from build_tools.sources.library import remedy_path

    whole = walkable(chosen.root)
    remedies = {name: each for name, each in whole.draft.remedies.items() if remedy_path(name) in whole.draft.files}
    known(chosen.remedy, remedies, whole.lost_remedies, "remedy")
    formula = whole.draft.formulas[TAKE_OFF]
    said = explained_or_run(chosen, take_off_text, chosen.remedy, remedies[chosen.remedy], formula)
    return Said(said, aside=whole.aside)


COMMAND = Command("take-off", "a remedy's materials as a list to buy from", _arguments, _run)
