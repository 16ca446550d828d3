"""Words to lines that fit a rhombus, so that a decision's text can be read and stays inside it.

The engine would draw a rhombus twice as wide and twice as high as the block of its text. Here the lines
are short at the top and bottom and long in the middle, as a rhombus is.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable
from typing import NamedTuple

FONT_SIZE = 14
"""In units of the drawing: CSS pixels, where it is shown at its natural size."""
_LINE_HEIGHT = 17
_PADDING = 12
_WIDTHS = range(120, 1000, 8)
_ASPECT = 0.5
"""Height to width."""
LONGEST_WORD = 40
"""A word of more letters is broken, so that every headline finds its rhombus."""
_NARROW, _WIDE = frozenset("fijlrtI.,:;!'|()[]- "), frozenset("mwMW@%")


class Rhombus(NamedTuple):
    """A rhombus with the lines that it holds; sizes in units of the drawing."""

    width: int
    height: int
    lines: tuple[str, ...]


def text_width(text: str) -> float:
    """Estimate the width of a text, on the wide side: system fonts differ by some parts in a hundred."""
    # Since Python 3.12 `sum` rounds floats otherwise, and the same tree must give the same drawing.
    return math.fsum(map(_letter_width, text))


def _letter_width(letter: str) -> float:
    if letter in _NARROW:
        return 0.36 * FONT_SIZE
    if letter in _WIDE:
        return 0.94 * FONT_SIZE
    return (0.74 if letter.isupper() else 0.58) * FONT_SIZE


def in_rhombus(first: str, text: str) -> Rhombus:
    """Find the smallest rhombus that holds a first line and the text below it; ValueError for absurd length."""
    words = [word[at : at + LONGEST_WORD] for word in text.split() for at in range(0, len(word), LONGEST_WORD)]
    for width in _WIDTHS:
        height = int(width * _ASPECT)
        for count in range(2, height // _LINE_HEIGHT):
            top, *rooms = _rooms(width, height, count)
            lines = _filled(words, rooms) if text_width(first) <= top else None
            if lines:
                return Rhombus(width, height, (first, *lines))
    raise ValueError(f"no rhombus holds {text!r}")


def _rooms(width: int, height: int, count: int) -> tuple[float, ...]:
    """Give the room of each of so many lines, set round the middle; at the edge of the line that lies further out."""
    edges = (abs(number - (count - 1) / 2) * _LINE_HEIGHT + 0.4 * _LINE_HEIGHT for number in range(count))
    return tuple(width * (1 - 2 * edge / height) - _PADDING for edge in edges)


def _filled(words: Iterable[str], rooms: Iterable[float]) -> tuple[str, ...] | None:
    """Fill every line, first to last; nothing where a line stays empty or a word is left over."""
    rest = deque(words)
    lines: list[str] = []
    for room in rooms:
        line: list[str] = []
        while rest and text_width(" ".join((*line, rest[0]))) <= room:
            line.append(rest.popleft())
        lines.append(" ".join(line))
    return tuple(lines) if all(lines) and not rest else None
