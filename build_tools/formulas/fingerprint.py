"""What code does, told apart from how it is written, so that a change of a formula can be told by a hash.

Comments, layout and docstrings do nothing. What a reader gets of a docstring, a formula's fingerprint counts as words.
"""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from textwrap import dedent
from types import FunctionType, ModuleType
from typing import Any

PROGRAM = __name__.partition(".")[0]
SAYS_NOTHING = ("ctx", "kind", "type_comment")
"""Fields of Python's syntax tree that follow from the rest, or from how a thing was written."""


def what_it_does(node: ast.AST) -> str:
    """Write code as one text that is the same on every Python, whatever its comments, layout and docstrings."""
    return _written(node)


def _written(part: Any) -> str:
    if isinstance(part, list):
        return f"[{', '.join(_written(each) for each in part if not is_remark(each))}]"
    if not isinstance(part, ast.AST):
        return repr(part)
    # `ast.dump` would name fields that are empty, and which fields there are depends on the Python.
    fields = ((name, value) for name, value in ast.iter_fields(part) if name not in SAYS_NOTHING)
    said = [f"{name}={_written(value)}" for name, value in fields if value is not None and value != []]
    return f"{type(part).__name__}({', '.join(said)})"


def is_remark(node: Any) -> bool:
    """Tell a statement that is only a text: a docstring, wherever it stands."""
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)


def texts_behind(*functions: Callable[..., object] | None) -> Iterator[str]:
    """Give what functions do, and each function, class and constant of this program that they use, once each.

    A constant is given by the value that it has in the end, whatever statement of its module gave it.
    """
    waiting: list[FunctionType | type] = [each for each in functions if isinstance(each, FunctionType)]
    seen = set(waiting)
    while waiting:
        each = waiting.pop(0)
        text, names = _code_of(each)
        yield text
        for name in names:
            value = _globals_of(each).get(name)
            if isinstance(value, FunctionType | type):
                if value not in seen and value.__module__.partition(".")[0] == PROGRAM:
                    seen.add(value)
                    waiting.append(value)
            elif value is not None and not isinstance(value, ModuleType):
                yield f"{name} = {value!r}"


@cache
def _code_of(thing: FunctionType | type) -> tuple[str, tuple[str, ...]]:
    """Give what a function or class does, and the names that stand in it, in their order."""
    tree = ast.parse(dedent(inspect.getsource(thing)))
    return what_it_does(tree), tuple(dict.fromkeys(_names_in(tree)))


def _names_in(node: ast.AST) -> Iterator[str]:
    """Give the names that code uses when it runs; those of types are only read."""
    if isinstance(node, ast.Name):
        yield node.id
    types = [getattr(node, field, None) for field in ("annotation", "returns")]
    for each in ast.iter_child_nodes(node):
        if each not in types:
            yield from _names_in(each)


def _globals_of(thing: FunctionType | type) -> Mapping[str, Any]:
    return thing.__globals__ if isinstance(thing, FunctionType) else vars(sys.modules[thing.__module__])
