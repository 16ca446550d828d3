"""Source files: a path relative to the project and the text that stands there."""

from __future__ import annotations

import re
import stat
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from build_tools.model.letters import HIDDEN, name_of
from build_tools.model.problems import Place, Problem

LARGEST_BYTES = 1_000_000
LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""Where YAML 1.1, as its parser reads it, breaks a line; Python's own idea of a line differs."""


@dataclass(frozen=True)
class SourceFile:
    """The text of one file, able to quote itself."""

    path: str
    """Relative to the project, with forward slashes."""
    text: str

    @cached_property
    def lines(self) -> list[str]:
        """The lines as the YAML parser counts them."""
        return LINE_BREAK.split(self.text)

    def line(self, number: int) -> str:
        """Give one line by its number from 1; empty past the end."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""

    def place(self, index: int) -> Place:
        """Give the place of a letter by its index in the text."""
        number = bisect_right(self._starts, index)
        return Place(self.path, number, index - self._starts[number - 1] + 1)

    @cached_property
    def _starts(self) -> list[int]:
        return [0, *(found.end() for found in LINE_BREAK.finditer(self.text))]


def not_plain(root: Path, file: Path) -> Problem | None:
    """Refuse what is neither a file nor a folder, and what is reached through a link; nothing where all is plain.

    A link leads past a review, which sees what is in the project; a pipe or device has no end.
    """
    way = file.relative_to(root)
    for place in (*reversed(way.parents), way)[1:]:
        try:
            kind = (root / place).lstat().st_mode
        except FileNotFoundError:
            return None
        if not stat.S_ISREG(kind) and not stat.S_ISDIR(kind):
            what = f"this is a {'link' if stat.S_ISLNK(kind) else 'pipe, socket or device'}, and no file or folder"
            return Problem(Place(place.as_posix(), 1, 1), "not-plain", what, "Put a plain one here, or take it out.")
    return None


def files_below(root: Path, place: Path) -> Iterator[Path | Problem]:
    """Give every file of a folder, and a problem for what is none, without the hidden ones that editors leave."""
    if odd := not_plain(root, place):
        yield odd
    elif place.is_dir():
        for each in sorted(place.iterdir()):
            if not each.name.startswith("."):
                yield from files_below(root, each)
    elif place.exists():
        yield place


def hidden_letters(source: SourceFile) -> Iterator[Problem]:
    """Find the letters of a text that nobody can see: the first of each run."""
    for found in HIDDEN.finditer(source.text):
        if letter := found[0].strip("\r")[:1]:
            yield hidden_letter(source.place(found.start()), letter)


def hidden_letter(place: Place, letter: str) -> Problem:
    """Refuse a letter that nobody can see."""
    return Problem(place, "hidden-letter", f"{name_of(letter)} stands here, which nobody can see", "Take it out.")


def read_source(root: Path, file: Path) -> SourceFile | Problem:
    """Read a file as text, or say why it cannot be read."""
    path = file.relative_to(root).as_posix()
    try:
        if odd := not_plain(root, file):
            return odd
        with file.open("rb") as opened:
            raw = opened.read(LARGEST_BYTES + 1)
        if len(raw) > LARGEST_BYTES:
            return Problem(Place(path, 1, 1), "not-text", "the file is larger than a megabyte", "Split it.")
        return SourceFile(path, raw.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        good = SourceFile(path, error.object[: error.start].decode("utf-8"))
        place = good.place(len(good.text))
        return Problem(place, "not-text", "the text from here on is not UTF-8", "Save the file as UTF-8.")
    except OSError as error:
        what = f"the file cannot be read ({error.strerror})"
        return Problem(Place(path, 1, 1), "not-text", what, "Make it a text file that you may read.")
