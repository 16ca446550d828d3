"""A PDF read back, each page once: its words in the order they were printed, its letters, its black panels."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium

MM = 72 / 25.4
"""Points in a millimetre."""
Colour = tuple[int, int, int]
BLACK, WHITE = (0, 0, 0), (255, 255, 255)


class Box(NamedTuple):
    """A place on a page in points, from its lower left corner."""

    left: float
    bottom: float
    right: float
    top: float

    def covers(self, other: Box) -> bool:
        across = self.left <= other.left and self.right >= other.right
        return across and self.bottom <= other.bottom and self.top >= other.top


class Letter(NamedTuple):
    """One printed letter; `size` in points."""

    text: str
    box: Box
    size: float
    colour: Colour


class Leaf:
    """One page."""

    def __init__(self, page: pypdfium2.PdfPage) -> None:
        self._page = page
        self._text = page.get_textpage()
        self.width, self.height = page.get_size()

    def words(self, left: float, bottom: float, right: float, top: float) -> str:
        """Give the text inside a box in the order it was printed, so that a column is read to its end."""
        text = self._text.get_text_bounded(left, bottom, right, top).replace("\r\n", "\n")
        return str(text).replace("\xa0", " ").replace("’", "'")

    @cached_property
    def letters(self) -> tuple[Letter, ...]:
        """Every sign of the page, spaces too."""
        box = [ctypes.c_double() for _ in range(4)]
        colour = [ctypes.c_uint() for _ in range(4)]
        matrix = pdfium.FS_MATRIX()
        found = []
        for place in range(self._text.count_chars()):
            pdfium.FPDFText_GetCharBox(self._text, place, *box)
            pdfium.FPDFText_GetFillColor(self._text, place, *colour)
            pdfium.FPDFText_GetMatrix(self._text, place, matrix)
            sign = chr(pdfium.FPDFText_GetUnicode(self._text, place))
            left, right, bottom, top = (each.value for each in box)
            size = pdfium.FPDFText_GetFontSize(self._text, place) * abs(matrix.d)
            red, green, blue, _ = (each.value for each in colour)
            found.append(Letter(sign, Box(left, bottom, right, top), size, (red, green, blue)))
        return tuple(found)

    def found(self, word: str) -> Iterator[tuple[Letter, ...]]:
        """Give the letters of a word wherever it stands alone."""
        whole = "".join(each.text for each in self.letters)
        for match in re.finditer(rf"\b{re.escape(word)}\b", whole):
            yield self.letters[slice(*match.span())]

    @cached_property
    def black_panels(self) -> tuple[Box, ...]:
        """The boxes of all shapes filled with black."""
        shapes = self._page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])
        return tuple(Box(*shape.get_bounds()) for shape in shapes if _fill(shape) == BLACK)


def _fill(shape: pypdfium2.PdfObject) -> Colour | None:
    mode, stroked = ctypes.c_int(), pdfium.FPDF_BOOL()
    pdfium.FPDFPath_GetDrawMode(shape, mode, stroked)
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    filled = mode.value != pdfium.FPDF_FILLMODE_NONE
    known = pdfium.FPDFPageObj_GetFillColor(shape, red, green, blue, alpha)
    return (red.value, green.value, blue.value) if filled and known else None


def leaves_of(printed: bytes) -> tuple[Leaf, ...]:
    """Read a PDF page by page."""
    return tuple(map(Leaf, pypdfium2.PdfDocument(printed)))
