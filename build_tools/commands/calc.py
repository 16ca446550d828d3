"""`calc`: list the formulas, explain one, or calculate it."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk, add_inputs, in_format, look_up, refusing


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", nargs="?", metavar="NAME", help="a formula; by itself it tells what it needs")
    add_inputs(parser, "numbers in the unit that the name ends in")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.formulas import formulas_of
    from build_tools.proof.report import as_text
    from build_tools.shell.calc import CannotReckon, explain_text, list_text, run_json, run_text
    from build_tools.sources.data_tables import FaultyTables, read_data

    try:
        formulas = formulas_of(read_data(chosen.root))
    except FaultyTables as faulty:
        raise Refused(as_text(faulty.problems, faulty.sources), 1) from None
    if chosen.name is None:
        return Said(list_text(formulas))
    formula = look_up(chosen.name, formulas, "formula", "formulas")
    if not chosen.inputs and chosen.format == "text":
        return Said(explain_text(formula))
    with refusing(CannotReckon):
        return Said(in_format(chosen, run_text, run_json)(formula, chosen.inputs))


COMMAND = Command("calc", "reckon a formula; without a name, list them", _arguments, _run)
