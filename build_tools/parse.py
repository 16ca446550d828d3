"""Plain values to typed records: every fault of shape becomes a problem at its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from pydantic import TypeAdapter, ValidationError

from build_tools.compose import Composed, compose
from build_tools.model import ID_PATTERN, STEP_KINDS, TARGET_PATTERN, key_of
from build_tools.problems import KeyPath, Place, Problem, did_you_mean
from build_tools.source import SourceFile

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Parsed(Generic[T]):
    """A record and the places of its values."""

    record: T
    source: SourceFile
    composed: Composed

    def place(self, keys: KeyPath) -> Place:
        """Give the place of a value, or of the nearest value around it."""
        while keys not in self.composed.places:
            keys = keys[:-1]
        return self.composed.places[keys]


def parse(source: SourceFile, kind: TypeAdapter[T]) -> tuple[Parsed[T] | None, tuple[Problem, ...]]:
    """Read one file as a record of the kind. No record when its shape is wrong."""
    composed, problems = compose(source)
    if composed is None or any(each.severity == "error" for each in problems):
        return None, problems
    if not isinstance(composed.value, Mapping):
        what = "the file is empty or is not a mapping of keys"
        return None, (
            *problems,
            Problem(Place(source.path, 1, 1), "wrong-value", what, "Begin with the first key."),
        )
    unkind = tuple(_steps_of_no_kind(composed))
    try:
        return Parsed(kind.validate_python(composed.value), source, composed), problems
    except ValidationError as error:
        shape = _shape_problems(composed, error, skip={keys for keys, _ in unkind})
        return None, (*problems, *(problem for _, problem in unkind), *shape)


def _steps_of_no_kind(composed: Composed) -> Iterator[tuple[KeyPath, Problem]]:
    steps = composed.value.get("steps")
    if not isinstance(steps, Mapping):
        return
    for name, step in steps.items():
        if isinstance(step, Mapping) and not any(kind in step for kind in STEP_KINDS):
            keys = ("steps", name)
            near = next(
                (did_you_mean(str(key), STEP_KINDS, "") for key in step if did_you_mean(str(key), STEP_KINDS, "")),
                "",
            )
            mend = f"{near} Give it one of: {', '.join(STEP_KINDS)}.".strip()
            yield (
                keys,
                Problem(composed.places[keys], "unknown-step-kind", f'step "{name}" is of no known kind', mend),
            )


def _shape_problems(composed: Composed, error: ValidationError, skip: set[KeyPath]) -> Iterator[Problem]:
    for fault in error.errors(include_url=False):
        keys = _without_tag(fault["loc"])
        if keys[:2] not in skip:
            yield _shape_problem(composed, keys, fault)


def _without_tag(loc: tuple[str | int, ...]) -> KeyPath:
    """Drop the name of the union's member, which pydantic puts after the id or number of a step."""
    return (*loc[:2], *loc[3:]) if loc[:1] == ("steps",) and len(loc) > 2 else loc


def _shape_problem(composed: Composed, keys: KeyPath, fault: Any) -> Problem:
    if keys and keys[-1] == "[key]":
        keys = keys[:-1]
        what = f'"{keys[-1]}" is not an id: lower-case words and numbers joined by hyphens'
        return Problem(composed.places[keys], "wrong-value", what, "Rename it.")
    if fault["type"] == "missing":
        around = keys[:-1]
        place = _nearest(composed.places, around)
        inside = f' in "{around[-1]}"' if around else ""
        return Problem(place, "missing-key", f'"{keys[-1]}" is missing{inside}', f'Add "{keys[-1]}:" there.')
    if fault["type"] == "extra_forbidden":
        known = _known_keys(composed, keys)
        what = f'"{keys[-1]}" is not a key that belongs here'
        return Problem(composed.places[keys], "unknown-key", what, did_you_mean(str(keys[-1]), known, "Take it out."))
    what, mend = _wrong_value(str(keys[-1]) if keys else "the file", fault)
    return Problem(_nearest(composed.value_places, keys), "wrong-value", what, mend)


def _nearest(places: Mapping[KeyPath, Place], keys: KeyPath) -> Place:
    while keys not in places:
        keys = keys[:-1]
    return places[keys]


def _known_keys(composed: Composed, keys: KeyPath) -> set[str]:
    """Gather every key of the format; enough for a suggestion."""
    import build_tools.model as model

    records = [each for each in vars(model).values() if isinstance(each, type) and issubclass(each, model.Record)]
    present = composed.value
    for key in keys[:-1]:
        present = present[key]
    return {key_of(name) for record in records for name in record.model_fields} - set(present)


def _wrong_value(name: str, fault: Any) -> tuple[str, str]:
    kind, context, found = fault["type"], fault.get("ctx", {}), fault["input"]
    shown = f'"{found}"' if isinstance(found, str) else str(found).lower() if isinstance(found, bool) else str(found)
    if kind in ("enum", "literal_error"):
        choices = context["expected"].replace("'", "")
        return f"{shown} is not a value of {name}", did_you_mean(
            str(found), choices.replace(" or ", ", ").split(", "), f"Choose {choices}."
        )
    if kind == "string_pattern_mismatch":
        return (
            f"{shown} is not a {_PATTERNS.get(context['pattern'], 'value')} for {name}",
            "Mend its spelling.",
        )
    if kind == "string_type":
        plain = (
            "a list"
            if isinstance(found, tuple)
            else "a mapping"
            if isinstance(found, Mapping)
            else "empty"
            if found is None
            else shown
        )
        return f"{name} must be text, and is {plain}", "Write text; quote a number that is meant as text."
    if kind == "string_too_short":
        return f"{name} is empty", "Write it."
    if kind in ("tuple_type", "too_short"):
        return (
            f"{name} must be a list with at least one item" if kind == "too_short" else f"{name} must be a list",
            "Write one `- item` a line.",
        )
    if kind in ("dict_type", "mapping_type", "model_type", "model_attributes_type"):
        return f"{name} must be a mapping of keys", "Write `key: value` lines below it."
    if kind == "value_error":
        return f"{shown} is not a day for {name}", "Write the day as 2026-11-25."
    said = fault["msg"].removeprefix("Input should be ")
    return f"{name} should be {said}, and is {shown}", "Mend the value."


_PATTERNS = {
    ID_PATTERN: "name in lower-case words joined by hyphens",
    TARGET_PATTERN: "tree or tree/step",
    r"^(0|[1-9]\d*)\.(0|[1-9]\d*)\.(0|[1-9]\d*)$": "version like 1.0.0",
}
