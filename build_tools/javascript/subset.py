"""The subset of Python that is printed as JavaScript, as tables: what is in it, and what to write for what is not."""

from __future__ import annotations

import ast
from collections.abc import Mapping

_WORDS = (
    "arguments await break case catch class const continue debugger default delete do else enum eval "
    "export extends false finally for function if implements import in instanceof interface let new null "
    "package private protected public return static super switch this throw true try typeof undefined var "
    "void while with yield Array Infinity Math NaN Number Object String reckoning"
)
RESERVED = frozenset(_WORDS.split())
"""Words that mean something else in JavaScript."""

ARITHMETIC: Mapping[type[ast.AST], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
INSTEAD: Mapping[type[ast.AST], tuple[str, str]] = {
    ast.FloorDiv: ("`//` rounds otherwise in JavaScript.", "Write `math.floor(a / b)`."),
    ast.Mod: ("`%` has another sign in JavaScript.", "Write `a - b * math.floor(a / b)`."),
    ast.Pow: ("`**` is not in the subset.", "Write `math.pow(a, b)`, or `a * a`."),
    ast.List: ("A list can change.", "Write a tuple."),
    ast.Set: ("A set has no order.", "Write a tuple."),
    ast.Lambda: ("A lambda has no kinds.", "Write a function."),
    ast.ListComp: ("A comprehension is not in the subset.", "Build a tuple in a `for` loop."),
    ast.GeneratorExp: ("A comprehension is not in the subset.", "Build a tuple in a `for` loop."),
    ast.NamedExpr: ("`:=` is not in the subset.", "Give the value its name on a line before."),
}
STATEMENTS_INSTEAD: Mapping[type[ast.AST], tuple[str, str]] = {
    ast.AugAssign: ("`+=` and its like are not in the subset.", "Write `x = x + y`."),
    ast.While: ("`while` may never end.", "Write `for i in range(n)`, with a stated number of rounds."),
    ast.Raise: ("`raise` is not in the subset.", "Return a verdict, or let the limits of the inputs keep it away."),
    ast.Assert: ("`assert` is not in the subset.", "Let the limits of the inputs keep it away."),
    ast.Try: ("`try` is not in the subset.", "Let the limits of the inputs keep the error away."),
    ast.With: ("`with` is not in the subset.", "Keep files out of formulas."),
    ast.Import: ("An import is not in the subset.", "Import at the top of the module."),
    ast.ImportFrom: ("An import is not in the subset.", "Import at the top of the module."),
    ast.FunctionDef: ("A function inside a function is not in the subset.", "Write it at the top of the module."),
    ast.Expr: ("This line does nothing with its result.", "Bind it to a name, or leave the line out."),
}
COMPARISONS: Mapping[type[ast.AST], str] = {
    ast.Eq: "===",
    ast.NotEq: "!==",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
}
MATH: Mapping[str, str] = {
    "sin": "Math.sin({})",
    "cos": "Math.cos({})",
    "tan": "Math.tan({})",
    "asin": "Math.asin({})",
    "acos": "Math.acos({})",
    "atan": "Math.atan({})",
    "atan2": "Math.atan2({})",
    "exp": "Math.exp({})",
    "log": "Math.log({})",
    "log10": "Math.log10({})",
    "sqrt": "Math.sqrt({})",
    "floor": "Math.floor({})",
    "ceil": "Math.ceil({})",
    "pow": "Math.pow({})",
    "radians": "({} * (Math.PI / 180))",
    "degrees": "({} * (180 / Math.PI))",
}
"""Functions of `math`; the last two are the same product of floats that Python forms."""

MATH_OF_TWO = ("atan2", "pow")

BUILTINS_INSTEAD: Mapping[str, str] = {
    "round": "Write `round_up(x, step)`, `round_down(x, step)`, or `figure(x, 1)` for text.",
    "int": "Write `math.floor(x)`.",
    "float": "Leave it out: every number is a float in JavaScript.",
    "str": "Write `figure(x, 1)`; `str` is for whole numbers only.",
    "len": "Count a tuple; a text has another length in JavaScript.",
    "min": "Give two or more numbers.",
    "max": "Give two or more numbers.",
    "sum": "Add up in a `for` loop.",
    "sorted": "State it in order.",
    "range": "Use it in `for i in range(n)` only.",
    "print": "Return what is to be shown.",
}
