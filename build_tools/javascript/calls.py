"""Calls of the subset: `math`, the few built-in functions, one method, and the project's own functions."""

from __future__ import annotations

import ast
from types import FunctionType
from typing import get_type_hints

from build_tools.javascript.kinds import NUMBER, TEXT, TUPLE, bare, family, join_all
from build_tools.javascript.scope import Printed, Scope, tables_of
from build_tools.javascript.subset import BUILTINS_INSTEAD, MATH, MATH_OF_TWO

Given = tuple[Printed, ...]


def call_math(node: ast.Call, name: str, given: Given, scope: Scope) -> Printed:
    """Print a function of `math`."""
    if name not in MATH:
        raise scope.refuse(node, f"`math.{name}` is not in the subset.", f"Use one of {', '.join(MATH)}.")
    of_two = name in MATH_OF_TWO
    if len(given) != (2 if of_two else 1) or not _all_numbers(given):
        wanted = "two numbers" if of_two else "one number"
        raise scope.refuse(node, f"`math.{name}` is given something else than {wanted}.", f"Give it {wanted}.")
    text = MATH[name].format(", ".join(each.text for each in given))
    return Printed(text, int if name in ("floor", "ceil") else float)


def call_method(node: ast.Call, name: str, owner: Printed, given: Given, scope: Scope) -> Printed:
    """Print `text.find(part)`, the only method."""
    if name != "find" or [family(each.kind) for each in (owner, *given)] != [TEXT, TEXT]:
        raise scope.refuse(node, f"The method `{name}` is not in the subset.", "Call a function by its name.")
    return Printed(f"{owner.text}.indexOf({given[0].text})", int)


def without_tables(node: ast.Call, function: FunctionType, scope: Scope) -> list[ast.expr]:
    """Give what a function is called with but for tables: these are handed on, and stand in the program once."""
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    named = dict(zip(names, node.args, strict=False))
    for name in tables_of(function):
        handed = named.get(name)
        if not isinstance(handed, ast.Name) or handed.id != name or name not in scope.tables:
            raise scope.refuse(handed or node, f"`{function.__name__}` takes `{name}`.", "Hand it on by that name.")
    return [each for each in node.args if each not in [named[name] for name in tables_of(function)]]


def call_own(node: ast.Call, name: str, function: FunctionType, given: Given, scope: Scope) -> Printed:
    """Print a call of a function of the project, and note that the program needs it."""
    if name != function.__name__:
        raise scope.refuse(node, f"`{name}` is another name of `{function.__name__}`.", "Use its own name.")
    if len(given) != function.__code__.co_argcount - len(tables_of(function)):
        raise scope.refuse(node, f"`{name}` is given {len(given)} arguments.", "Give every one.")
    scope.needed[name] = function
    return Printed(f"{name}({', '.join(each.text for each in given)})", get_type_hints(function).get("return"))


def call_builtin(node: ast.Call, name: str, given: Given, scope: Scope) -> Printed:
    """Print abs, min, max, str or len, where JavaScript gives the same."""
    texts = ", ".join(each.text for each in given)
    if name in ("min", "max") and len(given) > 1 and _all_numbers(given):
        return Printed(f"Math.{name}({texts})", join_all(tuple(bare(each.kind) for each in given)))
    if name == "abs" and len(given) == 1 and _all_numbers(given):
        return Printed(f"Math.abs({texts})", bare(given[0].kind))
    if name == "str" and len(given) == 1 and bare(given[0].kind) is int:
        return Printed(f"String({texts})", str)
    if name == "len" and len(given) == 1 and family(given[0].kind) == TUPLE:
        return Printed(f"{texts}.length", int)
    instead = BUILTINS_INSTEAD.get(name, "Call a function of the subset.")
    raise scope.refuse(node, f"`{name}` cannot be called like this.", instead)


def _all_numbers(given: Given) -> bool:
    return all(family(each.kind) == NUMBER for each in given)
