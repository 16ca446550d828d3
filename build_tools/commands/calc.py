"""`calc`: list the formulas, explain one, or calculate it."""

from __future__ import annotations

import argparse
from types import ModuleType

from build_tools.commands.command import Command, Refused, Said, Talk, add_inputs


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", nargs="?", metavar="NAME", help="a formula; by itself it tells what it needs")
    add_inputs(parser, "numbers in the unit that the name ends in")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.formulas import formulas_of
    from build_tools.model.problems import did_you_mean
    from build_tools.proof.report import as_text
    from build_tools.shell import calc
    from build_tools.sources.data_tables import FaultyTables, read_data

    try:
        formulas = formulas_of(read_data(chosen.root))
    except FaultyTables as faulty:
        raise Refused(as_text(faulty.problems, faulty.sources), 1) from None
    if chosen.name is None:
        return Said(calc.list_text(formulas))
    if chosen.name not in formulas:
        advice = did_you_mean(chosen.name, formulas, f"The formulas are: {', '.join(formulas)}.")
        raise Refused(f'"{chosen.name}" is not a formula. {advice}')
    return Said(explained_or_run(chosen, calc, formulas[chosen.name]))


def explained_or_run(chosen: argparse.Namespace, how: ModuleType, *asked: object) -> str:
    """Explain what is asked for by the module that writes it, or calculate it where there are inputs."""
    from build_tools.shell.calc import CannotReckon

    if not chosen.inputs and chosen.format == "text":
        return str(how.explain_text(*asked))
    try:
        return str((how.run_json if chosen.format == "json" else how.run_text)(*asked, chosen.inputs))
    except CannotReckon as cannot:
        raise Refused(cannot) from None


COMMAND = Command("calc", "reckon a formula; without a name, list them", _arguments, _run)
