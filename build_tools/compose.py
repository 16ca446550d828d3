"""YAML text to plain values, each with its place: mappings, tuples, text, numbers, true and false.

Values are built from parser events, with depth and size bounded as the events come, because the C
composer can crash on deep nesting. Plain `yes` and `no` stay text, as in YAML 1.2; dates stay text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import yaml

from build_tools.problems import KeyPath, Place, Problem
from build_tools.slips import slip_problem
from build_tools.source import SourceFile

DEEPEST = 12
MOST_VALUES = 50_000
_INTEGER = re.compile(r"-?(0|[1-9][0-9]*)")
_DECIMAL = re.compile(r"-?(0|[1-9][0-9]*)\.[0-9]+")
_PARSER = getattr(yaml, "CLoader", yaml.Loader)


@dataclass(frozen=True, slots=True)
class Composed:
    """What a file says: its value, and the place of every key and value in it."""

    value: Any
    places: Mapping[KeyPath, Place]
    """A mapping's entry is placed at its key, a list's at its value."""
    value_places: Mapping[KeyPath, Place]


def nearest_place(places: Mapping[KeyPath, Place], keys: KeyPath) -> Place:
    """Give the place of a value, or of the nearest value around it."""
    while keys not in places:
        keys = keys[:-1]
    return places[keys]


class _Stop(Exception):
    """The rest of the file cannot be read; the problem is already noted."""


@dataclass
class _Composer:
    source: SourceFile
    lines: list[str]
    events: Iterator[Any]
    problems: list[Problem] = field(default_factory=list)
    places: dict[KeyPath, Place] = field(default_factory=dict)
    value_places: dict[KeyPath, Place] = field(default_factory=dict)
    count: int = 0

    def place(self, mark: Any) -> Place:
        return Place(self.source.path, mark.line + 1, mark.column + 1)

    def tell(self, code: str, mark: Any, what: str, mend: str) -> None:
        self.problems.append(Problem(self.place(mark), code, what, mend))

    def value(self, event: Any, keys: KeyPath) -> Any:
        self.value_places[keys] = self.place(event.start_mark)
        self.places.setdefault(keys, self.value_places[keys])
        self.refuse_sharing(event)
        self.refuse_brackets(event)
        self.bound(event, keys)
        if isinstance(event, yaml.ScalarEvent):
            return self.scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(keys)
        if isinstance(event, yaml.MappingStartEvent):
            return self.mapping(keys)
        return None

    def refuse_sharing(self, event: Any) -> None:
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            name = f'"{event.anchor}"'
            kind = "alias" if isinstance(event, yaml.AliasEvent) else "anchor"
            self.tell(
                "anchor",
                event.start_mark,
                f"{kind} {name} is not allowed here",
                "Write the value out, or give it an id.",
            )
        if getattr(event, "tag", None):
            written = event.tag.replace("tag:yaml.org,2002:", "!!")
            self.tell("tag", event.start_mark, f'tag "{written}" is not allowed here', "Leave the tag out.")

    def refuse_brackets(self, event: Any) -> None:
        if getattr(event, "flow_style", False):
            what = "values in brackets stand here"
            mend = "Write one `- item` or `key: value` a line below the key; quote text that begins with a bracket."
            self.tell("not-yaml", event.start_mark, what, mend)
            raise _Stop

    def bound(self, event: Any, keys: KeyPath) -> None:
        self.count += 1
        if len(keys) > DEEPEST:
            self.tell("too-deep-nesting", event.start_mark, f"values nest deeper than {DEEPEST}", "Flatten it.")
            raise _Stop
        if self.count > MOST_VALUES:
            self.tell(
                "too-many-values",
                event.start_mark,
                f"more than {MOST_VALUES:,} values in one file",
                "Split the file.",
            )
            raise _Stop

    def scalar(self, event: Any) -> Any:
        text: str = event.value
        if event.style:
            return text
        if text in ("true", "false"):
            return text == "true"
        if text in ("", "~", "null"):
            return None
        if _INTEGER.fullmatch(text) and len(text) < 16:
            return int(text)
        if _DECIMAL.fullmatch(text) and len(text) < 24:
            return float(text)
        self.warn_of_swallowed_text(event)
        return text

    def warn_of_swallowed_text(self, event: Any) -> None:
        mark = event.end_mark
        rest = self.lines[mark.line][mark.column :] if mark.line < len(self.lines) else ""
        if re.match(r"\s+#", rest):
            what = f'"{rest.strip()}" is a comment, and no reader will see it'
            self.tell(
                "swallowed-text",
                mark,
                what,
                "Quote the text or write it under `>-`; put comments on their own line.",
            )

    def sequence(self, keys: KeyPath) -> tuple[Any, ...]:
        items: list[Any] = []
        for event in self.events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self.value(event, (*keys, len(items))))
        return tuple(items)

    def mapping(self, keys: KeyPath) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for event in self.events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            key = self.key(event, keys)
            path = (*keys, key)
            if key in found:
                first = self.places[path].line
                self.tell(
                    "duplicate-key",
                    event.start_mark,
                    f'"{key}" stands here again; it first stands on line {first}',
                    "Keep one.",
                )
                path = (*keys, f"{key} (again)")
            self.places[path] = self.place(event.start_mark)
            value = self.value(next(self.events), path)
            found.setdefault(key, value)
        return found

    def key(self, event: Any, keys: KeyPath) -> str:
        self.refuse_sharing(event)
        if isinstance(event, yaml.AliasEvent):
            raise _Stop
        if not isinstance(event, yaml.ScalarEvent):
            self.tell(
                "key-not-text",
                event.start_mark,
                "a key here is a list or mapping",
                "Write the key as one word.",
            )
            raise _Stop
        if event.value == "<<" and not event.style:
            self.tell("merge-key", event.start_mark, "a merge key is not allowed", "Write the values out.")
        if not event.value:
            self.tell("key-not-text", event.start_mark, "a key here is empty", "Write the key as one word.")
        return str(event.value)


def compose(source: SourceFile) -> tuple[Composed | None, tuple[Problem, ...]]:
    """Read one file's YAML. Returns no value when the text cannot be read to its end."""
    composer = _Composer(source, source.lines(), iter(()))
    try:
        composer.events = iter(yaml.parse(source.text, Loader=_PARSER))
        value = _only_document(composer)
    except yaml.YAMLError as error:
        composer.problems.append(slip_problem(source, error))
        return None, tuple(composer.problems)
    except _Stop:
        return None, tuple(composer.problems)
    return Composed(value, composer.places, composer.value_places), tuple(composer.problems)


def _only_document(composer: _Composer) -> Any:
    value: Any = None
    seen = False
    for event in composer.events:
        if isinstance(event, yaml.DocumentStartEvent):
            if seen:
                composer.tell(
                    "not-yaml", event.start_mark, "a second document begins here", "Keep one document a file."
                )
                raise _Stop
            seen = True
        elif isinstance(event, yaml.ScalarEvent | yaml.SequenceStartEvent | yaml.MappingStartEvent | yaml.AliasEvent):
            value = composer.value(event, ())
    return value
