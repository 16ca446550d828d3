"""What kind of value stands where, in the subset of Python that is printed as JavaScript.

A kind is a type as annotations state it: int, float, bool, str, a tuple, a record (a named tuple, or a row of a data
table), a mapping by text.
mypy has proved the annotations; here they only settle what `+`, `in` and truth mean, since JavaScript would
take a wrong kind in silence. `X | None` counts as X: mypy insists on the check for None.
"""

from __future__ import annotations

import types
from collections import abc
from collections.abc import Mapping
from typing import Any, Literal, TypeAlias, Union, get_args, get_origin, get_type_hints

from build_tools.model import DataRow, Record

Kind: TypeAlias = Any

NUMBER = "a number"
TEXT = "text"
TRUTH = "a truth value"
TUPLE = "a tuple"
RECORD = "a record"
MAPPING = "a mapping"
NOTHING = "None"


def bare(kind: Kind) -> Kind:
    """Take None off a union, and turn a choice of texts into str."""
    origin = _origin(kind)
    if origin in (Union, types.UnionType):
        rest = [each for each in get_args(kind) if each is not type(None)]
        return bare(rest[0]) if len(rest) == 1 else kind
    return str if origin is Literal else kind


def _origin(kind: Kind) -> Any:
    origin: Any = get_origin(kind)
    return abc.Mapping if origin is dict else origin


def tuple_of(*kinds: Kind) -> Kind:
    """Give the kind of a tuple of these, in order; a last `...` after one means any number of it."""
    return types.GenericAlias(tuple, kinds)


def mapping_of(kind: Kind) -> Kind:
    """Give the kind of a mapping from texts to this."""
    return types.GenericAlias(abc.Mapping, (str, kind))


def family(kind: Kind) -> str:
    """Name the kind of a value as a message says it."""
    kind = bare(kind)
    plain = {int: NUMBER, float: NUMBER, str: TEXT, bool: TRUTH, type(None): NOTHING}
    if kind in plain:
        return plain[kind]
    if _origin(kind) is tuple:
        return TUPLE
    if is_record(kind):
        return RECORD
    if _origin(kind) is abc.Mapping:
        return MAPPING
    return "something outside the subset"


def is_record(kind: Kind) -> bool:
    """Tell whether it is a named tuple, or what a data table holds."""
    named = isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields")
    return named or (isinstance(kind, type) and issubclass(kind, Record))


def fields_of(record: Kind) -> Mapping[str, Kind]:
    """Give the fields of a record that a formula may take, with their kinds: not the source and note of a row."""
    if issubclass(record, tuple):
        return get_type_hints(record)
    hints = {name: field.annotation for name, field in record.model_fields.items()}
    if not issubclass(record, DataRow):
        return hints
    own = {name: kind for name, kind in hints.items() if name not in DataRow.model_fields}
    return {"id": str, "label": str, **own}


def is_table(kind: Kind) -> bool:
    """Tell whether it is the rows of a data table."""
    parts = elements(kind) if family(kind) == TUPLE and length_of(kind) is None else ()
    return any(isinstance(each, type) and issubclass(each, DataRow) for each in parts)


def join(left: Kind, right: Kind) -> Kind | None:
    """Give the kind that holds both, None where there is none."""
    if left == right or right is type(None):
        return left
    if left is type(None):
        return right
    if family(left) != family(right):
        return None
    if family(left) == NUMBER:
        return int if bare(left) is bare(right) is int else float
    if family(left) == TUPLE:
        if length_of(left) == length_of(right) is not None:
            inner = [join(*each) for each in zip(elements(left), elements(right), strict=True)]
            if None not in inner:
                return tuple_of(*inner)
        element = join_all((*elements(left), *elements(right)))
        return None if element is None else tuple_of(element, ...)
    return bare(left) if bare(left) == bare(right) else None


def join_all(kinds: tuple[Kind, ...]) -> Kind | None:
    """Give the kind that holds all of these; None where there is none, or where there are none to hold."""
    joined: Kind | None = kinds[0] if kinds else None
    for kind in kinds[1:]:
        joined = None if joined is None else join(joined, kind)
    return joined


def elements(kind: Kind) -> tuple[Kind, ...]:
    """Give the kinds in a tuple: one where it is of any length."""
    return tuple(each for each in get_args(bare(kind)) if each is not Ellipsis)


def length_of(kind: Kind) -> int | None:
    """Give how many parts a tuple has; None where it can have any number, and for all that is no tuple."""
    fixed = family(kind) == TUPLE and Ellipsis not in get_args(bare(kind))
    return len(elements(kind)) if fixed else None


def kind_of(value: object) -> Kind:
    """Give the kind of a constant."""
    if isinstance(value, tuple) and not is_record(type(value)):
        return tuple_of(*(kind_of(each) for each in value))
    return type(value)
