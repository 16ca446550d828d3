"""`take-off`: a remedy's materials in words, or as a list to buy from."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, add_inputs, in_format, refusing


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("remedy", metavar="REMEDY", help="a remedy; by itself it tells what it asks for")
    add_inputs(parser, "sizes in the unit that the name ends in")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.commands.walkable import walkable
    from build_tools.proof.take_off import TAKE_OFF
    from build_tools.shell.calc import CannotReckon
    from build_tools.shell.take_off_text import explain_text, run_json, run_text

    whole = walkable(chosen.root)
    asked = chosen.remedy, whole.known_remedy(chosen.remedy), whole.draft.formulas[TAKE_OFF]
    if not chosen.inputs and chosen.format == "text":
        return Said(explain_text(*asked), aside=whole.aside)
    with refusing(CannotReckon):
        text = in_format(chosen, run_text, run_json)(*asked, chosen.inputs)
    return Said(text, aside=whole.aside)


COMMAND = Command("take-off", "a remedy's materials as a list to buy from", _arguments, _run)
