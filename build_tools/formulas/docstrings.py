"""The docstring of a function that calculates, which is where a reader's words on it stand once."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import partial
from types import FunctionType


def section(function: Callable[..., object], title: str) -> tuple[str, ...]:
    """Give the lines of one section of a docstring, a line that is indented further joined to the one above."""
    lines = docstring(function).splitlines()
    body: list[str] = []
    for line in lines[lines.index(title + ":") + 1 :]:
        if not line.startswith("    "):
            break
        if line.startswith("        ") and body:
            body[-1] += " " + line.strip()
        else:
            body.append(line.strip())
    return tuple(body)


def written(function: Callable[..., object]) -> FunctionType:
    """Give a function as it is written, whatever was handed to it."""
    plain = function.func if isinstance(function, partial) else function
    assert isinstance(plain, FunctionType)
    return plain


def docstring(function: Callable[..., object]) -> str:
    """Give the whole of it, without its indent; empty where there is none."""
    return inspect.getdoc(written(function)) or ""
