"""Functions of the subset: statements printed as JavaScript; all others are refused."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping, Sequence
from types import FunctionType, MappingProxyType
from typing import NamedTuple

from build_tools.javascript.expressions import condition, expression
from build_tools.javascript.kinds import NUMBER, TEXT, TUPLE, Kind, bare, elements, family, join, join_all, length_of
from build_tools.javascript.scope import Printed, Scope, open_scope
from build_tools.javascript.subset import STATEMENTS_INSTEAD

NO_ROWS: Mapping[str, object] = MappingProxyType({})


class PrintedFunction(NamedTuple):
    """A function as JavaScript, with the functions and constants that it uses by name."""

    text: str
    needed: Mapping[str, object]


def print_function(function: FunctionType, rows: Mapping[str, object] = NO_ROWS) -> PrintedFunction:
    """Print one function; Refused where something in it is outside the subset.

    rows: those of each data table that it or a function which it calls takes, by the name of the argument.
    """
    scope = open_scope(function, rows)
    arguments = tuple(name for name in scope.kinds if name not in scope.tables)
    statements = scope.node.body
    if isinstance(statements[0], ast.Expr) and isinstance(statements[0].value, ast.Constant):
        statements = statements[1:]
    body = _block(statements, scope, "  ")
    names = [name for name in scope.bound if name not in arguments]
    declared = f"  let {', '.join(names)};\n" if names else ""
    head = f"function {function.__name__}({', '.join(arguments)}) {{\n"
    return PrintedFunction(head + declared + body + "}\n", scope.needed)


def _block(statements: Sequence[ast.stmt], scope: Scope, indent: str) -> str:
    return "".join(_statement(each, scope, indent) for each in statements)


def _statement(node: ast.stmt, scope: Scope, indent: str) -> str:
    printer = _PRINTERS.get(type(node))
    if printer is None:
        unknown = (f"{type(node).__name__} is not in the subset.", "See build_tools/javascript.")
        raise scope.refuse(node, *STATEMENTS_INSTEAD.get(type(node), unknown))
    return printer(node, scope, indent)


def _return(node: ast.Return, scope: Scope, indent: str) -> str:
    if node.value is None:
        raise scope.refuse(node, "It returns nothing.", "Return a value.")
    return f"{indent}return {expression(node.value, scope).text};\n"


def _assign(node: ast.Assign, scope: Scope, indent: str) -> str:
    target = node.targets[0]
    if len(node.targets) != 1 or not isinstance(target, ast.Name):
        raise scope.refuse(node, "It binds more than one name.", "Bind one name on a line.")
    printed = expression(node.value, scope)
    return _bind(node, target.id, printed, printed.kind, scope, indent)


def _annotated(node: ast.AnnAssign, scope: Scope, indent: str) -> str:
    if not isinstance(node.target, ast.Name) or node.value is None:
        raise scope.refuse(node, "It states a kind and binds no name.", "Write `name: kind = value`.")
    # The module is the project's own, already imported; its annotations are names and unions of types.
    kind = eval(ast.unparse(node.annotation), scope.function.__globals__)
    return _bind(node, node.target.id, expression(node.value, scope), kind, scope, indent)


def _bind(node: ast.stmt, name: str, printed: Printed, kind: Kind, scope: Scope, indent: str) -> str:
    if name in scope.loop_names:
        raise scope.refuse(node, f"`{name}` is counted by a loop.", "Take another name.")
    before = scope.kinds.get(name, kind)
    joined = join(before, kind)
    if joined is None:
        what = f"`{name}` was {family(before)} and becomes {family(kind)}."
        raise scope.refuse(node, what, "Take another name.")
    scope.bind(node, name, joined)
    scope.bound[name] = None
    return f"{indent}{name} = {printed.text};\n"


def _branch(statements: Sequence[ast.stmt], scope: Scope, indent: str) -> tuple[str, Mapping[str, Kind] | None]:
    """Print a block that may not run, with what is bound at its end; None where it never comes to its end."""
    before = dict(scope.kinds)
    text = _block(statements, scope, indent)
    after = None if _ends(statements) else dict(scope.kinds)
    scope.kinds.clear()
    scope.kinds.update(before)
    return text, after


def _ends(statements: Sequence[ast.stmt]) -> bool:
    last = statements[-1] if statements else None
    if isinstance(last, ast.If):
        return _ends(last.body) and _ends(last.orelse)
    return isinstance(last, ast.Return | ast.Break | ast.Continue)


def _if(node: ast.If, scope: Scope, indent: str) -> str:
    test = condition(node.test, scope)
    text, body = _branch(node.body, scope, indent + "  ")
    follows = len(node.orelse) == 1 and isinstance(node.orelse[0], ast.If)
    other_text, other = _branch(node.orelse, scope, indent if follows else indent + "  ")
    _keep_what_both_bind(node, scope, body, other)
    head = f"{indent}if ({test}) {{\n{text}{indent}}}"
    if follows:
        return f"{head} else {other_text.lstrip()}"
    return f"{head} else {{\n{other_text}{indent}}}\n" if node.orelse else head + "\n"


def _keep_what_both_bind(
    node: ast.If, scope: Scope, body: Mapping[str, Kind] | None, other: Mapping[str, Kind] | None
) -> None:
    """After the branches a name is known only if each that comes to its end has bound it."""
    ways = [each for each in (body, other) if each is not None]
    for name in ways[0] if ways else ():
        if all(name in way for way in ways):
            kind = join_all(tuple(way[name] for way in ways))
            if kind is None:
                raise scope.refuse(node, f"`{name}` has two kinds after this.", "Give it one kind in both branches.")
            scope.kinds[name] = kind


def _for(node: ast.For, scope: Scope, indent: str) -> str:
    names = _counted(node, scope)
    head, kinds = _loop_head(node, names, scope)
    for name, kind in zip(names, kinds, strict=True):
        scope.bind(node, name, kind)
        scope.loop_names.add(name)
    # The body may never run, and JavaScript forgets the loop's names after it: so does the subset.
    body, _ = _branch(node.body, scope, indent + "  ")
    for name in names:
        del scope.kinds[name]
        scope.loop_names.remove(name)
    return f"{indent}for ({head}) {{\n{body}{indent}}}\n"


def _counted(node: ast.For, scope: Scope) -> tuple[str, ...]:
    """Give the names that a loop counts: one, or one for each part of a fixed tuple."""
    targets = node.target.elts if isinstance(node.target, ast.Tuple) else [node.target]
    names = tuple(each.id for each in targets if isinstance(each, ast.Name))
    if len(names) != len(targets) or node.orelse:
        raise scope.refuse(node, "It counts no plain names, or has an `else`.", "Count names, without `else`.")
    for name in names:
        if name in scope.kinds or names.count(name) > 1:
            raise scope.refuse(node, f"`{name}` is known already.", "Take another name for the loop.")
    return names


def _loop_head(node: ast.For, names: tuple[str, ...], scope: Scope) -> tuple[str, tuple[Kind, ...]]:
    """Print what a loop runs over, and tell the kind of each name that it counts."""
    over = node.iter
    several = isinstance(node.target, ast.Tuple)
    if not several and isinstance(over, ast.Call) and isinstance(over.func, ast.Name) and over.func.id == "range":
        return _range(over, names[0], scope), (int,)
    printed = expression(over, scope)
    if not several and family(printed.kind) == TEXT:
        return f"const {names[0]} of {printed.text}", (str,)
    kind = join_all(elements(printed.kind))
    if family(printed.kind) != TUPLE or kind is None:
        what = f"It runs over {family(printed.kind)}."
        raise scope.refuse(over, what, "Run over a range, a text, or a tuple of one kind.")
    if not several:
        return f"const {names[0]} of {printed.text}", (kind,)
    if length_of(kind) != len(names):
        what = f"It counts {len(names)} names over {family(kind)}."
        raise scope.refuse(over, what, "Run over tuples with as many parts, each of a stated kind.")
    return f"const [{', '.join(names)}] of {printed.text}", elements(kind)


def _range(node: ast.Call, name: str, scope: Scope) -> str:
    bounds = [expression(each, scope) for each in node.args]
    whole = all(family(each.kind) == NUMBER and bare(each.kind) is int for each in bounds)
    if node.keywords or not whole or len(bounds) > 2:
        raise scope.refuse(node, "The range is not plain.", "Write `range(n)` or `range(a, b)`, whole numbers.")
    # No name in Python holds a `$`, so the end cannot meet another name.
    start = bounds[0].text if len(bounds) == 2 else "0"
    return f"let {name} = {start}, {name}$end = {bounds[-1].text}; {name} < {name}$end; {name} += 1"


def _word(node: ast.Break | ast.Continue, scope: Scope, indent: str) -> str:
    return f"{indent}{'break' if isinstance(node, ast.Break) else 'continue'};\n"


_PRINTERS: Mapping[type[ast.stmt], Callable[..., str]] = {
    ast.Return: _return,
    ast.Assign: _assign,
    ast.AnnAssign: _annotated,
    ast.If: _if,
    ast.For: _for,
    ast.Break: _word,
    ast.Continue: _word,
}
