"""The tables that trees and remedies draw on: what an author may write in trees/tables/, key by key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Discriminator, Field, Tag

from build_tools.model.base import (
    HASH_PATTERN,
    AnAct,
    APlace,
    Headline,
    Id,
    Opening,
    Record,
    Signal,
    Sources,
    Text,
    Version,
)


class Caution(Record):
    """One hazard, what it does, how it is avoided, when to stop."""

    signal: Annotated[
        Signal,
        Field(
            strict=False,
            description="danger: will kill or maim; warning: could; caution: could hurt; notice: things only.",
        ),
    ]
    answers: Annotated[
        tuple[Id, ...], Field(min_length=1, description="The hazards it answers, from tables/hazards.yaml.")
    ]
    hazard: Text = Field(description="The hazard, as a noun.")
    consequence: Text = Field(description="What happens if it is not avoided.")
    avoidance: Text = Field(description="What to do to avoid it; begins with a verb.")
    stop_when: Text = Field(description="When to stop.")
    call: Text = Field(description="Whom to call then.")
    sources: Sources


class Hazard(Record):
    """A way in which the work can hurt."""

    title: Text = Field(description="The hazard, in a few words.")
    least_signal: Annotated[
        Signal, Field(strict=False, description="The mildest signal word a caution against it may carry.")
    ]
    where: tuple[APlace, ...] = Field(default=(), description="Places that bring it by themselves.")
    acts: tuple[AnAct, ...] = Field(default=(), description="Acts that bring it by themselves.")


class Condition(Record):
    """One thing that must hold before a gate opens; ticked by whoever goes."""

    holds: Text = Field(description="The condition, as a statement that is true or not.")
    tell: Text | None = Field(default=None, description="How to tell, or why.")
    on: tuple[Id, ...] = Field(
        default=(), description="The roofs on which it must hold; left out, on every roof that the gate is for."
    )
    sources: Sources


class Gate(Record):
    """Conditions that must all hold before a place or act is open."""

    title: Headline = Field(description="What it lets a person do.")
    opens: Annotated[
        tuple[Opening, ...],
        Field(min_length=1, description="The places and acts it opens."),
    ]
    roofs: tuple[Id, ...] = Field(
        default=(), description="The roofs it is for, from tables/vocabulary.yaml; needed where it opens the roof."
    )
    all_of: Annotated[tuple[Condition, ...], Field(min_length=1, description="The conditions, all of them.")]
    ends_when: Annotated[
        tuple[Literal["came-down", "resumed", "weather-turned", "test-failed", "time-limit"], ...],
        Field(min_length=1, description="What closes it again."),
    ]
    minutes: int | None = Field(
        default=None, ge=5, le=480, description="Its time limit, where ends-when has time-limit."
    )
    if_not: Text = Field(description="What to do when a condition does not hold.")
    cautions: tuple[Id, ...] = Field(default=(), description="Cautions shown in full with the gate.")


class JoinedGate(Record):
    """A gate where the roof is not settled: which roof it is comes first, and picks one of the gates it joins.

    Where nobody can tell which roof it is, the conditions of all of them must hold.
    """

    title: Headline = Field(description="What it lets a person do.")
    joins: Annotated[
        tuple[Id, ...], Field(min_length=2, description="The gates by id, each for roofs that the others are not for.")
    ]
    if_not: Text = Field(description="What to do when a condition does not hold.")


def _gate_kind(value: Any) -> str:
    is_joined = isinstance(value, JoinedGate) or (isinstance(value, Mapping) and "joins" in value)
    return "a joined gate" if is_joined else "a gate"


WrittenGate: TypeAlias = Annotated[
    Annotated[Gate, Tag("a gate")] | Annotated[JoinedGate, Tag("a joined gate")], Discriminator(_gate_kind)
]
"""A gate as an author writes it; `gates.whole` makes every one a `Gate`."""


class Source(Record):
    """Where a number or rule was read."""

    title: Text = Field(description="Title, number and year.")
    publisher: Text = Field(description="Who published it.")
    kind: Literal["standard", "guidance", "book", "paper", "practice"] = Field(description="What sort of source it is.")
    seen: Literal["seen", "reported", "elsewhere", "memory"] = Field(
        description="seen: read there; reported: read in a page that reports it; elsewhere: read in a copy, or on the "
        "page of a firm, a magazine or a private person; memory: recalled, not seen."
    )
    states: Text = Field(description="What it is used for here.")
    address: Text | None = Field(
        default=None, description="Where it was seen, as text: a public, standards or trade body, or a publisher."
    )


class Term(Record):
    """A word of the trade, as this guide uses it."""

    term: Text = Field(description="The term as it stands in a sentence.")
    means: Text = Field(description="What it means here.")


class Vocabulary(Record):
    """The coverings and kinds of light that trees establish and remedies suit."""

    covering: Mapping[Id, Text] = Field(description="Coverings by id, each in words.")
    light: Mapping[Id, Text] = Field(description="Kinds of light by id, each in words.")
    found_on: Mapping[Id, tuple[Id, ...]] = Field(
        default_factory=dict, description="By kind of light: the coverings that it is set in."
    )
    roof: Mapping[Id, Text] = Field(
        default_factory=dict, description="What somebody who goes up stands on, by id, each in words."
    )
    lies_on: Mapping[Id, tuple[Id, ...]] = Field(
        default_factory=dict, description="By covering and by kind of light: the roofs that it lies on."
    )


class Settings(Record):
    """What the guide as a whole points to."""

    first_tree: Id = Field(description="The tree to begin with when nothing is known.")
    make_safe: Id = Field(description="The stopgap offered by Stop, come down.")


class Agreed(Record):
    """The agreement of a request to a tree that leads elsewhere; `review` tells the hash."""

    change: str = Field(pattern=HASH_PATTERN, description="The hash that `review` gives for what was and what is now.")
    since: Text = Field(description="Why it is right that answers lead elsewhere, for whoever reads the review.")


class Versions(Record):
    """What each tree and what it leads to was at its stated version."""

    version: Version = Field(description="The version that was recorded.")
    content: str = Field(pattern=HASH_PATTERN, description="A short hash of the tree with all it leads to.")
