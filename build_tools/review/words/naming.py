"""Titles that a reader knows, for the ids in the words of a review; the id stays beside a title to find it by."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from build_tools.guide.words import ACT_WORDS, EFFORT_WORDS, ENDS_WORDS, GLASS_WORDS, PLACE_WORDS
from build_tools.proof.titles import (
    caution_name,
    gate_name,
    hazard_name,
    name_words,
    remedy_name,
    step_name,
    tree_name,
)
from build_tools.review.record.changes import Row
from build_tools.review.versions.matching import Match
from build_tools.sources.library import Draft

QUOTED = re.compile(r'\b(caution|gate|hazard|remedy|tree) "([a-z0-9-]+)((?: = [a-z0-9-]+)?)"')
STEP = re.compile(r"\bstep ([a-z0-9-]+)/([a-z0-9-]+)((?: = [a-z0-9-]+)?)")
INSIDE = re.compile(r"\bin (remedies/)?([a-z0-9-]+)(?=[:,]|$)")
NAMED_BY = {
    **dict.fromkeys(("exits", "then", "starts-at"), "step"),
    **dict.fromkeys(("go-to", "after-failed-proof", "first-tree"), "tree"),
    **dict.fromkeys(("remedy", "followed-by", "make-safe"), "remedy"),
    **dict.fromkeys(("hazards", "answers"), "hazard"),
    **{"gate": "gate", "joins": "gate", "cautions": "caution", "sources": "source"},
    **dict.fromkeys(("roofs", "on", "lies-on"), "roof"),
    **dict.fromkeys(("where", "opens", "acts", "effort", "glass", "ends-when"), "word"),
}
"""By the key of a value: what its ids name."""
WORDS: Mapping[str, str] = {
    str(name): words
    for table in (PLACE_WORDS, ACT_WORDS, EFFORT_WORDS, GLASS_WORDS, ENDS_WORDS)
    for name, words in table.items()
}
"""The reader's words for what the model names, as pages show them."""


class Names(NamedTuple):
    """Titles by kind and id: "tree cold-pane", "step cold-pane/drops-inside"."""

    titles: Mapping[str, str]

    def of(self, kind: str, name: str) -> str:
        """Give a title in quotes; the id where nothing is known by it."""
        title = self.titles.get(f"{kind} {name}")
        if kind == "tree":
            title = title or self.titles.get(f"tree {name.partition('/')[0]}")
        return f"“{title}”" if title else name

    def trees(self, names: tuple[str, ...]) -> tuple[str, ...]:
        """Give the titles of trees."""
        return tuple(self.of("tree", each) for each in names)

    def place(self, where: str) -> str:
        """Give the title of a step, or of a remedy, that is named as tree/step or remedies/remedy."""
        home, _, name = where.partition("/")
        return self.of("remedy", name) if home == "remedies" else self.of("step", where)

    def words(self, said: str) -> str:
        """Put titles into what is said of a thing that is named by its kind and id."""
        said = QUOTED.sub(lambda found: self._found(found[1], found[2], found[3], f"{found[1]} "), said)
        said = STEP.sub(lambda found: self._found("step", f"{found[1]}/{found[2]}", found[3], ""), said)
        return INSIDE.sub(lambda found: f"in {self.of('remedy' if found[1] else 'tree', found[2])}", said)

    def _found(self, kind: str, name: str, other: str, word: str) -> str:
        title = self.of(kind, name)
        return f"{word}{title} ({name}{other})" if title != name else f'{word}"{name}{other}"'

    def row(self, row: Row) -> Row:
        """Give a row with titles in place of the ids that its values and steps name."""
        home = row.detail.removeprefix("in ") if row.detail.startswith("in ") else ""
        steps = tuple(each if each.isdigit() else self.of("step", f"{home}/{each}") for each in row.steps)
        values = {side: self._value(row, getattr(row, side)) for side in ("before", "after")}
        return row.model_copy(update={"steps": steps, **values})

    def _value(self, row: Row, value: str | None) -> str | None:
        kind = NAMED_BY.get(row.detail.partition(" ")[0])
        if value is None or kind is None:
            return value
        if kind == "step":
            home = row.subject.removeprefix("step ").removeprefix('tree "').partition("/")[0].rstrip('"')
            return self.of("step", f"{home}/{value}")
        return "; ".join(self.of(kind, each) for each in value.split("; "))


NO_NAMES = Names({})
"""Leaves every id as it is."""


def names_of(match: Match) -> Names:
    """Give the titles of all that either version has, as they are now; as they were, for what is gone."""
    return Names({**dict(_titles(match.before)), **dict(_titles(match.after))})


def _titles(draft: Draft) -> list[tuple[str, str]]:
    steps = ((f"{name}/{each}", step) for name, tree in draft.trees.items() for each, step in tree.steps.items())
    return [
        *((f"tree {name}", tree_name(draft, name)) for name in draft.trees),
        *((f"step {name}", step_name(draft, step)) for name, step in steps),
        *((f"remedy {name}", remedy_name(draft, name)) for name in draft.remedies),
        *((f"gate {name}", gate_name(draft, name)) for name in draft.gates),
        *((f"caution {name}", caution_name(draft, name)) for name in draft.cautions),
        *((f"hazard {name}", hazard_name(draft, name)) for name in draft.hazards),
        *((f"source {name}", name_words(source.title)) for name, source in draft.sources.items()),
        *((f"roof {name}", name_words(words)) for name, words in draft.vocabulary.roof.items()),
        *((f"word {name}", words) for name, words in WORDS.items()),
    ]
