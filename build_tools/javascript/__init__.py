"""The formulas as one JavaScript program, printed from their Python.

In: formulas. Out: the text of one classic script (a module would not run from a file on disk), which
binds one global, `reckoning`:

    reckoning.formulas["sheet-lap"]   inputs, outputs, verdicts; reckon(…) and draw(…) take the inputs in order
    reckoning.check_text(input, text) {number, choice, error}, as validation.check_text
    reckoning.check_count(input, n)   what is wrong with n lines of a list, as validation.check_count
    reckoning.quantity(value, symbol) a number as text with its unit, as numbers.quantity

The subset: functions with annotated plain arguments; `return`, binding one name, `if`, `for` over a range, a
text or a tuple (naming the parts too where the tuple holds fixed ones: `for material, thick_mm in layers`),
`break`, `continue`; numbers, texts, truth values, None, tuples and tuples of tuples, named tuples made by
naming their fields, also in one another, mappings with texts in quotes for keys; + - * /, comparisons one at a
time, `and` `or` `not` of truth values, `a if b else c`, f-strings of texts and whole numbers; `math`, `abs`,
`min`, `max`, `str` of whole numbers, `len` of tuples, `text.find`; other functions of the subset, and
constants, by name. All else is refused with its place and what to write instead. What would be a `while` is a
`for` with a stated number of rounds: sixty halve any range to the last digit. What would be `any` is a loop that
binds `found = found or …`. A number divided by zero, or the logarithm of nought, stops Python and not JavaScript:
the limits of the inputs keep formulas clear of them.

An argument like `metals: tuple[Metal, ...]` is the rows of a data table. It is handed on under its own name, and
printed once, as the constant METALS, which stands for it in every function; no call names it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import partial
from types import FunctionType

from build_tools.formulas.definition import Formula
from build_tools.formulas.docstrings import written
from build_tools.formulas.numbers import quantity
from build_tools.formulas.validation import check_count, check_text
from build_tools.javascript.functions import print_function
from build_tools.javascript.scope import Refused
from build_tools.javascript.values import value_text

__all__ = ["Refused", "program"]


def program(formulas: Mapping[str, Formula]) -> str:
    """Print all formulas with what they need; the same formulas give the same bytes. Refused where one cannot be."""
    printed = (each for formula in formulas.values() for each in formula.printed)
    functions, constants = _collect([check_text, check_count, quantity, *printed], _rows_of(formulas))
    definitions = "".join(f"    {json.dumps(name)}: {_definition(each)},\n" for name, each in formulas.items())
    return "".join(
        (
            'var reckoning = (function () {\n"use strict";\n\n',
            *(f"const {name} = {value_text(value)};\n" for name, value in constants.items()),
            *("\n" + text for text in functions.values()),
            "\nreturn {\n  check_text: check_text,\n  check_count: check_count,\n  quantity: quantity,\n",
            f"  formulas: {{\n{definitions}  }},\n}};\n}})();\n",
        )
    )


def _definition(formula: Formula) -> str:
    """Print what the page's script needs to know of a formula."""
    facts = {
        "inputs": value_text(formula.inputs),
        "outputs": value_text(formula.outputs),
        "verdicts": value_text(formula.verdicts),
        "reckon": formula.printed[0].__name__,
        "draw": formula.printed[1].__name__ if formula.draw else "null",
    }
    return "{" + ", ".join(f"{name}: {text}" for name, text in facts.items()) + "}"


def _rows_of(formulas: Mapping[str, Formula]) -> Mapping[str, object]:
    """Give the rows that formulas were handed, by the name of the argument; Refused where two differ under one name."""
    found: dict[str, object] = {}
    for formula in formulas.values():
        for function in (formula.function, formula.draw):
            if isinstance(function, partial):
                names = written(function).__code__.co_varnames
                for name, rows in zip(names, function.args, strict=False):
                    _is_new(found, name, rows)
    return found


def _collect(roots: list[object], rows: Mapping[str, object]) -> tuple[Mapping[str, str], Mapping[str, object]]:
    """Print functions and all that they use, in the order in which they are met."""
    waiting = list(roots)
    known: dict[str, object] = {}
    functions: dict[str, str] = {}
    while waiting:
        function = waiting.pop(0)
        assert isinstance(function, FunctionType)
        if not _is_new(known, function.__name__, function):
            continue
        printed = print_function(function, rows)
        functions[function.__name__] = printed.text
        for name, value in printed.needed.items():
            if isinstance(value, FunctionType):
                waiting.append(value)
            else:
                _is_new(known, name, value)
    return functions, {name: value for name, value in known.items() if name not in functions}


def _is_new(known: dict[str, object], name: str, value: object) -> bool:
    """Note a name; Refused where two things of different modules bear it, since the program has one room for all."""
    if name not in known:
        known[name] = value
        return True
    if known[name] is not value and (isinstance(value, FunctionType) or known[name] != value):
        raise Refused(
            f"Two different things are called `{name}`. Rename one of them: the program has one room for all."
        )
    return False
