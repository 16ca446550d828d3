"""How hard a passage is to read: sentence length and reading age.

Source: Kincaid, Fishburne, Rogers, Chissom 1975, "Derivation of new readability formulas for Navy
enlisted personnel", grade = 0.39 words/sentences + 11.8 syllables/words - 15.59 (from memory, not seen).
Reading age is taken as the school grade plus five years.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

_SENTENCE_END = re.compile(r"(?<=[.!?;:])\s+")
_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]*")
_VOWELS = re.compile(r"[aeiouy]+")


def sentences(text: str) -> tuple[str, ...]:
    """Split prose at full stops, question marks, colons and semicolons; numbers stay whole."""
    return tuple(each for each in _SENTENCE_END.split(text.strip()) if each.strip(".!?;:"))


def words(text: str) -> tuple[str, ...]:
    """Give the words of a text, numbers left out."""
    return tuple(_WORD.findall(text))


def syllables(word: str) -> int:
    """Estimate the syllables of an English word; at least one."""
    bare = word.lower()
    # The e is silent in "tile", and heard in "table", "tree" and "dye".
    if len(bare) > 3 and bare.endswith("e") and not re.search(r"([^aeiouy]l|[ey])e$", bare):
        bare = bare[:-1]
    if len(bare) > 4 and bare.endswith("ed") and bare[-3] not in "td":
        bare = bare[:-2]
    return max(1, len(_VOWELS.findall(bare)))


@dataclass(frozen=True, slots=True)
class Measured:
    """How passages read, taken together."""

    words: int
    sentences: int
    longest: int
    """The words of the longest sentence."""
    age: float
    """The age in years at which they read easily; 0 where there are no words."""


def measured(passages: Iterable[str]) -> Measured:
    """Measure passages as one text. Each ends a sentence, with or without a full stop."""
    read = tuple(text for text in passages if words(text))
    every_word = [word for text in read for word in words(text)]
    lengths = [len(words(sentence)) for text in read for sentence in sentences(text)]
    if not every_word:
        return Measured(0, 0, 0, 0.0)
    per_word = sum(syllables(each) for each in every_word) / len(every_word)
    age = 0.39 * len(every_word) / len(lengths) + 11.8 * per_word - 15.59 + 5
    return Measured(len(every_word), len(lengths), max(lengths), age)


def reading_age(text: str) -> float:
    """Give the age in years at which the passage reads easily; 0 for a text without words."""
    return measured((text,)).age
