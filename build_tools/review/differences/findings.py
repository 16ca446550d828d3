"""Differences of fields to rows of the review: each in its section, with its places on both sides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from pydantic import BaseModel

from build_tools.model.problems import KeyPath
from build_tools.review.differences.fields import Difference, Rename, as_given, differences
from build_tools.review.record.changes import Row, change_of
from build_tools.review.versions.matching import Match
from build_tools.review.versions.places import spot

Section = Literal["remedies", "steps", "values", "text"]
Found = tuple[Section, Row]
KEPT_BY_AUTHORS = frozenset(("version", "revised", "accept", "any_order"))
TEXT = frozenset(
    (
        *("title", "about", "parts", "why", "since", "note", "drawing", "part", "sources", "cures"),
        *("look_again", "record", "right"),
    )
)
"""Fields that change nothing a reader does, unless their numbers differ."""
NAMES = frozenset(("drawing", "part", "sources", "source", "address"))
"""Fields whose digits are no numbers."""


class At(NamedTuple):
    """Where a thing stands in one version: its file and the keys that lead to it."""

    path: str
    keys: KeyPath = ()


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that both versions have, or one of them."""

    match: Match
    section: Section
    """Where its differences belong, but for those of text only."""
    subject: str
    before: At
    after: At
    trees: tuple[str, ...]
    text: frozenset[str] = TEXT

    def fields(
        self, before: BaseModel, after: BaseModel, skip: frozenset[str] = frozenset(), rename: Rename = as_given
    ) -> Iterator[Found]:
        """Give a row for each field that differs."""
        for what in differences(before, after, skip | KEPT_BY_AUTHORS, rename):
            yield self.section_of(what), self.row(what)

    def section_of(self, what: Difference) -> Section:
        """Tell a matter of text from one that changes what a reader does."""
        in_words = what.field in self.text and (what.field in NAMES or not what.in_numbers)
        return "text" if in_words else self.section

    def row(self, what: Difference) -> Row:
        """Make the row of one difference."""
        return Row(
            change=change_of(what.before, what.after),
            subject=self.subject,
            detail=" ".join(str(each) for each in what.keys if not isinstance(each, int)),
            before=what.before,
            after=what.after,
            spot_before=spot(self.match.before, self.before.path, (*self.before.keys, *what.keys)),
            spot_after=spot(self.match.after, self.after.path, (*self.after.keys, *what.keys)),
            trees=self.trees,
        )

    def removed(self, title: str, same_as: str | None = None) -> Row:
        """Make the row of a thing that the second version does not have."""
        place = spot(self.match.before, *self.before)
        return Row(
            change="removed", subject=self.subject, before=title, spot_before=place, same_as=same_as, trees=self.trees
        )

    def added(self, title: str, same_as: str | None = None) -> Row:
        """Make the row of a thing that the first version does not have."""
        place = spot(self.match.after, *self.after)
        return Row(
            change="added", subject=self.subject, after=title, spot_after=place, same_as=same_as, trees=self.trees
        )


def come_and_gone(
    things: Mapping[str, Thing], before: Mapping[str, str], after: Mapping[str, str], names: Mapping[str, str]
) -> Iterator[Row]:
    """Give a row for each id that only one version has; `before` and `after` hold titles by id, `names` new ids."""
    back = {new: old for old, new in names.items()}
    for name in before:
        if name not in after:
            yield things[name].removed(before[name], names.get(name))
    for name in after:
        if name not in before:
            yield things[name].added(after[name], back.get(name))
