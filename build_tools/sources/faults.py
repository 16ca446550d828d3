"""What pydantic objects to in the values of a file, told in an author's words at the place of each."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from pydantic import ValidationError

from build_tools.model import (
    HASH_PATTERN,
    ID_PATTERN,
    STEP_KINDS,
    TARGET_PATTERN,
    VERSION_PATTERN,
    Case,
    Record,
    Remedy,
    Tree,
    key_of,
)
from build_tools.model.problems import KeyPath, Place, Problem, did_you_mean
from build_tools.sources.answers import steps_at
from build_tools.sources.compose import Composed, nearest_place

Fault = Mapping[str, Any]
"""One entry of pydantic's list: its type, loc, input and, for some types, ctx."""

LONGEST_QUOTE = 60
UNION_TAGS = (*STEP_KINDS, "do")
"""What pydantic writes after the id or number of a step, and no author wrote."""
PATTERNS = {
    ID_PATTERN: "lower-case words joined by hyphens",
    TARGET_PATTERN: "tree or tree/step, in lower-case words joined by hyphens",
    VERSION_PATTERN: "a version like 1.0.0",
    HASH_PATTERN: "16 of the letters 0-9 and a-f, as `record` or `review` gives it",
}
FOLDERS: Mapping[type[Record], str] = {Tree: "trees/", Remedy: "trees/remedies/", Case: "trees/cases/"}
"""Where each kind of file lies of which there are many."""
EXPECTED = {
    "string_type": ("text", "Write text; a number or `true` that is meant as text stands in quotes."),
    "string_too_short": ("text", "Write it."),
    "tuple_type": ("a list", "Write one `- item` a line."),
    "dict_type": ("keys with values", "Write `key: value` lines below it."),
    "model_type": ("keys with values", "Write `key: value` lines below it."),
    "int_type": ("a whole number", "Write it in digits, without a unit."),
    "int_from_float": ("a whole number", "Write it in digits, without a unit."),
    "float_type": ("a number", "Write it in digits, without a unit."),
    "date_type": ("a day like 2026-11-25", "Write year, month and day."),
    "value_error": ("a day like 2026-11-25", "Write year, month and day."),
}
"""By pydantic's type: what was expected, and how to mend it."""


def shape_problems(composed: Composed, error: ValidationError) -> Iterator[Problem]:
    """Give each fault of shape once, at its place; of a file in the wrong folder only that. One at least is given."""
    misplaced = tuple(_misplaced(composed, error.title))
    faults: list[Fault] = [*error.errors(include_url=False)]
    told = iter(misplaced or _told_once(composed, faults))
    yield next(told, None) or _wrong_value(composed, _keys(composed, faults[0]), faults[:1])
    yield from told


def _misplaced(composed: Composed, title: str) -> Iterator[Problem]:
    """Tell of a tree, remedy or stated case that lies in the folder of another kind."""
    keys = set(composed.value)
    likeness = {each: len(keys & set(map(key_of, each.model_fields))) for each in FOLDERS}
    title = title.removeprefix("function-after[whole_tree(), Written").removesuffix("]")
    likest = max(FOLDERS, key=lambda each: (likeness[each], each.__name__ == title))
    if title in {each.__name__ for each in FOLDERS} and likest.__name__ != title:
        what = f"this looks like a {likest.__name__.lower()}, and lies where each file is a {title.lower()}"
        mend = f"Move it to {FOLDERS[likest]}."
        yield Problem(Place(composed.places[()].path, 1, 1), "unexpected-file", what, mend)


def _told_once(composed: Composed, faults: Sequence[Fault]) -> Iterator[Problem]:
    unkind = set(_steps_of_no_kind(composed))
    level = _left_level({_keys(composed, each) for each in faults if each["type"] == "extra_forbidden"}, composed.value)
    yield from (_of_no_kind(composed, keys) for keys in composed.places if keys in unkind)
    yield from (_not_indented(composed, above, below) for above, below in level.items())
    settled = {*level, *(keys for below in level.values() for keys in below)}
    settled |= _short_for_their_items(composed, faults)
    grouped: dict[tuple[str, KeyPath], list[Fault]] = defaultdict(list)
    for fault in faults:
        keys = _keys(composed, fault)
        if unkind.isdisjoint((keys[:2], keys[:4])) and keys not in settled:
            grouped[_group(fault), keys].append(fault)
    for (group, keys), together in grouped.items():
        yield _TOLD[group](composed, keys, together)


def _short_for_their_items(composed: Composed, faults: Sequence[Fault]) -> set[KeyPath]:
    """Find what is called too short only because pydantic counts what is left of it without the items at fault."""
    items = [_keys(composed, each) for each in faults if each["type"] != "too_short"]
    around = {keys[:length] for keys in items for length in range(len(keys))}
    return around.intersection(_keys(composed, each) for each in faults if each["type"] == "too_short")


def _left_level(unknown: set[KeyPath], value: Any) -> Mapping[KeyPath, list[KeyPath]]:
    """Find the unknown keys that follow a key without a value, and so were meant to stand indented below it."""
    found: dict[KeyPath, list[KeyPath]] = defaultdict(list)
    for around in {keys[:-1] for keys in unknown}:
        above: KeyPath = ()
        for key, inner in _at(value, around).items():
            keys = (*around, key)
            if keys not in unknown:
                above = keys if inner is None else ()
            elif above:
                found[above].append(keys)
    return found


def _at(value: Any, keys: KeyPath) -> Any:
    for key in keys:
        value = value[key]
    return value


def _not_indented(composed: Composed, above: KeyPath, below: Sequence[KeyPath]) -> Problem:
    what = f"{_name(above)} is empty, for what follows is not indented below it"
    mend = f"Indent {_all([_name(each) for each in below])}, with all that belongs there."
    return Problem(composed.places[above], "wrong-value", what, mend)


def _steps_of_no_kind(composed: Composed) -> Iterator[KeyPath]:
    for keys, step in steps_at(composed.value):
        if not any(kind in step for kind in STEP_KINDS):
            yield keys


def _of_no_kind(composed: Composed, keys: KeyPath) -> Problem:
    step = _at(composed.value, keys)
    near = next((each for key in step if (each := did_you_mean(key, STEP_KINDS, ""))), "")
    mend = f"{near} Give it one of the keys {', '.join(STEP_KINDS)}.".strip()
    return Problem(composed.places[keys], "unknown-step-kind", f'step "{keys[-1]}" is of no known kind', mend)


def _keys(composed: Composed, fault: Fault) -> KeyPath:
    """Give the keys of the value at fault, without the names that pydantic gives to members of a union."""
    loc: KeyPath = fault["loc"]
    at = 2 if loc[:1] == ("parts",) else 0
    if loc[at : at + 1] == ("steps",) and len(loc) > at + 2 and loc[at + 2] in UNION_TAGS:
        loc = (*loc[: at + 2], *loc[at + 3 :])
    keys: KeyPath = ()
    for key in loc:
        if (*keys, key) in composed.places:
            keys = (*keys, key)
    return keys


def _group(fault: Fault) -> str:
    if fault["type"] in ("missing", "extra_forbidden"):
        return str(fault["type"])
    return "id" if fault["loc"][-1:] == ("[key]",) else "value"


def _missing(composed: Composed, keys: KeyPath, faults: list[Fault]) -> Problem:
    names = [str(each["loc"][-1]) for each in faults]
    inside = f" in {_name(keys)}" if keys else ""
    what = f"{_all([_name((each,)) for each in names])} {'is' if len(names) == 1 else 'are'} missing{inside}"
    mend = f"Add {_all([f'`{each}:`' for each in names])} there."
    return Problem(nearest_place(composed.places, keys), "missing-key", what, mend)


def _unknown_key(composed: Composed, keys: KeyPath, faults: list[Fault]) -> Problem:
    near = did_you_mean(str(keys[-1]), _known_keys(_at(composed.value, keys[:-1])), "")
    what = f'"{keys[-1]}" is not a key that belongs here'
    return Problem(composed.places[keys], "unknown-key", what, near or _or_move(keys, faults[0]["input"]))


def _or_move(keys: KeyPath, value: Any) -> str:
    """Say what to do with a key that is like no other: most often its text is wanted, and stands elsewhere."""
    if len(keys) == 1 and isinstance(value, Mapping) and any(kind in value for kind in STEP_KINDS):
        return "It looks like a step: indent it below `steps:`."
    if keys[-2:] and isinstance(keys[-2:][0], int):
        return "Take it out, or begin a new item with it: put `- ` before it."
    return "Take it out."


def _known_keys(present: Mapping[str, Any]) -> list[str]:
    """Give the keys that could still be added, of the kinds of record that these keys look most like."""
    # Counted by the few keys that a kind has, and not by those that are there: a file may hold thousands.
    counts = {keys: sum(key in present for key in keys) for keys in _keys_of_kinds()}
    most = max(1, *counts.values())
    likest = [key for keys, count in counts.items() if count == most for key in keys]
    return [key for key in dict.fromkeys(likest) if key not in present]


@cache
def _keys_of_kinds() -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(key_of(name) for name in kind.model_fields) for kind in _kinds(Record))


def _kinds(kind: type[Record]) -> Iterator[type[Record]]:
    for each in kind.__subclasses__():
        yield each
        yield from _kinds(each)


def _no_id(composed: Composed, keys: KeyPath, faults: list[Fault]) -> Problem:
    what = f'"{keys[-1]}" is not an id: {PATTERNS[ID_PATTERN]}'
    return Problem(composed.places[keys], "wrong-value", what, _as_id(str(keys[-1]), ID_PATTERN) or "Rename it.")


def _as_id(written: str, pattern: str) -> str:
    """Suggest the id that was meant: in small letters, with hyphens for blanks and dashes, without quotes."""
    meant = re.sub(r"[\s_‐-―-]+", "-", written.strip(" \t\"'`‘’“”„«»").lower())
    return f'Write "{meant}".' if pattern in (ID_PATTERN, TARGET_PATTERN) and re.fullmatch(pattern, meant) else ""


def _wrong_value(composed: Composed, keys: KeyPath, faults: list[Fault]) -> Problem:
    found = faults[0]["input"]
    choices = [choice for each in faults for choice in _choices(each)]
    expected, mend = (_either(choices), "Choose one of these.") if choices else _expected(faults)
    near = did_you_mean(found, choices, "") if isinstance(found, str) else ""
    # A list or keys with values begin on a later line than the key that is wrong.
    places = composed.places if isinstance(found, tuple | Mapping) else composed.value_places
    what = f"{_name(keys)} is {_shown(found)}; it must be {expected}"
    return Problem(nearest_place(places, keys), "wrong-value", what, near or mend)


def _choices(fault: Fault) -> list[str]:
    """Read the values of an enumeration, which pydantic gives as 'a', 'b' or 'c'."""
    listed = fault["ctx"]["expected"] if fault["type"] in ("enum", "literal_error") else ""
    return [each.strip("'") for each in listed.replace(" or ", ", ").split(", ") if each]


def _either(words: Sequence[str], last: str = " or ") -> str:
    return last.join(filter(None, (", ".join(words[:-1]), words[-1])))


def _all(words: Sequence[str]) -> str:
    return _either(words, " and ")


def _expected(faults: list[Fault]) -> tuple[str, str]:
    """Say what any of the faults expected, and how to mend it."""
    said = [_asked(each) for each in faults]
    return _either(list(dict.fromkeys(expected for expected, _ in said))), said[0][1]


def _asked(fault: Fault) -> tuple[str, str]:
    kind, context = fault["type"], fault.get("ctx", {})
    if kind == "string_type" and fault["input"] is None:
        kind = "string_too_short"
    if kind == "string_type" and isinstance(fault["input"], tuple | Mapping):
        return "text", "Write one text in its place; long text stands under `>-`."
    if kind == "string_pattern_mismatch":
        suggested = _as_id(fault["input"], context["pattern"])
        return PATTERNS[context["pattern"]], suggested or "Correct the spelling."
    if kind == "model_type" and fault["input"] is not None:
        return EXPECTED[kind][0], f"Write keys with values in its place; it needs {_needed(context['class_name'])}."
    if kind == "string_too_long":
        return f"a text of at most {context['max_length']} letters", "Say it shorter."
    if kind == "too_short":
        least = context["min_length"]
        return f"a list of {'at least ' if least > 1 else ''}{least} item{'s' if least > 1 else ' or more'}", "Add it."
    if kind == "too_long" and context["max_length"] == 1:
        return "one key with its value", "Begin a new item with what follows: put `- ` before it."
    if kind == "too_long":
        return f"at most {context['max_length']} items", "Take some out."
    if kind == "greater_than_equal":
        return f"at least {context['ge']}", "Correct the number."
    if kind == "less_than_equal":
        return f"at most {context['le']}", "Correct the number."
    return EXPECTED.get(kind) or (str(fault["msg"]).removeprefix("Input should be "), "Correct the value.")


def _needed(class_name: str) -> str:
    kind = next(each for each in _kinds(Record) if each.__name__ == class_name)
    return _all([f"`{key_of(name)}:`" for name, each in kind.model_fields.items() if each.is_required()])


def _name(keys: KeyPath) -> str:
    """Name a value as its author would: by its key, or by its number in a list."""
    if keys and isinstance(keys[-1], int):
        return f'item {keys[-1] + 1} of "{keys[-2]}"'
    return f'"{keys[-1]}"' if keys else "the file"


def _shown(value: object) -> str:
    if value is None or value == "":
        return "empty"
    if isinstance(value, str):
        text = " ".join(value.split())
        return f'"{text[:LONGEST_QUOTE]} …"' if len(text) > LONGEST_QUOTE else f'"{text}"'
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, tuple):
        return "a list"
    return "keys with values" if isinstance(value, Mapping) else f"the number {value}"


_TOLD = {"missing": _missing, "extra_forbidden": _unknown_key, "id": _no_id, "value": _wrong_value}
