"""How hard the guide reads, page by page: words, sentence length and reading age of trees, remedies and chapters."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from build_tools.proof.reading import Measured, measured
from build_tools.proof.rules.sense import passages
from build_tools.sources.library import Draft, remedy_path, tree_path
from build_tools.sources.term_links import plain_words

_LEFT_OUT = re.compile(
    r"```.*?```|^[ \t]*\|[^\n]*|^#[^\n]*|^\$ [^\n]*|!\[[^]]*\]\([^)]*\)|<[^>]+>|\{[^}]*\}|`[^`]*`", re.S | re.M
)
"""What stands in a chapter and is not read as prose: code, tables, headings, drawings, marks."""
_LINK = re.compile(r"\[([^]]*)\]\([^)]*\)")


class Read(NamedTuple):
    """A source and how it reads."""

    path: str
    measured: Measured


def readability(draft: Draft, chapters: Mapping[str, str]) -> tuple[Read, ...]:
    """Measure every tree, remedy and chapter; chapters are Markdown by path. The hardest comes first."""
    prose = {tree_path(name): passages(tree) for name, tree in draft.trees.items()}
    prose |= {remedy_path(name): passages(remedy) for name, remedy in draft.remedies.items()}
    read = [Read(path, measured(plain_words(text) for _, text in found)) for path, found in prose.items()]
    read += [Read(path, measured(chapter_prose(text))) for path, text in chapters.items()]
    return tuple(sorted(read, key=lambda each: (-each.measured.age, each.path)))


def chapter_prose(markdown: str) -> tuple[str, ...]:
    """Give the paragraphs and list items of a chapter as plain words."""
    kept = _LINK.sub(r"\1", _LEFT_OUT.sub("", markdown)).replace("*", "")
    paragraphs = re.split(r"\n\s*\n|^\s*- |^\s*\d+\. ", kept, flags=re.M)
    return tuple(" ".join(each.split()) for each in paragraphs if each.strip())


def readability_text(read: Sequence[Read]) -> str:
    """Show each source in a line, the hardest first."""
    rows = [
        f"{each.measured.age:4.1f}  {each.measured.words / max(1, each.measured.sentences):4.1f}  "
        f"{each.measured.longest:3d}  {each.measured.words:5d}  {each.path}"
        for each in read
    ]
    return "\n".join((" age  mean  max  words", *rows))


def readability_json(read: Sequence[Read]) -> str:
    """Give the same as JSON."""
    rows = [
        {
            "path": each.path,
            "reading_age": round(each.measured.age, 2),
            "words": each.measured.words,
            "sentences": each.measured.sentences,
            "longest_sentence": each.measured.longest,
        }
        for each in read
    ]
    return json.dumps({"sources": rows}, indent=2, ensure_ascii=False)
