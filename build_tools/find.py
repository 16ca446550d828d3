"""Search over the sources: steps, remedies, terms and cautions that hold the words looked for, with their place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from build_tools.library import Draft, remedy_path, table_path, tree_path
from build_tools.model import every_value
from build_tools.problems import KeyPath, Place

HEADS = ("title", "question", "term", "hazard")
"""The keys whose words say what an entry is about; a word found there weighs most."""
HEAD_WEIGHT = 4
ID_WEIGHT = 2
SHORTEST_STEM = 3
_WORD = re.compile(r"[a-z0-9]+")
_ENDING = re.compile(r"(ings?|ed|(?<=[sxz])es|(?<=[cs]h)es|(?<!s)s)$")
_DOUBLED = re.compile(r"([bdgmnprt])\1$")


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry that was found: its kind and id, its own words for itself, and the line that fits best."""

    kind: str
    id: str
    title: str
    place: Place
    line: str
    found: int
    """How many of the words looked for it holds."""
    weight: int


@dataclass(frozen=True, slots=True)
class _Entry:
    kind: str
    id: str
    path: str
    keys: KeyPath
    record: BaseModel


def stem(word: str) -> str:
    """Cut a common ending off a word, where enough of it is left to know it by."""
    short = _DOUBLED.sub(r"\1", _ENDING.sub("", word))
    return short if len(short) >= SHORTEST_STEM and _ENDING.search(word) else word


def words_of(text: str) -> tuple[str, ...]:
    """Give the words of a text in small letters, hyphens parting them."""
    return tuple(_WORD.findall(text.lower()))


def find(draft: Draft, query: str) -> tuple[Hit, ...]:
    """Find the entries that hold the words, in any order; the best first.

    A word fits one that begins with its stem. Where no entry holds every word, those with the most are
    given. Nothing where the query has no words.
    """
    stems = tuple(dict.fromkeys(stem(word) for word in words_of(query)))
    hits = [hit for entry in _entries(draft) if (hit := _hit(draft, entry, stems)) is not None]
    most = max((hit.found for hit in hits), default=0)
    best = [hit for hit in hits if hit.found == most]
    return tuple(sorted(best, key=lambda hit: (-hit.weight, hit.place)))


def _entries(draft: Draft) -> Iterator[_Entry]:
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            yield _Entry("step", f"{tree_id}/{name}", tree_path(tree_id), ("steps", name), step)
    for name, remedy in draft.remedies.items():
        yield _Entry("remedy", name, remedy_path(name), (), remedy)
    tables: Mapping[str, Mapping[str, Any]] = {"terms": draft.terms, "cautions": draft.cautions}
    for table, rows in tables.items():
        for name, row in rows.items():
            yield _Entry(table.removesuffix("s"), name, table_path(table), (name,), row)


def _hit(draft: Draft, entry: _Entry, stems: Sequence[str]) -> Hit | None:
    """Weigh an entry by the words it holds, and choose the line of it that holds most of them."""
    texts = [
        (keys, value) for keys, value in every_value(entry.record) if isinstance(value, str) and "accept" not in keys
    ]
    scored = [(keys, value, _fitting(value, stems)) for keys, value in texts]
    in_id = _fitting(entry.id, stems)
    found = in_id.union(*(held for _, _, held in scored))
    if not found:
        return None
    keys, line, _ = max(scored, key=lambda each: (len(each[2]), _is_head(each[0])))
    heads = set().union(*(held for keys, _, held in scored if _is_head(keys)))
    weight = HEAD_WEIGHT * len(heads) + ID_WEIGHT * len(in_id) + sum(len(held) for _, _, held in scored)
    place = draft.files[entry.path].place((*entry.keys, *keys))
    return Hit(entry.kind, entry.id, _title(entry), place, " ".join(line.split()), len(found), weight)


def _is_head(keys: KeyPath) -> bool:
    return bool(keys) and keys[-1] in HEADS


def _fitting(text: str, stems: Sequence[str]) -> frozenset[str]:
    """Give the stems with which some word of a text begins."""
    words = words_of(text)
    return frozenset(each for each in stems if any(word.startswith(each) for word in words))


def _title(entry: _Entry) -> str:
    """Give the entry's own words for itself; a gate, remedy or go-to step has only an id."""
    return next((str(getattr(entry.record, head)) for head in HEADS if hasattr(entry.record, head)), entry.id)


def hits_text(hits: Sequence[Hit], query: str) -> str:
    """Show each hit with its place, as an editor opens it, and the line that fits."""
    asked = len({stem(word) for word in words_of(query)})
    lines = [f"No entry holds all the words; these hold {hits[0].found} of {asked}."] if hits[0].found < asked else []
    for hit in hits:
        lines.append(f"{hit.place.path}:{hit.place.line}: {hit.kind} {hit.id}: {hit.title}")
        lines += [f"    {hit.line}"] if hit.line != hit.title else []
    return "\n".join(lines)
