"""Plain values to typed records: every fault of shape becomes a problem at its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import TypeAdapter, ValidationError

from build_tools.blanks import BLANK, blanks
from build_tools.compose import Composed, compose, nearest_place
from build_tools.faults import shape_problems
from build_tools.problems import KeyPath, Place, Problem, has_errors
from build_tools.source import SourceFile

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Parsed(Generic[T]):
    """A record and the places of its values."""

    record: T
    source: SourceFile
    composed: Composed
    warnings: tuple[Problem, ...] = ()
    """What is wrong with the text, though it could be read."""

    def place(self, keys: KeyPath) -> Place:
        """Give the place of a value, or of the nearest value around it."""
        return nearest_place(self.composed.places, keys)


def parse(source: SourceFile, kind: TypeAdapter[T]) -> tuple[Parsed[T] | None, tuple[Problem, ...]]:
    """Read one file as a record of the kind. No record when its shape is wrong."""
    composed, problems = compose(source)
    if composed is None or has_errors(problems):
        return None, problems
    if not isinstance(composed.value, Mapping):
        what = "the file is empty" if composed.value is None else "the file does not begin with a key"
        problem = Problem(Place(source.path, 1, 1), "wrong-value", what, "Begin it with a key: `key: value`.")
        return None, (*problems, problem)
    if BLANK in source.text and (left := tuple(blanks(composed))):
        return None, (*problems, *left)
    try:
        return Parsed(kind.validate_python(composed.value), source, composed, problems), problems
    except ValidationError as error:
        return None, (*problems, *shape_problems(composed, error))
