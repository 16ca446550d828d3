"""The text of a function with all that it rests on, so that a change of a formula can be told by a hash."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from types import FunctionType, ModuleType


def texts_behind(function: Callable[..., object]) -> Iterator[str]:
    """Give the source of a function, and of each function and constant of this program that it uses, once each."""
    waiting: list[FunctionType] = [function] if isinstance(function, FunctionType) else []
    seen: set[FunctionType] = set(waiting)
    while waiting:
        each = waiting.pop(0)
        yield inspect.getsource(each)
        for name in each.__code__.co_names:
            value = each.__globals__.get(name)
            if isinstance(value, FunctionType) and value not in seen:
                seen.add(value)
                waiting.append(value)
            elif value is not None and not isinstance(value, FunctionType | ModuleType | type):
                yield f"{name} = {value!r}"
