"""What all records share: ids, places, efforts, acts, signal words, and the record itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from build_tools.model.problems import KeyPath

ID_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"
TARGET_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)?$"
VERSION_PATTERN = r"^(0|[1-9]\d*)\.(0|[1-9]\d*)\.(0|[1-9]\d*)$"
HASH_PATTERN = r"^[0-9a-f]{16}$"

Id = Annotated[str, Field(pattern=ID_PATTERN)]
"""Lower-case words joined by hyphens; stable for ever, since records and links keep it."""
Text = Annotated[str, Field(min_length=1)]
Headline = Annotated[str, Field(min_length=1, max_length=240)]
"""A question or title, which has to fit the rhombus of a diagram."""

ANSWERS = ("yes", "no", "unsure")
"""The three answers, in the order in which they are always shown."""


def _as_date(value: object) -> object:
    """Read a date from text, since the YAML reader leaves dates as text."""
    if isinstance(value, str):
        # Python reads other spellings of a day too, such as 20261125.
        return datetime.strptime(value, "%Y-%m-%d").date()
    return value


Day = Annotated[date, BeforeValidator(_as_date)]


def _as_text(value: object) -> object:
    """Take a version that reads as a number for what its author wrote, to say what is wrong with it."""
    return str(value) if isinstance(value, int | float) else value


Version = Annotated[str, Field(pattern=VERSION_PATTERN), BeforeValidator(_as_text)]


class Where(StrEnum):
    """Where a step is done, from the safest place to the most dangerous."""

    INSIDE = "inside"
    LOFT = "loft"
    GROUND = "ground"
    SCAFFOLD = "scaffold"
    LADDER = "ladder"
    ROOF = "roof"


UP = (Where.SCAFFOLD, Where.LADDER, Where.ROOF)
"""The places that take a climb."""


class Effort(StrEnum):
    """What a step disturbs, from nothing to what cannot be put back as it was."""

    LOOK = "look"
    TOUCH = "touch"
    WET = "wet"
    LIFT = "lift"
    STRIP = "strip"


class Act(StrEnum):
    """A dangerous thing to do, gated on its own wherever it is done."""

    HOSE_TEST = "hose-test"
    LIFT_GLASS = "lift-glass"
    HOT_WORK = "hot-work"


GUARDED: tuple[Where | Act, ...] = (Where.LOFT, Where.SCAFFOLD, Where.LADDER, Where.ROOF, *Act)
"""The places and acts that are never entered without a gate."""


class Signal(StrEnum):
    """Signal words in the meaning of ANSI Z535.4: what happens if the hazard is not avoided."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"


MILDEST_FIRST = (Signal.NOTICE, Signal.CAUTION, Signal.WARNING, Signal.DANGER)


# Enums arrive as text; strict mode would refuse it.
APlace = Annotated[Where, Field(strict=False)]
AnAct = Annotated[Act, Field(strict=False)]
Opening: TypeAlias = APlace | AnAct


def as_several(value: object) -> object:
    return (value,) if isinstance(value, str) else value


OneOrMore = Annotated[tuple[str, ...], BeforeValidator(as_several, json_schema_input_type=str | tuple[str, ...])]
"""One word, or a list of them."""


def key_of(field_name: str) -> str:
    """Give the key an author writes for a field: hyphens for underscores, without the one that Python's words need."""
    return field_name.rstrip("_").replace("_", "-")


class Record(BaseModel):
    """Base of all records: frozen, strict, no unknown keys, hyphens in the author's spelling."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, alias_generator=key_of, validate_by_alias=True)


@cache
def _fields(kind: type[BaseModel]) -> tuple[tuple[str, str], ...]:
    """Give each field with its key; kept, since every rule goes through every record."""
    return tuple((name, key_of(name)) for name in kind.model_fields)


def every_value(value: Any, keys: KeyPath = ()) -> Iterator[tuple[KeyPath, Any]]:
    """Give a record and every value inside it, each with the keys that lead to it."""
    waiting = [(keys, value)]
    while waiting:
        found = waiting.pop()
        yield found
        keys, value = found
        if isinstance(value, str):
            continue  # most values are
        if isinstance(value, BaseModel):
            inside = [((*keys, key), getattr(value, name)) for name, key in _fields(type(value))]
        elif isinstance(value, Mapping):
            inside = [((*keys, key), item) for key, item in value.items()]
        elif isinstance(value, tuple):
            inside = [((*keys, number), item) for number, item in enumerate(value)]
        else:
            continue
        waiting += reversed(inside)


Accept = Annotated[
    Mapping[str, Text],
    Field(default_factory=dict, description="A rule waived here, by its code, each with the reason."),
]
Sources = Annotated[
    tuple[Id, ...],
    Field(default=(), description="Ids from tables/sources.yaml that the numbers here rest on."),
]
