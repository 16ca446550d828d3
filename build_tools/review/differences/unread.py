"""What differs between two versions and is compared by nothing here; of texts that a person reads, which words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import SequenceMatcher
from fnmatch import fnmatchcase
from pathlib import Path, PurePosixPath

from build_tools.review.record.facts import Spot, change_of
from build_tools.review.record.told import Passage, Unread
from build_tools.review.versions.listing import Listing
from build_tools.review.versions.matching import plain
from build_tools.sources import CASES
from build_tools.sources.guide_files import guide_texts
from build_tools.sources.library import table_path
from build_tools.sources.source import SourceFile

COMPARED = ("trees/*.yaml", "trees/remedies/*.yaml", "trees/tables/*.yaml", f"{CASES}/*.yaml")
FORMULAS = "build_tools/formulas"
"""Its modules, in whichever room, are compared where both versions hold the program."""
RECORDED = table_path("versions")
"""What `record` writes: `check` holds it to the trees."""
READ_BY_HAND = "trees/proofs/*.yaml"
"""What `check` holds remedies and trees to; what is taken out there is no longer proved."""
WORDED = ("guide/*.md", "guide/drawings/*.svg", READ_BY_HAND)
"""Files of which the words that differ are told."""
OF_SAFETY = ("guide/safe-access.md", "guide/opening-up.md", "guide/water-testing.md")
"""Chapters that keep a reader from harm: they are told first, with what was read by hand."""
SVG_WORDS = re.compile(r">([^<>]*\S[^<>]*)<")
SENTENCE = re.compile(r"(?<=[.!?]) ")
LONGEST = 500
"""Letters of a passage that are shown; the place of the rest is."""
Texts = Mapping[str, SourceFile]
"""The chapters, drawings and readings of a version by their paths."""


def read_texts(root: Path, held: Iterable[SourceFile]) -> Texts:
    """Read chapters and drawings, as far as they can be read; of what is held already, take what was read by hand."""
    read = (each for each in (*guide_texts(root), *held) if isinstance(each, SourceFile))
    return {each.path: each for each in read if _fits(each.path, WORDED)}


def unread(listings: tuple[Listing, Listing], texts: tuple[Texts, Texts], formulas: bool) -> tuple[Unread, ...]:
    """Find the files that differ and are not compared; `formulas` tells whether the code of the formulas is."""
    before, after = listings
    differing = (path for path in {**before, **after} if before.get(path) != after.get(path))
    paths = (path for path in differing if path != RECORDED and not _is_compared(path, formulas))
    return tuple(_unread(path, listings, texts) for path in sorted(paths, key=_order))


def _is_compared(path: str, formulas: bool) -> bool:
    module = formulas and path.endswith(".py") and PurePosixPath(path).is_relative_to(FORMULAS)
    return module or _fits(path, COMPARED)


def _fits(path: str, patterns: tuple[str, ...]) -> bool:
    """Tell whether a path fits a pattern; no star stands for a slash."""
    return any(path.count("/") == each.count("/") and fnmatchcase(path, each) for each in patterns)


def _order(path: str) -> tuple[bool, bool, str]:
    return path not in OF_SAFETY and not _fits(path, (READ_BY_HAND,)), not _fits(path, WORDED), path


def _unread(path: str, listings: tuple[Listing, Listing], texts: tuple[Texts, Texts]) -> Unread:
    old, new = (each.get(path) for each in texts)
    change = change_of(*(each.get(path) for each in listings))
    passages = tuple(_passages(old, new)) if old and new else ()
    return Unread(path=path, change=change, passages=passages)


def _passages(old: SourceFile, new: SourceFile) -> Iterator[Passage]:
    """Give what stands in other words, sentence by sentence."""
    lines = _sentences(old), _sentences(new)
    here, there = ([words for words, _ in each] for each in lines)
    for tag, *bounds in SequenceMatcher(None, here, there, autojunk=False).get_opcodes():
        if tag != "equal":
            sides = [side[start:end] for side, start, end in zip(lines, bounds[::2], bounds[1::2], strict=True)]
            texts = [_cut(" ".join(words for words, _ in side)) or None for side in sides]
            spots = [Spot(path=old.path, line=side[0][1]) if side else None for side in sides]
            yield Passage(before=texts[0], after=texts[1], spot_before=spots[0], spot_after=spots[1])


def _sentences(file: SourceFile) -> list[tuple[str, int]]:
    """Give each sentence with the number of its line; of a drawing those that it shows or describes itself with."""
    lines = [(line, number) for number, line in enumerate(file.lines, start=1)]
    if file.path.endswith(".svg"):
        lines = [(words, number) for line, number in lines for words in SVG_WORDS.findall(line)]
    return [(said, number) for line, number in lines for said in SENTENCE.split(plain(line)) if said]


def _cut(words: str) -> str:
    return words if len(words) <= LONGEST else f"{words[:LONGEST]}…"
