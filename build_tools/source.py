"""Source files: a path relative to the project and the text that stands there."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from build_tools.problems import Place, Problem

LARGEST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The text of one file, able to quote itself."""

    path: str
    """Relative to the project, with forward slashes."""
    text: str

    def line(self, number: int) -> str:
        """Give one line by its number from 1; empty past the end."""
        lines = self.text.splitlines()
        return lines[number - 1] if 0 < number <= len(lines) else ""


def read_source(root: Path, file: Path) -> SourceFile | Problem:
    """Read a file as text, or say why it cannot be read."""
    path = file.relative_to(root).as_posix()
    try:
        raw = file.read_bytes()
        if len(raw) > LARGEST_BYTES:
            return Problem(Place(path, 1, 1), "not-text", "the file is larger than a megabyte", "Split it.")
        return SourceFile(path, raw.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        return Problem(Place(path, line, column), "not-text", "this is not UTF-8 text", "Save the file as UTF-8.")
    except OSError as error:
        return Problem(Place(path, 1, 1), "not-text", f"the file cannot be read ({error.strerror})", "Mend its rights.")
