"""What the YAML parser objects to in the text of a file, told in an author's words where the slip was made."""

from __future__ import annotations

import re

import yaml

from build_tools.model.problems import Place, Problem
from build_tools.sources.source import SourceFile

_NO_COLON = (
    "this line has no colon, so it is neither a key nor part of the text above",
    "Write `key: value`, or indent it below its key.",
)
_SLIPS = (
    # What the parser says | where the fault is: at the problem or at its context | what | mend
    (
        "mapping values are not allowed",
        "problem",
        "a key cannot begin here, so this colon has no meaning",
        "Write prose with a colon under `>-`; line a key up with the keys around it.",
    ),
    ("found unexpected end of stream", "context", "the quote that opens here is never closed", "Close it."),
    ("could not find expected ':'", "context", *_NO_COLON),
    ("violates indentation", "problem", "a tab stands where spaces should", "Indent with spaces."),
    (
        "block sequence entries are not allowed",
        "problem",
        "a list cannot begin on the line of its key",
        "Write each `- item` on a line of its own below the key.",
    ),
    (
        "unknown escape character",
        "problem",
        "a backslash between double quotes begins an escape that does not exist",
        "Use single quotes, or write the text under `>-`.",
    ),
    (
        "expected comment or line break",
        "problem",
        "text stands on the line of `>-` or `|`",
        "Begin it on the next line, indented.",
    ),
    ("expected <document start>", "problem", "text stands after the end mark `...`", "Take the end mark out."),
    *(
        (
            f"did not find expected ',' or '{end}'",
            "problem",
            "a text between brackets breaks off here",
            "Put a text with brackets, commas, colons or quotes in quotes, or write one `key: value` a line below.",
        )
        for end in "]}"
    ),
    (
        "did not find expected",
        "problem",
        "the indentation or quoting breaks off here",
        "Line the keys up; write prose, and text with quotes in it, under `>-`.",
    ),
)
"""The common slips of authors, and the parser's own words by which each is known; the first that fits speaks."""


def slip_problem(source: SourceFile, error: yaml.YAMLError) -> Problem:
    """Tell of the slip by which the text stops being YAML, at its own place as far as that can be found."""
    if isinstance(error, yaml.reader.ReaderError):
        # The parser gives a byte's position; the letter itself is surer. It is a number, or text in pure Python.
        letter = error.character if isinstance(error.character, str) else chr(error.character)
        what = f"the character U+{ord(letter):04X} is not allowed in YAML"
        return Problem(source.place(source.text.find(letter)), "not-yaml", what, "Take it out.")
    said = str(getattr(error, "problem", None) or "the text cannot be read")
    slip = next((each for each in _SLIPS if each[0] in said), None)
    place = _place(source, error, slip[1] if slip else "problem")
    if hidden := _hidden_cause(source, place):
        return hidden
    if getattr(error, "context", None) in ("while scanning an alias", "while scanning an anchor"):
        return _odd_beginning(source, _place(source, error, "context"))
    opened = _OPENED.match(source.line(place.line))
    if opened and "did not find expected" in said and "',' or" not in said:
        return _odd_beginning(source, Place(source.path, place.line, opened.end() + 1))
    if slip:
        return Problem(place, "not-yaml", slip[2], slip[3])
    if "cannot start any token" in said:
        return _odd_beginning(source, place)
    return Problem(place, "not-yaml", f"this is not YAML: {said}", "Correct the text at or above this place.")


def _place(source: SourceFile, error: yaml.YAMLError, which: str) -> Place:
    """Give the place of the parser's `problem` or of its `context`."""
    mark = getattr(error, f"{which}_mark", None) or getattr(error, "context_mark", None)
    return Place(source.path, mark.line + 1, mark.column + 1) if mark else Place(source.path, 1, 1)


_OPENED = re.compile(r"[ \t]*(?:- )?[a-z-]+: +(?=[\[{])")
_HARD_BLANK = re.compile(r"^[ \t]*(?=[\u00a0\u2007\u202f])|^[ \t]*[^\s:]+:(?=[\u00a0\u2007\u202f])")
_NO_BLANK_AFTER_COLON = re.compile(r"[ \t]*(- )?[a-z-]+:(?=[^\s:])")


def _hidden_cause(source: SourceFile, place: Place) -> Problem | None:
    """Find what cannot be seen, or stands a line higher than where the parser stumbles over it."""
    here, above = source.line(place.line), source.line(place.line - 1)
    for number, line in ((place.line - 1, above), (place.line, here)):
        if found := _HARD_BLANK.match(line):
            what = "a hard blank stands here, which looks like a blank and is none"
            return Problem(Place(source.path, number, found.end() + 1), "not-yaml", what, "Type a plain blank instead.")
    if found := _NO_BLANK_AFTER_COLON.match(here):
        what = "no blank follows this colon, so it is no key"
        return Problem(Place(source.path, place.line, found.end()), "not-yaml", what, "Write `key: value`.")
    prose = above.lstrip()
    indent = len(above) - len(prose)
    is_level = prose and indent == len(here) - len(here.lstrip())
    if is_level and ":" not in prose and here[place.column - 1 :].startswith(":"):
        return Problem(Place(source.path, place.line - 1, indent + 1), "not-yaml", *_NO_COLON)
    return None


def _odd_beginning(source: SourceFile, place: Place) -> Problem:
    letter = source.line(place.line)[place.column - 1 : place.column]
    if letter == "\t":
        return Problem(place, "not-yaml", "a tab stands where spaces should", "Indent with spaces.")
    what = f"a text cannot begin with {letter} unless it is quoted"
    return Problem(place, "not-yaml", what, "Quote it, or write it under `>-`.")
