"""Two wordings of one text: whether the second may mean the opposite, or states other numbers.

Only what can be told from words alone: a denial that is gone or came into a sentence, a word that limits, a word
exchanged for its opposite, a number or its unit. A sentence that is new may deny what it likes.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from build_tools.review.versions.matching import ALIKE, aligned, plain

DENIALS = frozenset(
    ("never", "not", "nothing", "no", "nobody", "none", "nowhere", "neither", "nor", "cannot", "without", "n't")
)
"""One may stand for another, so it is their count in a sentence that matters."""
LIMITS = frozenset(("only", "must", "unless", "until", "always", "alone"))
"""Each is missed for itself."""
OPPOSITES = (
    *("above below", "over under", "before after", "inside outside", "indoors outdoors", "up down", "upper lower"),
    *("on off", "open shut", "open closed", "top bottom", "more less", "most least", "high low", "higher lower"),
    *("longer shorter", "larger smaller", "wet dry", "live dead", "first last", "away towards", "keep remove"),
    *("uphill downhill", "upwards downwards", "same other", "safe unsafe", "head foot"),
)
OPPOSITE = {a: b for pair in OPPOSITES for a, b in (pair.split(), reversed(pair.split()))}
WORD = re.compile(r"n['’]t\b|[a-z]+(?=n['’]t\b)|[a-z]+")
NUMBER = re.compile(
    r"\d+(?:[.,/:]\d+)*(?:\s?(?:%|°C?|mm|cm|m²|m|km|kg|g|mph|m/s|l/s|kPa|Pa|W|V|A|s)(?![\w²/]))?"
    r"|\b(?:two|three|four|five|six|seven|eight|nine|ten|twelve|dozen|half|quarter|twice|hundred)\b",
    re.IGNORECASE,
)
"""Digits with their unit, and numbers in words; `one` is most often no number."""
SENTENCE_END = re.compile(r"(?<=[.!?;:])\s+")
MOST_SHOWN = 4


def turned(before: str | None, after: str | None) -> str:
    """Say which words turn the sense of a text, as `the words lost "never"`; empty where none can be told."""
    if before is None:
        return ""
    for one, other in _sentences(before, after or ""):
        said = _turned(_words(one), _words(other))
        if said:
            return said
    return ""


def numbers_changed(before: str | None, after: str | None) -> str:
    """Say which numbers of a text are others; empty where all stand in their order, or the text is new."""
    if before is None:
        return ""
    old, new = (list(_numbers(each or "")) for each in (before, after))
    return f"numbers: {_listed(old, new)} → {_listed(new, old)}" if old != new else ""


def _numbers(text: str) -> Iterator[str]:
    return (plain(each.group().lower()) for each in NUMBER.finditer(text))


def _listed(these: list[str], those: list[str]) -> str:
    """Name the numbers that the other text does not have; all where they only stand in another order."""
    alone = list((Counter(these) - Counter(those)).elements())
    shown = alone or ([] if Counter(those) - Counter(these) else these)
    more = "" if len(shown) <= MOST_SHOWN else f" and {len(shown) - MOST_SHOWN} more"
    return ", ".join(shown[:MOST_SHOWN]) + more if shown else "none"


def _sentences(before: str, after: str) -> Iterator[tuple[str, str]]:
    """Pair the sentences of two texts; one without a partner stands beside nothing."""
    old, new = (SENTENCE_END.split(plain(each)) for each in (before, after))
    for here, there in aligned(old, new, lambda each: each):
        if here is not None:
            yield old[here], "" if there is None else new[there]


def _words(text: str) -> Counter[str]:
    return Counter(WORD.findall(text.lower().replace("’", "'")))


def _turned(old: Counter[str], new: Counter[str]) -> str:
    lost, gained = old - new, new - old
    denials = [sum(each[word] for word in DENIALS) for each in (old, new)]
    if denials[1] < denials[0]:
        return f"the words lost {_quoted(lost, DENIALS)}"
    if limits := _quoted(lost, LIMITS):
        return f"the words lost {limits}"
    for word in lost:
        if gained[OPPOSITE.get(word, "")]:
            return f'the words have "{OPPOSITE[word]}" for "{word}"'
    kept = 2 * (old & new).total() / max(1, old.total() + new.total())
    if denials[1] > denials[0] and kept >= ALIKE and not gained["never"]:
        return f"the words gained {_quoted(gained, DENIALS)}"
    return ""


def _quoted(words: Counter[str], of: Iterable[str]) -> str:
    return ", ".join(f'"{word}"' for word in sorted(set(words) & set(of)))
