"""Plain values to typed records: every fault of shape becomes a problem at its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain
from typing import Any, Generic, TypeVar

from pydantic import TypeAdapter, ValidationError

from build_tools.model import every_value
from build_tools.model.letters import HIDDEN
from build_tools.model.problems import KeyPath, Place, Problem, has_errors
from build_tools.sources.answers import answer_problems, homes_of, written_keys
from build_tools.sources.blanks import BLANK, blanks
from build_tools.sources.compose import Composed, at_most, compose, nearest_place
from build_tools.sources.faults import shape_problems
from build_tools.sources.old_form import old_form
from build_tools.sources.source import SourceFile, hidden_letter, hidden_letters

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Parsed(Generic[T]):
    """A record and the places of its values."""

    record: T
    source: SourceFile
    composed: Composed
    warnings: tuple[Problem, ...] = ()
    """What is wrong with the text, though it could be read."""
    homes: Mapping[Any, KeyPath] = field(default_factory=dict)
    """The keys of each step of a tree in its text, by its id."""

    def place(self, keys: KeyPath) -> Place:
        """Give the place of a value of the record, or of the nearest value around it."""
        return nearest_place(self.composed.places, written_keys(self.homes, keys))


def parse(source: SourceFile, kind: TypeAdapter[T]) -> tuple[Parsed[T] | None, tuple[Problem, ...]]:
    """Read one file as a record of the kind. No record when its shape is wrong."""
    composed, problems = compose(source)
    if composed is not None:
        problems = (*problems, *at_most(_hidden_letters(source, composed)))
    if composed is None or has_errors(problems):
        return None, problems
    if not isinstance(composed.value, Mapping):
        what = "the file is empty" if composed.value is None else "the file does not begin with a key"
        problem = Problem(Place(source.path, 1, 1), "wrong-value", what, "Begin it with a key: `key: value`.")
        return None, (*problems, problem)
    if BLANK in source.text and (left := tuple(at_most(blanks(composed)))):
        return None, (*problems, *left)
    if old := old_form(composed):
        return None, (*problems, old)
    ways = answer_problems(composed)
    try:
        record = kind.validate_python(composed.value)
    except ValidationError as error:
        return None, (*problems, *at_most(chain(shape_problems(composed, error), ways)))
    if wrong := tuple(at_most(ways)):
        return None, (*problems, *wrong)
    return Parsed(record, source, composed, problems, homes_of(composed.value)), problems


def _hidden_letters(source: SourceFile, composed: Composed) -> Iterator[Problem]:
    """Find the letters that nobody can see: those that stand in the file, and those that an escape writes."""
    yield from hidden_letters(source)
    if "\\" in source.text:
        values = every_value(composed.value)
        said = [(composed.value_places[keys], value) for keys, value in values if isinstance(value, str)]
        named = [(place, str(keys[-1])) for keys, place in composed.places.items() if keys]
        for place, text in (*said, *named):
            written = [each for run in HIDDEN.findall(text) for each in run if each not in source.text]
            if written:
                yield hidden_letter(place, written[0])
