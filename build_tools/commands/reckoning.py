"""The commands that reckon: a formula, and a remedy's list to buy; `__main__` speaks what they say."""

from __future__ import annotations

import argparse
from types import ModuleType

from build_tools.commands.walkable import Refused, Said


def calc(chosen: argparse.Namespace) -> Said:
    """List the formulas, explain one, or reckon it."""
    from build_tools.formulas import FORMULAS
    from build_tools.model.problems import did_you_mean
    from build_tools.shell import calc

    if chosen.name is None:
        return Said(calc.list_text())
    if chosen.name not in FORMULAS:
        advice = did_you_mean(chosen.name, FORMULAS, f"The formulas are: {', '.join(FORMULAS)}.")
        raise Refused(f'"{chosen.name}" is not a formula. {advice}')
    return Said(_reckoned(chosen, calc, FORMULAS[chosen.name]))


def take_off(chosen: argparse.Namespace) -> Said:
    """Say what a remedy takes, or make its list to buy."""
    from build_tools.commands.walkable import known, walkable
    from build_tools.shell import take_off_text
    from build_tools.sources.library import remedy_path

    whole = walkable(chosen.root)
    remedies = {name: each for name, each in whole.draft.remedies.items() if remedy_path(name) in whole.draft.files}
    known(chosen.remedy, remedies, whole.lost_remedies, "remedy")
    said = _reckoned(chosen, take_off_text, chosen.remedy, remedies[chosen.remedy])
    return Said(said, aside=whole.aside)


def _reckoned(chosen: argparse.Namespace, how: ModuleType, *asked: object) -> str:
    """Explain what is asked for by one of the modules that write it, or reckon it where there are inputs."""
    from build_tools.shell.calc import CannotReckon

    if not chosen.inputs and chosen.format == "text":
        return str(how.explain_text(*asked))
    try:
        return str((how.run_json if chosen.format == "json" else how.run_text)(*asked, chosen.inputs))
    except CannotReckon as cannot:
        raise Refused(str(cannot)) from None
