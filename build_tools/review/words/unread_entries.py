"""What was changed and not compared, in words: chapters, drawings and readings one by one, the rest by folder."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from build_tools.review.record.told import Passage, Unread
from build_tools.review.words.entries import Entry, Note
from build_tools.review.words.sentences import WORDS, parts_of, places_of, some_of

ONE_BY_ONE = ("guide/", "trees/proofs/")
MOST_PASSAGES = 12
"""Of one chapter; of more, how many there are."""


def unread_entries(unread: Iterable[Unread]) -> Iterator[Entry]:
    """Give an entry for each chapter, drawing and reading, and one for all other files of a folder."""
    listed = list(unread)
    yield from (_alone(each) for each in listed if each.path.startswith(ONE_BY_ONE))
    rest = sorted((each for each in listed if not each.path.startswith(ONE_BY_ONE)), key=_folder)
    yield from (_together(folder, tuple(files)) for folder, files in groupby(rest, key=_folder))


def _folder(each: Unread) -> str:
    return each.path.partition("/")[0] if "/" in each.path else ""


def _alone(each: Unread) -> Entry:
    shown = each.passages[:MOST_PASSAGES]
    inner = [_passage(passage) for passage in shown]
    if more := len(each.passages) - len(shown):
        inner.append(Entry(f"and {more:,} more passages"))
    return Entry(f"{each.path}: {WORDS[each.change]}", inner=tuple(inner))


def _passage(passage: Passage) -> Entry:
    before, after = parts_of(passage.before or "", passage.after or "")
    notes = (
        *((Note("was", before),) if passage.before is not None else ()),
        *((Note("now", after),) if passage.after is not None else ()),
    )
    words = "other words" if len(notes) == 2 else "taken out" if passage.after is None else "put in"
    return Entry(words, places_of("changed", passage.spot_before, passage.spot_after), notes)


def _together(folder: str, files: Sequence[Unread]) -> Entry:
    said = []
    for change in ("changed", "added", "removed"):
        names = tuple(each.path.removeprefix(f"{folder}/") for each in files if each.change == change)
        if names:
            said.append(f"{len(names):,} {WORDS[change]} ({some_of(names)})")
    return Entry(f"{f'{folder}/' if folder else 'beside the folders'}: {', '.join(said)}")
