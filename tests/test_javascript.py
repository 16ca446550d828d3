"""The printer from Python to JavaScript: what it prints, and all that it refuses.

That what it prints means the same is proved in a browser, by tests/browser/test_printed.py.
"""

from __future__ import annotations

import importlib.util
import linecache
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from types import ModuleType

import pytest
from own_tables import FORMULAS, METALS

from build_tools.formulas.sheet.thermal import thermal_movement
from build_tools.javascript import Refused, program
from build_tools.javascript.functions import print_function

Load = Callable[[str], ModuleType]

HEAD = """\
import math
from typing import NamedTuple
class Point(NamedTuple):
    x: float
    y: float
TABLE = [1, 2]
def half(x: float) -> float: return x / 2
other = half
def f(a: float, n: int, word: str, many: tuple[float, ...], point: Point) -> object:
"""


@pytest.fixture
def load(tmp_path: Path) -> Load:
    """Import a module from its text."""

    def load_text(text: str) -> ModuleType:
        path = tmp_path / "snippet.py"
        path.write_text(text, encoding="utf-8")
        linecache.clearcache()
        spec = importlib.util.spec_from_file_location("snippet", path)
        assert spec and spec.loader
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        return module

    return load_text


def body(*lines: str) -> str:
    return "".join(f"    {line}\n" for line in lines)


def test_function_is_printed_statement_by_statement(load: Load) -> None:
    text = HEAD + body(
        '"""Docstrings are left out."""',
        "found: float | None = None",
        "for each in many:",
        "    if each > a and found is None:",
        "        found = half(each)",
        "    elif each < 0:",
        "        break",
        "    else:",
        "        continue",
        'return (*many, 1) if found is None else {"found": found, "pi": math.pi}["found"]',
    )
    with pytest.raises(Refused, match="One branch gives a tuple, the other a number"):
        print_function(load(text).f)
    printed = print_function(load(text.replace("(*many, 1)", "-many[0]")).f)
    assert printed.text == (
        "function f(a, n, word, many, point) {\n"
        "  let found;\n"
        "  found = null;\n"
        "  for (const each of many) {\n"
        "    if (((each > a) && (found === null))) {\n"
        "      found = half(each);\n"
        "    } else if ((each < 0)) {\n"
        "      break;\n"
        "    } else {\n"
        "      continue;\n"
        "    }\n"
        "  }\n"
        '  return ((found === null) ? (-many[0]) : {"found": found, "pi": Math.PI}["found"]);\n'
        "}\n"
    )
    assert list(printed.needed) == ["half"]


NOT_KNOWN = "is no value known here. Use an argument, a name bound above, or a constant: number, text, tuple or record."
NOT_PLAIN = "Count from the start with a whole number; take from a mapping by a text in quotes."
NOT_TRUE = "is neither true nor false. Write a comparison, as `x > 0` or `x is not None`."
NOT_JOINED = "Use it on two numbers, `+` on two texts; write `(*a, b)` for tuples."
NOT_CUT = "Only what follows a fixed place can be cut off. Write `text[1:]`."
NOT_ALIKE = "Compare two numbers; texts only for being equal."
NOT_FIELDS = "Point is not made by naming its fields. Name x, y."
COMPREHENSION = "A comprehension is not in the subset. Build a tuple in a `for` loop."

REFUSED_EXPRESSIONS = {
    "a // 2": "12: `//` rounds otherwise in JavaScript. Write `math.floor(a / b)`.",
    "a % 2": "12: `%` has another sign in JavaScript. Write `a - b * math.floor(a / b)`.",
    "a ** 2": "12: `**` is not in the subset. Write `math.pow(a, b)`, or `a * a`.",
    "n & 1": "12: This operator is not in the subset. Use + - * or /.",
    "+a": "12: Only `-` of a number and `not` are in the subset. Write it otherwise.",
    "[a]": "12: A list can change. Write a tuple.",
    "{1, 2}": "12: A set has no order. Write a tuple.",
    "lambda: a": "12: A lambda has no kinds. Write a function.",
    "tuple(x for x in many)": f"17: {COMPREHENSION}",
    "[x for x in many]": f"12: {COMPREHENSION}",
    "(b := a)": "13: `:=` is not in the subset. Give the value its name on a line before.",
    "(yield a)": "13: Yield is not in the subset. See build_tools/javascript.",
    "round(a)": "12: `round` cannot be called like this. "
    "Write `round_up(x, step)`, `round_down(x, step)`, or `figure(x, 1)` for text.",
    "int(a)": "12: `int` cannot be called like this. Write `math.floor(x)`.",
    "float(word)": "12: `float` cannot be called like this. Leave it out: every number is a float in JavaScript.",
    "str(a)": "12: `str` cannot be called like this. Write `figure(x, 1)`; `str` is for whole numbers only.",
    "len(word)": "12: `len` cannot be called like this. Count a tuple; a text has another length in JavaScript.",
    "max(many)": "12: `max` cannot be called like this. Give two or more numbers.",
    "sum(many)": "12: `sum` cannot be called like this. Add up in a `for` loop.",
    "sorted(many)": "12: `sorted` cannot be called like this. State it in order.",
    "range(n)": "12: `range` cannot be called like this. Use it in `for i in range(n)` only.",
    "print(word)": "12: `print` cannot be called like this. Return what is to be shown.",
    "open(word)": "12: `open` cannot be called like this. Call a function of the subset.",
    "1 < a < 3": "12: A chain of comparisons is not in the subset. Join two with `and`.",
    "a == word": f"12: It compares a number with text. {NOT_ALIKE}",
    'word < "b"': f"12: It compares text with text. {NOT_ALIKE}",
    "many == many": f"12: It compares a tuple with a tuple. {NOT_ALIKE}",
    "a == None": f"12: It compares a number with None. {NOT_ALIKE}",
    "a is n": "12: `is` compares places in memory. Write `==`, or `is None`.",
    "a in word": "12: It looks for a number in text. "
    "Look for a text in a text, or for a number or text in a tuple of them.",
    "word in many": "12: It looks for text in a tuple. "
    "Look for a text in a text, or for a number or text in a tuple of them.",
    "a if word else n": f"17: Text {NOT_TRUE}",
    "not many": f"16: A tuple {NOT_TRUE}",
    "a and a > 1": f"12: A number {NOT_TRUE}",
    "a if a > 1 else word": "12: One branch gives a number, the other text. Give one kind in both.",
    'f"{a}"': "15: A number is written otherwise in JavaScript. Write `{figure(x, 1)}`.",
    'f"{word:>9}"': "15: A field with a format is not in the subset. Write `{figure(x, 1)}`.",
    'f"{word!r}"': "15: A field with a format is not in the subset. Write `{figure(x, 1)}`.",
    '"°°" + 5 // 2': "19: `//` rounds otherwise in JavaScript. Write `math.floor(a / b)`.",
    "word + a": f"12: `+` stands between text and a number. {NOT_JOINED}",
    "word * 2": f"12: `*` stands between text and a number. {NOT_JOINED}",
    "many + many": f"12: `+` stands between a tuple and a tuple. {NOT_JOINED}",
    "True + 1": f"12: `+` stands between a truth value and a number. {NOT_JOINED}",
    "(*many, word)": "12: The tuple mixes kinds. Give it one kind.",
    '(*word, "a")': "13: The star stands before text. Put it before a tuple.",
    "word.upper()": "12: The method `upper` is not in the subset. Call a function by its name.",
    "word.find(a)": "12: The method `find` is not in the subset. Call a function by its name.",
    "(half)(a)(a)": "12: It calls what is not a name. Call a function by its name.",
    "point.z": "12: `z` is no field: this is a record. Take a field of a named tuple.",
    "point._fields": "12: `_fields` is no field: this is a record. Take a field of a named tuple.",
    "a.real": "12: `real` is no field: this is a number. Take a field of a named tuple.",
    "math.e": "12: `math.e` is no constant of the subset. Write `math.pi`.",
    "math.hypot(a, a)": "12: `math.hypot` is not in the subset. Use one of sin, cos, tan, asin, acos, atan, atan2, "
    "exp, log, log10, sqrt, floor, ceil, pow, radians, degrees.",
    "math.sin(word)": "12: `math.sin` is given something else than one number. Give it one number.",
    "math.pow(a)": "12: `math.pow` is given something else than two numbers. Give it two numbers.",
    "half(a, a)": "12: `half` is given 2 arguments. Give every one.",
    "half(x=a)": "12: It names or stars its arguments. Give each argument in its place.",
    "half(*many)": "12: It names or stars its arguments. Give each argument in its place.",
    "other(a)": "12: `other` is another name of `half`. Use its own name.",
    "Point(a, a)": f"12: {NOT_FIELDS}",
    "Point(x=a)": f"12: {NOT_FIELDS}",
    "TABLE": f"12: `TABLE` {NOT_KNOWN}",
    "half": f"12: `half` {NOT_KNOWN}",
    "unknown": f"12: `unknown` {NOT_KNOWN}",
    "many[-1]": f"12: This is no plain part of a tuple. {NOT_PLAIN}",
    "many[a]": f"12: This is no plain part of a tuple. {NOT_PLAIN}",
    "point[0]": f"12: This is no plain part of a record. {NOT_PLAIN}",
    "(a, word)[n]": f"12: This is no plain part of a tuple. {NOT_PLAIN}",
    "many[:1]": f"12: {NOT_CUT}",
    "word[1:2]": f"12: {NOT_CUT}",
    "word[n:]": f"12: {NOT_CUT}",
    "{word: a}": '13: This key is not a text in quotes. Write keys as "lap_mm".',
    'b"a"': "12: b'a' is not in the subset. Write a number, a text, True, False or None.",
    "99999999999999999999": "12: JavaScript cannot hold this number exactly. Write it as a float, as 1e16.",
}


@pytest.mark.parametrize(("expression", "message"), REFUSED_EXPRESSIONS.items())
def test_expression_outside_the_subset_is_refused(load: Load, expression: str, message: str) -> None:
    with pytest.raises(Refused) as refused:
        print_function(load(HEAD + body(f"return {expression}")).f)
    assert str(refused.value) == f"snippet.py:10:{message}"


REFUSED_STATEMENTS = {
    "a += 1": "10:5: `+=` and its like are not in the subset. Write `x = x + y`.",
    "while a > 1:\n    a = 1": "10:5: `while` may never end. "
    "Write `for i in range(n)`, with a stated number of rounds.",
    "b, c = a, n": "10:5: It binds more than one name. Bind one name on a line.",
    "b = c = a": "10:5: It binds more than one name. Bind one name on a line.",
    "many[0] = a": "10:5: It binds more than one name. Bind one name on a line.",
    "b: float": "10:5: It states a kind and binds no name. Write `name: kind = value`.",
    "b = a\nb = word": "11:5: `b` was a number and becomes text. Take another name.",
    "new = a": "10:5: `new` is a word of JavaScript. Take another name.",
    "for x in a:\n    n = 1": "10:14: It runs over a number. Run over a range, a text, or a tuple of one kind.",
    "for x, y in many:\n    n = 1": "10:17: It counts 2 names over a number. "
    "Run over tuples with as many parts, each of a stated kind.",
    "for x, y in ((a, 1, 2), (a, 3, 4)):\n    n = 1": "10:17: It counts 2 names over a tuple. "
    "Run over tuples with as many parts, each of a stated kind.",
    "for x, y in range(n):\n    n = 1": "10:17: `range` cannot be called like this. "
    "Use it in `for i in range(n)` only.",
    "for x, x in ((a, 1), (a, 3)):\n    n = 1": "10:5: `x` is known already. Take another name for the loop.",
    "for x, (y, z) in ((a, 1), (a, 3)):\n    n = 1": "10:5: It counts no plain names, or has an `else`. "
    "Count names, without `else`.",
    "for x, y in ((a, 1), (a, 3)):\n    y = a": "11:9: `y` is counted by a loop. Take another name.",
    "for x in many:\n    n = 1\nelse:\n    n = 2": "10:5: It counts no plain names, or has an `else`. "
    "Count names, without `else`.",
    "for a in many:\n    n = 1": "10:5: `a` is known already. Take another name for the loop.",
    "for x in many:\n    x = a": "11:9: `x` is counted by a loop. Take another name.",
    "for x in many:\n    n = 1\nreturn x": f"12:12: `x` {NOT_KNOWN}",
    "for x in many:\n    b = x\nreturn b": f"12:12: `b` {NOT_KNOWN}",
    "if a > 1:\n    b = a\nreturn b": f"12:12: `b` {NOT_KNOWN}",
    "if a > 1:\n    b = a\nelse:\n    b = word\nreturn b": "10:5: `b` has two kinds after this. "
    "Give it one kind in both branches.",
    "for i in range(a):\n    n = i": "10:14: The range is not plain. Write `range(n)` or `range(a, b)`, whole numbers.",
    "for i in range(0, 9, 2):\n    n = i": "10:14: The range is not plain. "
    "Write `range(n)` or `range(a, b)`, whole numbers.",
    "raise ValueError(word)": "10:5: `raise` is not in the subset. "
    "Return a verdict, or let the limits of the inputs keep it away.",
    "assert a > 1": "10:5: `assert` is not in the subset. Let the limits of the inputs keep it away.",
    "try:\n    n = 1\nfinally:\n    n = 2": "10:5: `try` is not in the subset. "
    "Let the limits of the inputs keep the error away.",
    "with open(word):\n    n = 1": "10:5: `with` is not in the subset. Keep files out of formulas.",
    "import os": "10:5: An import is not in the subset. Import at the top of the module.",
    "def g() -> int: return 1": "10:5: A function inside a function is not in the subset. "
    "Write it at the top of the module.",
    "half(a)": "10:5: This line does nothing with its result. Bind it to a name, or leave the line out.",
    "return": "10:5: It returns nothing. Return a value.",
    "pass": "10:5: Pass is not in the subset. See build_tools/javascript.",
    "del a": "10:5: Delete is not in the subset. See build_tools/javascript.",
}


@pytest.mark.parametrize(("statement", "message"), REFUSED_STATEMENTS.items())
def test_statement_outside_the_subset_is_refused(load: Load, statement: str, message: str) -> None:
    with pytest.raises(Refused) as refused:
        print_function(load(HEAD + body(*statement.split("\n"), "return a")).f)
    assert str(refused.value) == f"snippet.py:{message}"


NOT_PLAIN_ARGUMENTS = (
    "It has decorators, defaults, or arguments that are starred or by name only. Take plain arguments."
)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("def f(a: float = 1) -> float: return a", f"1:1: {NOT_PLAIN_ARGUMENTS}"),
        ("def f(*a: float) -> float: return 1", f"1:1: {NOT_PLAIN_ARGUMENTS}"),
        ("def f(*, a: float) -> float: return a", f"1:1: {NOT_PLAIN_ARGUMENTS}"),
        ("import functools\n@functools.cache\ndef f(a: float) -> float: return a", f"3:1: {NOT_PLAIN_ARGUMENTS}"),
        ("def f(a) -> float: return a", "1:7: `a` has no kind. Write `a: float`."),
        ("def f(new: float) -> float: return new", "1:7: `new` is a word of JavaScript. Take another name."),
    ],
)
def test_function_with_other_arguments_is_refused(load: Load, text: str, message: str) -> None:
    module = load(text)
    function = getattr(module.f, "__wrapped__", module.f)
    with pytest.raises(Refused) as refused:
        print_function(function)
    assert str(refused.value) == f"snippet.py:{message}"


def test_name_bound_in_every_branch_is_known_after(load: Load) -> None:
    lines = ("if a > 1:", "    b = a", "elif a > 0:", "    return a", "else:", "    b = n", "return b")
    assert print_function(load(HEAD + body(*lines)).f).text.endswith("  return b;\n}\n")


def test_program_is_the_same_bytes_each_time() -> None:
    assert program(FORMULAS).encode() == program(FORMULAS).encode()


def test_program_binds_one_name_and_cannot_end_its_script() -> None:
    text = program(FORMULAS)
    assert text.startswith('var reckoning = (function () {\n"use strict";\n')
    assert text.endswith("};\n})();\n")
    assert "</" not in text


def test_program_knows_every_formula_input_output_and_verdict() -> None:
    text = program(FORMULAS)
    for formula in FORMULAS.values():
        assert f'    "{formula.id}": {{inputs: [' in text
        for entry in (*formula.inputs, *formula.outputs):
            assert f'name: "{entry.name}", label: "{entry.label}"' in text
        for code, sentence in formula.verdicts.items():
            assert f'"{code}": "{sentence}"' in text


def test_two_things_of_one_name_are_refused(load: Load) -> None:
    text = "from build_tools.formulas.definition import Reckoned\nTOLERANCE = 2.0\n"
    text += "def sheet_lap(a: float, b: float | None) -> Reckoned:\n"
    text += '    return Reckoned(outputs={"lap_mm": a * TOLERANCE}, verdict=None, working=())\n'
    mine = load(text).sheet_lap
    clash = {**FORMULAS, "mine": replace(FORMULAS["sheet-lap"], function=mine)}
    with pytest.raises(Refused, match=r"^Two different things are called `sheet_lap`\. Rename one"):
        program(clash)
    with pytest.raises(Refused, match=r"^Two different things are called `TOLERANCE`\. Rename one"):
        program({"mine": replace(FORMULAS["sheet-lap"], function=mine)})


WITH_TABLE = """from build_tools.model.data import Metal
def dense(metals: tuple[Metal, ...], metal: str) -> float:
    found = metals[0]
    for row in metals:
        if row.id == metal:
            found = row
    return found.density_kg_m3
def twice(metals: tuple[Metal, ...], metal: str) -> float:
    return 2 * dense(metals, metal)
"""


def test_table_is_handed_on_by_its_name_and_stands_in_the_program_once(load: Load) -> None:
    module = load(WITH_TABLE)
    printed = print_function(module.twice, {"metals": METALS})
    assert printed.text == "function twice(metal) {\n  return (2 * dense(metal));\n}\n"
    assert list(printed.needed) == ["dense"]
    printed = print_function(module.dense, {"metals": METALS})
    assert "function dense(metal) {" in printed.text and "for (const row of METALS)" in printed.text
    assert printed.needed == {"METALS": METALS}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("dense(metals, metal)", "dense(metals[1:], metal)"),
        ("def twice(metals: tuple[Metal, ...], metal: str)", "metals = ()\ndef twice(metal: str)"),
    ],
)
def test_table_that_is_not_handed_on_whole_is_refused(load: Load, old: str, new: str) -> None:
    assert old in WITH_TABLE
    with pytest.raises(Refused, match="`dense` takes `metals`"):
        print_function(load(WITH_TABLE.replace(old, new)).twice, {"metals": METALS})


def test_no_field_of_a_row_is_printed_that_says_where_it_is_from(load: Load) -> None:
    with pytest.raises(Refused, match="`source` is no field"):
        print_function(load(WITH_TABLE.replace("row.id ==", "row.source ==")).dense, {"metals": METALS})


def test_two_tables_under_one_name_are_refused() -> None:
    fewer = replace(FORMULAS["thermal-movement"], function=partial(thermal_movement, METALS[:2]))
    with pytest.raises(Refused, match="Two different things are called `metals`"):
        program({"sheet-mass": FORMULAS["sheet-mass"], "mine": fewer})
