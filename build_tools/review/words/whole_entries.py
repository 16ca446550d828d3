"""What is new, in words: what it is and where it goes up stands open, its steps are folded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from build_tools.review.record.facts import Spot
from build_tools.review.record.told import Said, Whole
from build_tools.review.words.entries import Entry, Note, plain_note
from build_tools.review.words.sentences import Placed, places_of


def whole_entries(whole: Iterable[Whole]) -> Iterator[Entry]:
    """Give an entry for each new thing, with its steps inside."""
    for each in whole:
        inner = tuple(Entry(step.title, _places(step.spot), _notes(step.said)) for step in each.steps)
        folded = f"Its {len(inner)} steps" if each.kind == "tree" else "Its work, step by step"
        words = f"new {each.kind}: “{each.title}” ({each.name})"
        yield Entry(words, _places(each.spot), _notes(each.said), inner, folded if inner else "")


def _places(spot: Spot | None) -> tuple[Placed, ...]:
    return places_of("added", None, spot)


def _notes(said: Iterable[Said]) -> tuple[Note, ...]:
    return tuple(plain_note(each.word, each.words) for each in said)
