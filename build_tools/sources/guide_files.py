"""The files of the folder guide/, which are all published: plain, every letter seen, drawings that only show."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from html import unescape
from pathlib import Path
from xml.parsers import expat

from build_tools.model.letters import HIDDEN
from build_tools.model.problems import Place, Problem
from build_tools.sources.compose import at_most
from build_tools.sources.source import SourceFile, files_below, hidden_letter, hidden_letters, read_source

_SVG = "http://www.w3.org/2000/svg"
_SHOWN = frozenset(
    (
        *("svg", "g", "defs", "symbol", "use", "title", "desc", "metadata", "style", "text", "tspan", "path", "rect"),
        *("circle", "ellipse", "line", "polyline", "polygon", "marker", "pattern", "clipPath", "mask", "stop"),
        *("linearGradient", "radialGradient"),
    )
)
"""What a drawing is made of. Source: W3C, Scalable Vector Graphics (SVG) 2, element index (from memory)."""
_READ_OTHERWISE = re.compile(r"<!(?!--[^<>]*-->)|<\?(?!xml\s)")
"""What a browser reads in one way in a file and in another within a page: document types, CDATA, odd comments."""
_SIZE = re.compile(r'<svg\b[^<>]*\sviewBox="\s*-?\d[\d.]*(\s+-?\d[\d.]*){3}\s*"')
_SAID = re.compile(r'<title\b[^<>]*>[^<>]*\w[^<>]*</title>|<svg\b[^<>]*\saria-label="[^"<>]*\w[^"<>]*"')
_NAMED_LETTER = re.compile(r"&#?\w+;")
_LOADS = re.compile(r"url\(\s*['\"]?(?!\s*['\"]?#)|@import|javascript:|\\", re.I)
"""In a style: what comes from outside the drawing; a backslash could hide it."""


def guide_texts(root: Path) -> Iterator[SourceFile | Problem]:
    """Read the chapters and drawings of a project, with a problem for each file that is not plain or cannot be read."""
    for found in files_below(root, root / "guide"):
        if isinstance(found, Problem):
            yield found
        elif found.suffix.lower() in (".svg", ".md"):
            yield read_source(root, found)


def guide_problems(texts: Iterable[SourceFile | Problem]) -> Iterator[Problem]:
    """Find what must not stand in the folder guide/ of a project."""
    for each in texts:
        yield from (each,) if isinstance(each, Problem) else at_most(_faults(each))


def _faults(file: SourceFile) -> Iterator[Problem]:
    yield from hidden_letters(file)
    for found in _NAMED_LETTER.finditer(file.text):
        if HIDDEN.fullmatch(letter := unescape(found[0])):
            yield hidden_letter(file.place(found.start()), letter)
    if _is_drawing(file):
        faults = tuple(_live(file))
        yield from faults or _bare(file)


def _bare(drawing: SourceFile) -> Iterator[Problem]:
    """Find what a page could not show as a picture: one without a size, or that says nothing."""
    first = Place(drawing.path, 1, 1)
    if not _SIZE.search(drawing.text):
        what = "this drawing does not say its size"
        yield Problem(first, "bare-drawing", what, 'Give `<svg` a `viewBox="0 0 …"` with its width and height.')
    if not _SAID.search(drawing.text):
        what = "this drawing says nothing to whoever cannot see it"
        yield Problem(first, "bare-drawing", what, "Begin it with `<title>` and `<desc>`.")


def drawings_of(texts: Iterable[SourceFile | Problem]) -> Iterator[SourceFile]:
    """Give the drawings of the guide among what was read."""
    for each in texts:
        if isinstance(each, SourceFile) and _is_drawing(each) and each.path.startswith("guide/drawings/"):
            yield each


def chapters_of(texts: Iterable[SourceFile | Problem]) -> Iterator[SourceFile]:
    """Give the chapters of the guide among what was read."""
    return (each for each in texts if isinstance(each, SourceFile) and not _is_drawing(each))


def _is_drawing(file: SourceFile) -> bool:
    return file.path.lower().endswith(".svg")


def chapters(root: Path) -> tuple[tuple[SourceFile, ...], tuple[Problem, ...]]:
    """Read the chapters, with a problem for each that cannot be read."""
    read = [read_source(root, file) for file in sorted((root / "guide").glob("*.md"))]
    files = tuple(each for each in read if isinstance(each, SourceFile))
    return files, tuple(each for each in read if isinstance(each, Problem))


def _live(drawing: SourceFile) -> Iterator[Problem]:
    """Find what would run in a drawing, or be fetched by it."""
    odd = "a document type, instruction, CDATA section or odd comment means one thing in a file, another in a page"
    faults = [(drawing.place(found.start()), odd) for found in _READ_OTHERWISE.finditer(drawing.text)]
    for place, what in faults or _Elements(drawing).faults():
        yield Problem(place, "live-drawing", what, "Take it out, or save the drawing as plain SVG.")


class _Elements:
    """Goes through a drawing element by element."""

    def __init__(self, drawing: SourceFile) -> None:
        self._drawing = drawing
        self._content = drawing.text.encode()
        self._found: list[tuple[Place, str]] = []
        self._text: list[str] = []
        self._reader = expat.ParserCreate(namespace_separator=" ")
        self._reader.StartElementHandler = self._start
        self._reader.CharacterDataHandler = self._text.append
        self._reader.EndElementHandler = self._end

    def faults(self) -> list[tuple[Place, str]]:
        """Give what was found, each at its place."""
        try:
            self._reader.Parse(self._content, True)
        except expat.ExpatError as error:
            self._tell(f"this is no XML: {expat.ErrorString(error.code)}")
        return self._found

    def _tell(self, what: str) -> None:
        # By its bytes, since the reader breaks lines at fewer letters than the other files are broken at.
        before = self._content[: self._reader.CurrentByteIndex].decode(errors="replace")
        self._found.append((self._drawing.place(len(before)), what))

    def _start(self, element: str, attributes: Mapping[str, str]) -> None:
        self._text.clear()
        space, _, name = element.rpartition(" ")
        if space not in ("", _SVG) or name not in _SHOWN:
            self._tell(f'"{name}" is no element that only shows')
        for key, value in attributes.items():
            name = key.rpartition(" ")[2].lower()
            if name.startswith("on"):
                self._tell(f'the handler "{name}" would run')
            elif name == "href" and not value.startswith("#"):
                self._tell(f'this leads out of the drawing, to "{value[:60]}"')
            elif not name.startswith("aria-") and _LOADS.search(value):
                self._tell(f'"{name}" loads something from outside the drawing')

    def _end(self, element: str) -> None:
        if element.endswith("style") and _LOADS.search("".join(self._text)):
            self._tell("this style loads something from outside the drawing")
        self._text.clear()
