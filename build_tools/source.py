"""Source files: a path relative to the project and the text that stands there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from stat import S_ISREG

from build_tools.problems import Place, Problem

LARGEST_BYTES = 1_000_000
LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""Where YAML 1.1, as its parser reads it, breaks a line; Python's own idea of a line differs."""


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The text of one file, able to quote itself."""

    path: str
    """Relative to the project, with forward slashes."""
    text: str

    def lines(self) -> tuple[str, ...]:
        """Give the lines as the YAML parser counts them."""
        return _lines(self.text)

    def line(self, number: int) -> str:
        """Give one line by its number from 1; empty past the end."""
        lines = self.lines()
        return lines[number - 1] if 0 < number <= len(lines) else ""

    def place(self, index: int) -> Place:
        """Give the place of a letter by its index in the text."""
        before = LINE_BREAK.split(self.text[:index])
        return Place(self.path, len(before), len(before[-1]) + 1)


@lru_cache(maxsize=16)
def _lines(text: str) -> tuple[str, ...]:
    """Split a text once, however many of its lines are asked for one after the other."""
    return tuple(LINE_BREAK.split(text))


def read_source(root: Path, file: Path) -> SourceFile | Problem:
    """Read a file as text, or say why it cannot be read."""
    path = file.relative_to(root).as_posix()
    try:
        # Looked at before it is opened: a pipe may never end, and a link may lead to one.
        about = file.stat()
        if not S_ISREG(about.st_mode):
            return Problem(Place(path, 1, 1), "not-text", "this is not a plain file", "Put a text file in its place.")
        if about.st_size > LARGEST_BYTES:
            return Problem(Place(path, 1, 1), "not-text", "the file is larger than a megabyte", "Split it.")
        return SourceFile(path, file.read_bytes().decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        good = SourceFile(path, error.object[: error.start].decode("utf-8"))
        place = good.place(len(good.text))
        return Problem(place, "not-text", "the text from here on is not UTF-8", "Save the file as UTF-8.")
    except OSError as error:
        what = f"the file cannot be read ({error.strerror})"
        return Problem(Place(path, 1, 1), "not-text", what, "Make it a text file that you may read.")
