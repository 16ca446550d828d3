"""Proofs of content: what an author may write in trees/cases/ and trees/proofs/, key by key.

What stands here is reasoned or read by hand, apart from the trees and remedies that `check` holds to it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from build_tools.model.base import Id, OneOrMore, Record, Text, as_several

_ESCAPED = re.compile(r"\\[^0-9]|\[[^\]]+\]")
"""One letter or class of a pattern."""
_BOUNDED = re.compile(r"x\{\d{1,2},\d{1,2}\}")
MOST_GAPS = 2
"""In one pattern; each multiplies what there is to try."""
MOST_QUOTES = 50
"""Of one hazard in one remedy, or of the work of one case; each is looked for in the whole work."""
MOST_WORDS = 200
MOST_NUMBERS = 1000
"""Several times what a large guide needs; each is looked for in all its texts."""


def _as_pattern(value: Any) -> Any:
    """Take in a pattern that is found in a time that grows with the text, and no faster: strangers write some."""
    if not isinstance(value, str):
        return value
    bare, gaps = _BOUNDED.subn("", _ESCAPED.sub("x", value))
    if gaps > MOST_GAPS or re.search(r"[*+{\\]|\?\)?[?{]", bare.replace("(?", "(")):
        raise PydanticCustomError("pattern", "Input should be a pattern with no * or +, and at most two gaps as {0,40}")
    try:
        return re.compile(value, re.IGNORECASE)
    except re.error as error:
        raise PydanticCustomError("pattern", "Input should be a pattern: {why}", {"why": str(error)}) from None


Pattern = Annotated[re.Pattern[str], BeforeValidator(_as_pattern, json_schema_input_type=str)]
"""A regular expression as Python reads it, for which capitals make no difference."""


def _as_patterns(value: Any) -> Any:
    return value if isinstance(value, tuple) else (value,)


Patterns = Annotated[tuple[Pattern, ...], BeforeValidator(_as_patterns, json_schema_input_type=str | tuple[str, ...])]
"""One pattern, or a list of which any may fit."""


class Case(Record):
    """A stated case: a story of the trade, its answers in order, and the remedy in which it must end."""

    title: Text = Field(description="The story in a few words.")
    facts: Text = Field(description="What is known of the roof and the leak; reasoned from the trade, not the tree.")
    tree: Id = Field(description="The tree in which it begins.")
    answers: Annotated[
        tuple[Annotated[Mapping[Id, Text], Field(min_length=1, max_length=1)], ...],
        Field(min_length=1, description="Each step that asks, with the answer given there, in their order."),
    ]
    reckoned: Mapping[Id, Mapping[str, int | float | str]] = Field(
        default_factory=dict, description="By step that measures: what is typed there, to come to the answer stated."
    )
    work_in_order: tuple[Text, ...] = Field(
        default=(),
        max_length=MOST_QUOTES,
        description="Words of the remedy's work, in the order in which they must stand there.",
    )
    must_say: Mapping[Id, Text] = Field(
        default_factory=dict, description="By key of the remedy: words that must stand there."
    )
    ends_in: Id = Field(description="The remedy in which it must end.")


_Few = Annotated[tuple[str, ...], Field(max_length=MOST_QUOTES)]
Quotes = Annotated[_Few, BeforeValidator(as_several, json_schema_input_type=str | _Few)]
"""One quotation, or a list of them."""
Readings = Mapping[Id, Mapping[Id, Quotes]]
"""By remedy and by hazard: the words of the steps that bring it, each in one step only."""


class HazardWord(Record):
    """A word that brings a hazard wherever a step of the work says it."""

    says: Pattern = Field(description="A pattern that is looked for in what each step does.")
    brings: OneOrMore = Field(default=(), description="Hazards that such a step brings, all of them.")
    brings_one_of: OneOrMore = Field(default=(), description="Hazards of which such a step brings one or more.")
    but_not: Mapping[Id, Mapping[str, Text]] = Field(
        default_factory=dict, description="By remedy, and by words of the step: why it brings nothing there."
    )


HazardWords = Annotated[Mapping[Id, HazardWord], Field(max_length=MOST_WORDS)]


class PaneWords(Record):
    """How the guide says that a pane is tried by hand, stopped and looked at; looked for in each sentence."""

    forbids: Patterns = Field(description="What makes a sentence forbid what it names.")
    tries: Patterns = Field(description="A hand on the pane, to see whether it moves.")
    stops: Patterns = Field(description="What must go before it: something at the foot, or hands on it.")
    looks: Patterns = Field(description="What must go before that.")
    up: Patterns = Field(description="Up the slope, where a pane comes off its stop.")
    down: Patterns = Field(description="What else must stand there, so that nobody pushes it up.")
    clears: Patterns = Field(description="In work done inside: how the room below is cleared.")
    heavy: Id = Field(description="The hazard of a pane that falls; the room below is cleared before a step brings it.")


class Published(Record):
    """A number with a unit as trees, remedies, gates or cautions state it, and what was published."""

    says: Text = Field(description="The words with the number, as they stand there.")
    source: Id = Field(description="The source from tables/sources.yaml, which is named where the number stands.")
    label: Literal["reported", "practice", "choice", "memory", "physics"] = Field(
        description="reported: read at its publisher, or in a page or copy; practice: common practice, no source; "
        "choice: of this guide; memory: recalled, not seen; physics: from a density or a conversion."
    )
    published: Text = Field(description="What the source says.")
    converted: OneOrMore = Field(
        default=(), description="Numbers that were published in another unit, as digits in quotes."
    )


class PublishedNumbers(Record):
    """All numbers with a unit that the guide states."""

    numbers: tuple[Published, ...] = Field(max_length=MOST_NUMBERS, description="Each number with its source.")
