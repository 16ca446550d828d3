"""Two records of the same kind, compared field by field, as a reader would read each value."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from build_tools.model import key_of
from build_tools.model.problems import KeyPath
from build_tools.review.versions.matching import plain

NUMBER = re.compile(r"\d+(?:[.,]\d+)*")
UNORDERED = frozenset(("hazards", "acts", "carry", "sources", "followed_by", "covering", "light"))
"""Lists whose order says nothing to a reader."""
Rename = Callable[[str, str], str]
"""From a field and an id that stood in it to the id that the same thing has now."""


@dataclass(frozen=True, slots=True)
class Difference:
    """A value that differs: the field, the keys that lead to it, and how it reads on both sides."""

    field: str
    keys: KeyPath
    before: str | None
    after: str | None

    @property
    def in_numbers(self) -> bool:
        """Tell whether the two texts hold other numbers."""
        return NUMBER.findall(self.before or "") != NUMBER.findall(self.after or "")


def as_given(field: str, value: str) -> str:
    """Keep every id: nothing was renamed."""
    return value


def differences(
    before: BaseModel, after: BaseModel, skip: frozenset[str], rename: Rename = as_given
) -> Iterator[Difference]:
    """Find the fields that differ, a mapping key by key; fields of either kind where the two are of two kinds."""
    for field in dict.fromkeys((*type(before).model_fields, *type(after).model_fields)):
        if field not in skip:
            values = getattr(before, field, None), getattr(after, field, None)
            yield from _compared(field, (key_of(field),), *values, rename)


def _compared(field: str, keys: KeyPath, before: Any, after: Any, rename: Rename) -> Iterator[Difference]:
    if isinstance(before, Mapping) or isinstance(after, Mapping):
        old, new = before or {}, after or {}
        for key in dict.fromkeys((*old, *new)):
            yield from _compared(field, (*keys, key), old.get(key), new.get(key), rename)
        return
    if isinstance(before, BaseModel) and isinstance(after, BaseModel):
        for found in differences(before, after, frozenset(), rename):
            yield Difference(field, (*keys, *found.keys), found.before, found.after)
        return
    if shown(field, before, rename) != shown(field, after):
        yield Difference(field, keys, shown(field, before), shown(field, after))


def shown(field: str, value: Any, rename: Rename = as_given) -> str | None:
    """Write a value as a reader would read it; nothing where there is none."""
    if value is None or value == () or value == {}:
        return None
    if isinstance(value, tuple):
        items = [str(shown(field, each, rename)) for each in value]
        return "; ".join(sorted(items) if field in UNORDERED else items)
    if isinstance(value, Mapping):
        return "; ".join(sorted(f"{rename(field, key)} {shown(field, each, rename)}" for key, each in value.items()))
    if isinstance(value, BaseModel):
        held = ((key, shown(key, getattr(value, key), rename)) for key in type(value).model_fields if key != "accept")
        return ", ".join(f"{key_of(key)} {each}" for key, each in held if each is not None)
    if isinstance(value, float):
        return f"{value:g}"
    return plain(rename(field, str(value)))
