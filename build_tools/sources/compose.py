"""YAML text to plain values, each with its place: mappings, tuples, text, numbers, true and false.

Values are built from parser events, with depth and size bounded as the events come, because the C
composer can crash on deep nesting. Plain `yes` and `no` stay text, as in YAML 1.2; dates stay text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

import yaml

from build_tools.model.problems import KeyPath, Place, Problem
from build_tools.sources.slips import slip_problem
from build_tools.sources.source import SourceFile

DEEPEST = 12
MOST_VALUES = 50_000
MOST_PROBLEMS = 100
"""So many are told of one file: nobody reads more before mending some, and each takes time to tell."""
_INTEGER = re.compile(r"-?(0|[1-9][0-9]*)")
_DECIMAL = re.compile(r"-?(0|[1-9][0-9]*)\.[0-9]+")
_NUMBERS_BEGIN = frozenset("-0123456789")
_WORDS: Mapping[str, bool | None] = {"true": True, "false": False, "": None, "~": None, "null": None}
_COMMENT = re.compile(r"\s+#")
_PARSER = getattr(yaml, "CLoader", yaml.Loader)


class Places(Mapping[KeyPath, Place]):
    """Places by keys, each made from the parser's own mark when it is asked for: hardly any ever is."""

    def __init__(self, path: str, marks: Mapping[KeyPath, Any]) -> None:
        self._path = path
        self._marks = marks

    def __getitem__(self, keys: KeyPath) -> Place:
        """Give a place; KeyError where nothing has these keys."""
        return _place(self._path, self._marks[keys])

    def __contains__(self, keys: object) -> bool:
        """Tell whether anything has these keys."""
        return keys in self._marks

    def __iter__(self) -> Iterator[KeyPath]:
        """Give all keys, in the order of the file."""
        return iter(self._marks)

    def __len__(self) -> int:
        """Count the places."""
        return len(self._marks)


def _place(path: str, mark: Any) -> Place:
    return Place(path, mark.line + 1, mark.column + 1)


@dataclass(frozen=True, slots=True)
class Composed:
    """What a file says: its value, and the place of every key and value in it."""

    value: Any
    places: Places
    """A mapping's entry is placed at its key, a list's at its value."""
    value_places: Places


def nearest_place(places: Mapping[KeyPath, Place], keys: KeyPath) -> Place:
    """Give the place of a value, or of the nearest value around it."""
    while keys not in places:
        keys = keys[:-1]
    return places[keys]


def at_most(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Give the first problems of a file, and say at the next one that there are more."""
    told = iter(problems)
    yield from islice(told, MOST_PROBLEMS)
    for more in islice(told, 1):
        what = f"this is wrong too, and nothing was told after the first {MOST_PROBLEMS} problems of this file"
        yield Problem(more.place, "too-many-problems", what, "Mend those first, then check again.")


class _Stop(Exception):
    """The rest of the file cannot be read; the problem is already noted."""


@dataclass(slots=True)
class _Composer:
    """Reads each of a file's many thousand events, so what is rare is asked for once and first."""

    source: SourceFile
    lines: list[str]
    events: Iterator[Any]
    problems: list[Problem] = field(default_factory=list)
    marks: dict[KeyPath, Any] = field(default_factory=dict)
    value_marks: dict[KeyPath, Any] = field(default_factory=dict)
    count: int = 0

    def tell(self, code: str, mark: Any, what: str, mend: str) -> None:
        self.problems.append(Problem(_place(self.source.path, mark), code, what, mend))
        if len(self.problems) > MOST_PROBLEMS:
            raise _Stop

    def value(self, event: Any, keys: KeyPath) -> Any:
        mark = event.start_mark
        self.value_marks[keys] = mark
        self.marks.setdefault(keys, mark)
        self.count += 1
        if len(keys) > DEEPEST or self.count > MOST_VALUES:
            self.refuse_size(mark, keys)
        if event.anchor is not None:
            self.refuse_sharing(event)
        kind = type(event)
        if kind is yaml.AliasEvent:
            return None
        if event.tag is not None:
            self.refuse_tag(event)
        if kind is yaml.ScalarEvent:
            return event.value if event.style else self.plain(event)
        return self.mapping(keys, event.flow_style) if kind is yaml.MappingStartEvent else self.sequence(keys)

    def refuse_sharing(self, event: Any) -> None:
        kind = "alias" if isinstance(event, yaml.AliasEvent) else "anchor"
        mend = "Write the value out, or give it an id."
        self.tell("anchor", event.start_mark, f'{kind} "{event.anchor}" is not allowed here', mend)

    def refuse_tag(self, event: Any) -> None:
        written = event.tag.replace("tag:yaml.org,2002:", "!!")
        self.tell("tag", event.start_mark, f'tag "{written}" is not allowed here', "Leave the tag out.")

    def refuse_loose_text(self, event: Any) -> None:
        """Tell of text between brackets without a key: a comma has ended the text before it."""
        what = f'"{event.value}" stands between brackets and has no key, for a comma ends the text before it'
        mend = "Put the whole text in quotes, or write one `key: value` a line below."
        self.tell("not-yaml", event.start_mark, what, mend)
        raise _Stop

    def refuse_size(self, mark: Any, keys: KeyPath) -> None:
        if len(keys) > DEEPEST:
            self.tell("too-deep-nesting", mark, f"values nest deeper than {DEEPEST}", "Flatten it.")
        else:
            self.tell("too-many-values", mark, f"more than {MOST_VALUES:,} values in one file", "Split the file.")
        raise _Stop

    def plain(self, event: Any) -> Any:
        """Read a value that stands without quotes."""
        text: str = event.value
        if text in _WORDS:
            return _WORDS[text]
        if text[0] in _NUMBERS_BEGIN:
            if len(text) < 16 and _INTEGER.fullmatch(text):
                return int(text)
            if len(text) < 24 and _DECIMAL.fullmatch(text):
                return float(text)
        self.warn_of_swallowed_text(event.end_mark)
        return text

    def warn_of_swallowed_text(self, mark: Any) -> None:
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        if _COMMENT.match(line, mark.column):
            what = f'"{line[mark.column :].strip()}" is a comment, and no reader will see it'
            mend = "Quote the text or write it under `>-`; put comments on their own line."
            self.tell("swallowed-text", mark, what, mend)

    def sequence(self, keys: KeyPath) -> tuple[Any, ...]:
        items: list[Any] = []
        for event in self.events:
            if type(event) is yaml.SequenceEndEvent:
                break
            items.append(self.value(event, (*keys, len(items))))
        return tuple(items)

    def mapping(self, keys: KeyPath, is_flow: bool) -> dict[str, Any]:
        found: dict[str, Any] = {}
        events = self.events
        for event in events:
            if type(event) is yaml.MappingEndEvent:
                break
            key = self.key(event)
            path: KeyPath = (*keys, key)
            if key in found:
                self.tell_again(event, path)
                path = (*keys, f"{key} (again)")
            self.marks[path] = event.start_mark
            inner = next(events)
            if is_flow and type(inner) is yaml.ScalarEvent and not inner.value and not inner.style:
                self.refuse_loose_text(event)
            value = self.value(inner, path)
            found.setdefault(key, value)
        return found

    def tell_again(self, event: Any, path: KeyPath) -> None:
        what = f'"{path[-1]}" stands here again; it first stands on line {self.marks[path].line + 1}'
        self.tell("duplicate-key", event.start_mark, what, "Keep one.")

    def key(self, event: Any) -> str:
        if type(event) is not yaml.ScalarEvent or event.anchor is not None or event.tag is not None:
            self.refuse_key(event)
        name = str(event.value)
        if name == "<<" and not event.style:
            self.tell("merge-key", event.start_mark, "a merge key is not allowed", "Write the values out.")
        if not name:
            self.tell("key-not-text", event.start_mark, "a key here is empty", "Write the key as one word.")
        return name

    def refuse_key(self, event: Any) -> None:
        """Tell what is wrong with a key; nothing more can be read where it is no word."""
        if event.anchor is not None:
            self.refuse_sharing(event)
        if isinstance(event, yaml.AliasEvent):
            raise _Stop
        if event.tag is not None:
            self.refuse_tag(event)
        if not isinstance(event, yaml.ScalarEvent):
            mend = "Write the key as one word."
            self.tell("key-not-text", event.start_mark, "a key here is a list or mapping", mend)
            raise _Stop


def compose(source: SourceFile) -> tuple[Composed | None, tuple[Problem, ...]]:
    """Read one file's YAML. Returns no value when the text cannot be read to its end."""
    composer = _Composer(source, source.lines, iter(()))
    try:
        composer.events = iter(yaml.parse(source.text, Loader=_PARSER))
        value = _only_document(composer)
    except yaml.YAMLError as error:
        composer.problems.append(slip_problem(source, error))
        return None, tuple(at_most(composer.problems))
    except _Stop:
        return None, tuple(at_most(composer.problems))
    path = source.path
    return Composed(value, Places(path, composer.marks), Places(path, composer.value_marks)), tuple(composer.problems)


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
