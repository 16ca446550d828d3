"""Formulas from the shell: what was typed goes in, the text or JSON to print comes out."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from build_tools.formulas import Formula, Input, Reckoned, Value, by_subject, reckon, validate
from build_tools.formulas.definition import joined_lines
from build_tools.formulas.numbers import figure, quantity
from build_tools.guide.words import SCOPE


class CannotReckon(Exception):
    """What was typed cannot be used; its text gives one plain sentence a line."""


def list_text(formulas: Mapping[str, Formula]) -> str:
    """List the formulas, subject by subject, each with its purpose."""
    width = max(len(name) for name in formulas)
    lines: list[str] = []
    for title, alike in by_subject(formulas).items():
        lines += [title, *(f"  {each.id:<{width}}  {each.purpose}" for each in alike), ""]
    return "\n".join((*lines, "calc NAME tells what it needs. calc NAME input=value … reckons it."))


def explain_text(formula: Formula) -> str:
    """Say what a formula needs, what it tells, and where it does not hold."""
    lines = [formula.title, formula.purpose, "", "Inputs:"]
    for spec in formula.inputs:
        lines += input_lines(spec)
    lines += ["", "Outputs:"]
    lines += [f"  {entry.name}: {entry.label}, {entry.unit.symbol}" for entry in formula.outputs]
    if formula.verdicts:
        lines += ["", "Verdicts:"]
        lines += [f"  {code}: {sentence}" for code, sentence in formula.verdicts.items()]
    example = " ".join(f"{name}={_as_typed(value)}" for name, value in formula.example.items())
    lines += ["", f"Limits: {formula.limits}", f"Sources: {', '.join(formula.sources)}"]
    return "\n".join((*lines, "", f"For example: calc {formula.id} {example}"))


def input_lines(spec: Input) -> list[str]:
    """Say what an input is, what it may be, and how it is measured."""
    lines = [f"  {spec.name}: {spec.label}, {_range(spec)}", f"      {spec.hint}"]
    for column in spec.columns:
        lines += [f"      {column.name}: {column.label}, {_range(column)}", f"          {column.hint}"]
    return lines


def _range(spec: Input) -> str:
    said = f"{figure(spec.low, 3)} to {quantity(spec.high, spec.unit.symbol)}"
    if spec.choices:
        said = "one of " + ", ".join(f"{option.value} ({option.label})" for option in spec.choices)
    elif spec.columns:
        said += f" lines of {','.join(column.name for column in spec.columns)}, a semicolon between them"
    elif spec.whole:
        said += ", whole"
    if spec.default is not None:
        return f"{said}; {_as_typed(spec.default)} if left out"
    return f"{said}; may be left out" if spec.optional else said


def _as_typed(value: Value) -> str:
    """Write a value as it is typed in a shell; a list is quoted, for its blanks and semicolons."""
    return f'"{joined_lines(value)}"' if isinstance(value, tuple) else Input.typed(value)


def run_text(formula: Formula, assignments: Sequence[str]) -> str:
    """Reckon from `input=value` texts and write the result for reading; CannotReckon where one is wrong."""
    _, result = _run(formula, assignments)
    lines = [formula.title, ""]
    for entry in formula.outputs:
        value = result.outputs[entry.name]
        lines.append(f"{entry.label}: {'none' if value is None else quantity(value, entry.unit.symbol)}")
    if result.verdict is not None:
        lines += ["", f"{result.verdict}: {formula.verdicts[result.verdict]}"]
    lines += ["", "Working:", *(f"  {line}" for line in result.working)]
    return "\n".join((*lines, "", f"Limits: {formula.limits}", f"Sources: {', '.join(formula.sources)}", SCOPE))


def run_json(formula: Formula, assignments: Sequence[str]) -> str:
    """Reckon from `input=value` texts and write the result as JSON, numbers in the units that the names end in."""
    values, result = _run(formula, assignments)
    content = {
        "name": formula.id,
        "inputs": dict(values),
        "outputs": dict(result.outputs),
        "verdict": result.verdict,
        "working": result.working,
        "sources": formula.sources,
    }
    return json.dumps(content, indent=2, ensure_ascii=False)


def assignments_in(text: str) -> list[str]:
    """Part what was typed on one line into `input=value` texts; the lines of a list may have blanks in them."""
    return [each.replace('"', "") for each in re.split(r"\s+(?=\w+\s*=)", text.strip())]


def settle(formula: Formula, given: Mapping[str, float | str], assignments: Sequence[str]) -> Reckoned:
    """Reckon for a step that settles some inputs itself; CannotReckon where one is wrong or no verdict comes out."""
    _, result = _run(formula, assignments, given)
    if result.verdict is None:
        left_out = [spec.name for spec in formula.inputs if spec.optional]
        raise CannotReckon(f"That decides nothing yet. Give {' and '.join(left_out)} too.")
    return result


def _run(
    formula: Formula, assignments: Sequence[str], given: Mapping[str, float | str] | None = None
) -> tuple[Mapping[str, Value], Reckoned]:
    values = taken_in(formula, f"calc {formula.id}", assignments, given)
    return values, reckon(formula, values)


def taken_in(
    formula: Formula, command: str, assignments: Sequence[str], given: Mapping[str, float | str] | None = None
) -> Mapping[str, Value]:
    """Take in `input=value` texts that were typed after a command; CannotReckon where one is wrong."""
    taken = validate(formula, {**(given or {}), **_parse(formula, command, assignments)})
    if taken.errors:
        raise CannotReckon("\n".join(f"{name}: {sentence}" for name, sentence in taken.errors.items()))
    return taken.values


def _parse(formula: Formula, command: str, assignments: Sequence[str]) -> Mapping[str, str]:
    """Split `input=value` texts; each input once."""
    raw: dict[str, str] = {}
    for text in assignments:
        name, sign, value = (part.strip() for part in text.partition("="))
        if not sign:
            inputs = " ".join(f"{spec.name}=…" for spec in formula.inputs)
            raise CannotReckon(f"“{text}” is not input=value. Write {command} {inputs}")
        if name in raw:
            raise CannotReckon(f"{name} is given twice. Give it once.")
        raw[name] = value
    return raw
