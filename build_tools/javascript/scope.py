"""One function on its way to JavaScript: what it knows by name, and how it refuses what it must not print."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from types import FunctionType
from typing import NamedTuple, get_type_hints

from build_tools.javascript.kinds import Kind, is_table
from build_tools.javascript.subset import RESERVED


class Refused(Exception):
    """Something is outside the subset; its text gives file, line, column, what it is and what to write instead."""


class Printed(NamedTuple):
    """An expression as JavaScript."""

    text: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class Scope:
    """A function, its names so far with their kinds, and the globals it was found to need."""

    function: FunctionType
    node: ast.FunctionDef
    lines: tuple[str, ...]
    first_line: int
    tables: frozenset[str]
    """Arguments that are the rows of a data table: the program holds them as constants, and no call names them."""
    rows: Mapping[str, object]
    """The rows of each table, by the name of the argument."""
    kinds: dict[str, Kind] = field(default_factory=dict)
    """What is surely bound at this place."""
    bound: dict[str, None] = field(default_factory=dict)
    """All that is bound anywhere but by a loop, in order, for the head of the function."""
    loop_names: set[str] = field(default_factory=set)
    needed: dict[str, object] = field(default_factory=dict)

    def refuse(self, node: ast.AST, what: str, instead: str) -> Refused:
        """Make the error for one place."""
        line = getattr(node, "lineno", 1)
        start = self.lines[line - 1].encode()[: getattr(node, "col_offset", 0)]
        path = self.function.__module__.replace(".", "/") + ".py"
        place = f"{path}:{self.first_line + line - 1}:{len(start.decode()) + 1}"
        return Refused(f"{place}: {what} {instead}")

    def table(self, name: str) -> str:
        """Note that the program needs a table, and give the name of its constant."""
        constant = name.upper()
        self.needed[constant] = self.rows[name]
        return constant

    def bind(self, node: ast.AST, name: str, kind: Kind) -> None:
        """Make a name known here."""
        if name in RESERVED:
            raise self.refuse(node, f"`{name}` is a word of JavaScript.", "Take another name.")
        self.kinds[name] = kind


@cache
def tables_of(function: FunctionType) -> frozenset[str]:
    """Name the arguments of a function that are the rows of a data table."""
    return frozenset(name for name, kind in get_type_hints(function).items() if name != "return" and is_table(kind))


def open_scope(function: FunctionType, rows: Mapping[str, object]) -> Scope:
    """Read the source of a function and make its arguments known."""
    lines, first_line = inspect.getsourcelines(function)
    node = ast.parse("".join(lines)).body[0]
    assert isinstance(node, ast.FunctionDef)
    scope = Scope(function, node, tuple(lines), first_line, tables_of(function), rows)
    given = node.args
    if given.defaults or given.kwonlyargs or given.vararg or given.kwarg or node.decorator_list:
        what = "It has decorators, defaults, or arguments that are starred or by name only."
        raise scope.refuse(node, what, "Take plain arguments.")
    hints = get_type_hints(function)
    for argument in (*given.posonlyargs, *given.args):
        if argument.arg not in hints:
            raise scope.refuse(argument, f"`{argument.arg}` has no kind.", f"Write `{argument.arg}: float`.")
        scope.bind(argument, argument.arg, hints[argument.arg])
    return scope
