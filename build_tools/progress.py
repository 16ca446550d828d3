"""What long work says while it goes on: one line on a terminal that is written over, and nothing elsewhere."""

from __future__ import annotations

import re
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TextIO

from build_tools.model.letters import visible

Tell = Callable[[str], None]
"""Takes a few words on what is being done; work calls it as often as it likes."""
SECONDS_BETWEEN = 0.1
"""No eye follows more."""
NUMBER = re.compile(r"\d+")
CLEAR = "\r\x1b[K"
"""Back to the beginning of the line, and erase it (ECMA-48, EL)."""


def silent(words: str) -> None:
    """Say nothing."""


@contextmanager
def progress(stream: TextIO) -> Iterator[Tell]:
    """Give what tells of progress on a stream; the line is gone when the work is done, or stopped."""
    if not stream.isatty():
        yield silent
        return
    line = _Line(stream)
    try:
        yield line.tell
    finally:
        line.clear()


class _Line:
    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._next = 0.0
        self._kind = ""

    def tell(self, words: str) -> None:
        """Write the line over, unless it was just written and only numbers went on."""
        now, kind = time.monotonic(), NUMBER.sub("", words)
        if now >= self._next or kind != self._kind:
            self._next, self._kind = now + SECONDS_BETWEEN, kind
            width = shutil.get_terminal_size().columns - 2
            self._stream.write(f"{CLEAR}{visible(' '.join(words.split())[:width])}…")
            self._stream.flush()

    def clear(self) -> None:
        """Erase the line."""
        self._stream.write(CLEAR)
        self._stream.flush()
