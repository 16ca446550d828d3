"""A remedy's list to buy from the shell: what was typed goes in, the text or JSON to print comes out."""

from __future__ import annotations

import json
from collections.abc import Sequence

from build_tools.formulas import Formula
from build_tools.guide.words import SCOPE
from build_tools.model import Remedy
from build_tools.proof.take_off import asked, sources_of, taken
from build_tools.shell.calc import CannotReckon, input_lines, taken_in
from build_tools.sources.term_links import plain_words

IN_WORDS = "Nothing of it is reckoned from sizes. Its words say how much: give the remedy alone to read them."


def explain_text(name: str, remedy: Remedy, take_off: Formula) -> str:
    """Say what a remedy takes, in words, and what its list to buy asks for."""
    lines = [remedy.title, ""]
    for each in remedy.materials:
        lines += [f"  {plain_words(each.item)}", f"      {plain_words(each.quantity)}"]
    formula = asked(remedy, take_off)
    if formula is None:
        return "\n".join(lines if remedy.materials else (*lines, "It takes no materials."))
    lines += ["", "Inputs:"]
    for spec in formula.inputs:
        lines += input_lines(spec)
    return "\n".join((*lines, "", _use(name, formula)))


def _asked(remedy: Remedy, take_off: Formula) -> Formula:
    formula = asked(remedy, take_off)
    if formula is None:
        raise CannotReckon(IN_WORDS)
    return formula


def _use(name: str, formula: Formula) -> str:
    return f"take-off {name} {' '.join(f'{spec.name}=…' for spec in formula.inputs)} makes the list."


def run_text(name: str, remedy: Remedy, take_off: Formula, assignments: Sequence[str]) -> str:
    """Make the list for reading; CannotReckon where something typed is wrong."""
    formula = _asked(remedy, take_off)
    lines = [remedy.title, "", "List to buy:"]
    for each in taken(remedy, take_off, taken_in(formula, f"take-off {name}", assignments)):
        lines += [f"  {plain_words(each.material.item)}"]
        lines += [f"      {said}" for said in (each.said, plain_words(each.material.quantity)) if said]
        lines += [f"          {line}" for line in (each.reckoned.working if each.reckoned else ())]
    sources = ", ".join(sources_of(remedy, take_off))
    return "\n".join((*lines, "", f"Limits: {formula.limits}", f"Sources: {sources}", SCOPE))


def run_json(name: str, remedy: Remedy, take_off: Formula, assignments: Sequence[str]) -> str:
    """Make the list as JSON, numbers in the units that the names end in; CannotReckon as above."""
    sizes = taken_in(_asked(remedy, take_off), f"take-off {name}", assignments)
    materials = [
        {
            "item": plain_words(each.material.item),
            "quantity": plain_words(each.material.quantity),
            "outputs": dict(each.reckoned.outputs) if each.reckoned else None,
            "said": each.said,
            "working": each.reckoned.working if each.reckoned else (),
        }
        for each in taken(remedy, take_off, sizes)
    ]
    content = {"remedy": name, "title": remedy.title, "inputs": dict(sizes), "materials": materials}
    return json.dumps(content, indent=2, ensure_ascii=False)
