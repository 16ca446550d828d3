"""Search over the sources: trees, steps, remedies and rows of the tables that hold the words looked for.

Only what somebody reads is searched, and ids; not the ids that one entry names of another.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from build_tools.model import RemedyStep, every_value
from build_tools.model.problems import KeyPath, Place
from build_tools.proof.reading import sentences
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path
from build_tools.sources.term_links import plain_words

HEADS = ("title", "question", "term", "hazard")
"""The keys whose words say what an entry is about."""
SHORTEST_STEM = 3
MOST_SHOWN = 12
_WORD = re.compile(r"[a-z0-9]+")
_ENDING = re.compile(r"(ings?|ed|(?<=[sxz])es|(?<=[cs]h)es|(?<!s)s)$")
_DOUBLED = re.compile(r"([bdgmnprt])\1$")


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry that was found, with its own words for itself and the place of the sentence that fits best."""

    kind: str
    id: str
    title: str
    place: Place
    lines: tuple[str, ...]
    """The fewest of its sentences that hold all that was found, the best first; none where the title does."""
    found: int
    """How many of the words looked for it holds."""
    rank: tuple[int, ...]
    """How well it fits: words in one sentence, letter for letter or in the title, in kind and id; more is better."""
    reached_at: tuple[str, ...]
    """For a remedy: the steps that end in it."""


@dataclass(frozen=True, slots=True)
class _Entry:
    kind: str
    id: str
    path: str
    keys: KeyPath
    record: BaseModel
    name: str
    """Its id within its file or table."""


@dataclass(frozen=True, slots=True)
class _Said:
    """One sentence of an entry, and which of the stems it holds."""

    keys: KeyPath
    words: str
    held: frozenset[str]
    exact: int
    """How many of the words asked for stand in it letter for letter."""


def stem(word: str) -> str:
    """Cut a common ending off a word, where enough of it is left to know it by."""
    short = _DOUBLED.sub(r"\1", _ENDING.sub("", word))
    return short if len(short) >= SHORTEST_STEM and _ENDING.search(word) else word


def words_of(text: str) -> tuple[str, ...]:
    """Give the words of a text in small letters, hyphens parting them."""
    return tuple(_WORD.findall(text.lower()))


def find(draft: Draft, query: str) -> tuple[Hit, ...]:
    """Find the entries that hold the words, in any order; the best first.

    A word fits one that begins with its stem, and the kind of an entry counts as one of its words. Where
    no entry holds every word, those with the most are given. Nothing where the query has no words.
    """
    asked = words_of(query)
    hits = [hit for entry in _entries(draft) if (hit := _hit(draft, entry, asked)) is not None]
    most = max((hit.found for hit in hits), default=0)
    best = [hit for hit in hits if hit.found == most]
    return tuple(sorted(best, key=lambda hit: ([-each for each in hit.rank], hit.place)))


def _entries(draft: Draft) -> Iterator[_Entry]:
    for tree_id, tree in draft.trees.items():
        path = tree_path(tree_id)
        yield _Entry("tree", tree_id, path, (), tree.model_copy(update={"steps": {}}), tree_id)
        for name, step in tree.steps.items():
            yield _Entry("step", f"{tree_id}/{name}", path, ("steps", name), step, name)
    for name, remedy in draft.remedies.items():
        yield _Entry("remedy", name, remedy_path(name), (), remedy, name)
    tables: Mapping[str, Mapping[str, Any]] = {
        "terms": draft.terms,
        "cautions": draft.cautions,
        "hazards": draft.hazards,
        "gates": draft.written_gates,
        "sources": draft.sources,
    }
    for table, rows in tables.items():
        for name, row in rows.items():
            yield _Entry(table.removesuffix("s"), name, table_path(table), (name,), row, name)


def _hit(draft: Draft, entry: _Entry, asked: Sequence[str]) -> Hit | None:
    """Weigh an entry by the words it holds, and choose the sentences that hold them."""
    said = list(_said(entry, asked))
    in_id = _held(f"{entry.kind} {entry.name}", asked)
    found = in_id.union(*(each.held for each in said))
    if not said or not found:
        return None
    head = max((each for each in said if _is_head(each.keys)), key=lambda each: len(each.held), default=None)
    in_head = head.held if head else frozenset()
    best = max(said, key=lambda each: (len(each.held), _is_head(each.keys), each.exact))
    lines = tuple(_fewest(said, found - in_head)) if best.held - in_head else ()
    return Hit(
        entry.kind,
        entry.id,
        head.words if head else entry.id,
        draft.files[entry.path].place((*entry.keys, *best.keys)),
        lines,
        len(found),
        (len(best.held), len(in_head) + best.exact, len(in_id)),
        tuple(_ends_in(draft, entry.id)) if entry.kind == "remedy" else (),
    )


def _said(entry: _Entry, asked: Sequence[str]) -> Iterator[_Said]:
    """Give what a reader reads of an entry, sentence by sentence; a head stays whole."""
    for keys, value in every_value(entry.record):
        if type(value) is str and (" " in value or _is_head(keys)) and "accept" not in keys:
            text = " ".join(plain_words(value).split())
            for sentence in (text,) if _is_head(keys) else sentences(text):
                yield _Said(keys, sentence, _held(sentence, asked), len({*asked} & {*words_of(sentence)}))


def _fewest(said: Sequence[_Said], wanted: frozenset[str]) -> Iterator[str]:
    """Take the sentence with most of the words, then that with most of those left, until none is left."""
    while wanted:
        best = max(said, key=lambda each: (len(each.held & wanted), each.exact))
        if not best.held & wanted:
            return
        yield best.words
        wanted -= best.held


def _is_head(keys: KeyPath) -> bool:
    return bool(keys) and keys[-1] in HEADS


def _held(text: str, asked: Sequence[str]) -> frozenset[str]:
    """Give the stems of the words asked for with which some word of a text begins."""
    words = words_of(text)
    return frozenset(each for each in map(stem, asked) if any(word.startswith(each) for word in words))


def _ends_in(draft: Draft, remedy: str) -> Iterator[str]:
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            if isinstance(step, RemedyStep) and step.remedy == remedy:
                yield f"{tree_id}/{name}"


def hits_text(hits: Sequence[Hit], query: str, most: int = MOST_SHOWN) -> str:
    """Show each hit with its place, as an editor opens it, and the sentences that fit; so many at most."""
    asked = len({stem(word) for word in words_of(query)})
    lines = [f"No entry holds all the words; these hold {hits[0].found} of {asked}."] if hits[0].found < asked else []
    for hit in hits[:most]:
        lines.append(f"{hit.place.path}:{hit.place.line}: {hit.kind} {hit.id}: {hit.title}")
        lines += [f"    {each}" for each in hit.lines]
        lines += [f"    reached at: {', '.join(hit.reached_at)}"] if hit.reached_at else []
    if len(hits) > most:
        lines.append(f"{len(hits) - most} more: add a word, or --all to see them.")
    return "\n".join(lines)
