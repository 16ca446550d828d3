"""The record of a review: every finding in the order in which it is read. Its JSON and schema come from here.

A finding says what it was before and what it is after, so that the review of B against A is this one with
the two sides changed over.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from pydantic import Field

from build_tools.review.record.facts import Change as Change
from build_tools.review.record.facts import Fact, Judged
from build_tools.review.record.facts import Spot as Spot
from build_tools.review.record.facts import change_of as change_of
from build_tools.review.record.told import Story, Unread, Whole

Measured = Literal["paths", "longest path", "mean path", "most minutes", "mean minutes"]
Asked = Literal["both", "before", "after"]
Step = Literal["none", "patch", "minor", "major"]
STEPS: tuple[Step, ...] = ("none", "patch", "minor", "major")
"""From the smallest to the greatest."""


class Row(Judged):
    """One difference in cautions, gates, remedies, steps, values or text."""

    change: Change = Field(description="What happened to it; in steps and text, other words are a change.")
    subject: str = Field(description="What it is of: a caution, gate, step or remedy, by id.")
    detail: str = Field(default="", description="The key that differs; empty where the whole came or went.")
    before: str | None = Field(default=None, description="What stood there before.")
    after: str | None = Field(default=None, description="What stands there after.")
    steps: tuple[str, ...] = Field(default=(), description="The steps before which it stood on one side only.")
    same_as: str | None = Field(
        default=None, description="The id under which the same content stands on the other side."
    )
    spot_before: Spot | None = Field(default=None, description="Where it stood before.")
    spot_after: Spot | None = Field(default=None, description="Where it stands after.")
    trees: tuple[str, ...] = Field(default=(), description="The trees whose walks meet it.")


class Answered(Fact):
    """One answer on an example of a path."""

    step: str = Field(description="The id of the step, as it was before where it was renamed.")
    answer: str = Field(description="The answer given there.")
    asked: Asked = Field(description="The versions that ask it on this path.")


class Ending(Fact):
    """Where a path ends."""

    kind: Literal["remedy", "go-to", "missing", "nothing"] = Field(
        description="missing: an exit leads to no step; nothing: the version does not have this tree."
    )
    name: str = Field(description="The id of the remedy, tree or missing step.")
    title: str = Field(description="Its title, for reading.")
    past: tuple[str, ...] = Field(default=(), description="Remedies that make safe, by id, done on the way to it.")


class PathChange(Judged):
    """All paths of a tree that ended in one place before and end in another after."""

    before: Ending = Field(description="Where they ended.")
    after: Ending = Field(description="Where they end.")
    count: int = Field(ge=1, description="How many they are.")
    example: tuple[Answered, ...] = Field(description="The shortest of them.")
    spot_before: Spot | None = Field(default=None, description="Before: the exit at which the versions part.")
    spot_after: Spot | None = Field(default=None, description="After: the exit at which the versions part.")


class TreePaths(Fact):
    """The paths of one tree that end differently."""

    tree: str = Field(description="The id of the tree.")
    changed: int = Field(ge=1, description="How many paths end differently.")
    total: int = Field(ge=1, description="Of how many.")
    endings: tuple[PathChange, ...] = Field(description="By where they ended and end, the most paths first.")


class Length(Fact):
    """A length of a tree's paths that differs."""

    tree: str = Field(description="The id of the tree.")
    measure: Measured = Field(description="Paths counted, questions asked on a path, or minutes stated on it.")
    before: float = Field(description="In paths, questions or minutes.")
    after: float = Field(description="In paths, questions or minutes.")


class Proposal(Fact):
    """The version that a tree should have."""

    tree: str = Field(description="The id of the tree.")
    step: Step = Field(description="How much of the version to raise.")
    before: str = Field(description="Its version before.")
    after: str = Field(description="The version it states after.")
    proposed: str = Field(description="The least version it should state.")


class Tried(Fact):
    """One set of inputs that was tried in both versions, and what a formula gave for it."""

    inputs: str = Field(description="As `calc` takes them, parted by commas; what is not there was left out.")
    before: str = Field(description="The results that differ, or the sentence of a refusal.")
    after: str = Field(description="The same in the version after.")


class Moved(Judged):
    """One formula that gives other results, by the inputs that were tried in both versions."""

    formula: str = Field(description="The id of the formula.")
    tried: int = Field(ge=1, description="How many sets of inputs were tried.")
    results: int = Field(ge=1, description="For how many of them anything is other: a number, verdict or refusal.")
    verdicts: int = Field(ge=0, description="For how many the verdict is another; there a walk takes another exit.")
    examples: tuple[Tried, ...] = Field(description="The shortest; and the shortest with another verdict.")
    used_by: tuple[str, ...] = Field(description="Steps that measure with it, and remedies that reckon with it.")
    trees: tuple[str, ...] = Field(description="The trees whose walks meet it.")
    spot_before: Spot | None = Field(default=None, description="Where its function stood before.")
    spot_after: Spot | None = Field(default=None, description="Where its function stands after.")


class Agreement(Fact):
    """A tree that a walk takes elsewhere, which the request has to agree to."""

    tree: str = Field(description="The id of the tree.")
    change: str = Field(description="A short hash of what its walk was and is now, as trees/tables/agreed.yaml has it.")
    since: str = Field(description="The reason that the request gives; empty where it agrees to no such change.")


class Side(Fact):
    """One of the two versions."""

    name: str = Field(description="The revision or folder, as it was asked for.")
    revision: str = Field(
        default="", description="The commit whose files these are, in full; empty where they are in no commit."
    )


class Review(Fact):
    """All that changed for a reader. The fields that have a title are its sections, in the order of reading."""

    before: Side = Field(description="The version that was.")
    after: Side = Field(description="The version that is proposed.")
    stories: tuple[Story, ...] = Field(
        title="Stories that end elsewhere", description="Stated cases, walked in both versions; the grave first."
    )
    unwalked: tuple[str, ...] = Field(description="Why stated cases were not walked, as sentences.")
    safety: tuple[Row, ...] = Field(title="Cautions and gates", description="The grave first.")
    paths: tuple[TreePaths, ...] = Field(
        title="Answers that lead elsewhere", description="By tree; the paths are counted, never listed."
    )
    uncounted: tuple[str, ...] = Field(description="Trees whose paths could not be compared, each with the reason.")
    whole: tuple[Whole, ...] = Field(
        title="New, in full", description="Trees, remedies, steps, gates, cautions and hazards that are new."
    )
    remedies: tuple[Row, ...] = Field(title="Remedies", description="Remedies added, removed, changed.")
    steps: tuple[Row, ...] = Field(
        title="Questions and exits", description="Questions reworded, steps and exits added, removed or led elsewhere."
    )
    values: tuple[Row, ...] = Field(
        title="Formulas and table values", description="What differs in them, wherever a reader may meet it."
    )
    moved: tuple[Moved, ...] = Field(description="Formulas whose results move; read with the values, and before them.")
    runs: tuple[str, ...] = Field(description="How formulas were run, or why they could not be, as sentences.")
    lengths: tuple[Length, ...] = Field(
        title="Length of the paths", description="Longest and mean paths and their minutes."
    )
    text: tuple[Row, ...] = Field(title="Text only", description="Other words only.")
    unread: tuple[Unread, ...] = Field(
        title="Also changed, and not compared here", description="Chapters that keep a reader from harm come first."
    )
    compared: tuple[str, ...] = Field(description="What was compared, in words; of nothing else is anything said.")
    step: Step = Field(description="The greatest version step that any change asks for.")
    proposals: tuple[Proposal, ...] = Field(description="The version each changed tree should have.")

    agreements: tuple[Agreement, ...] = Field(description="Trees that lead elsewhere; each has to be agreed to.")
    agreed_idly: tuple[str, ...] = Field(
        description="Trees for which the request agrees to a change that it does not make."
    )

    @property
    def reasons(self) -> tuple[str, ...]:
        """Give the reason of each finding that somebody must look at."""
        rows = (row for name in SECTIONS for row in getattr(self, name) if isinstance(row, Row))
        ends = (end for tree in self.paths for end in tree.endings)
        judged: tuple[Judged, ...] = (*self.stories, *rows, *ends, *self.moved)
        return tuple(each.grave for each in judged if each.grave)

    @property
    def grave(self) -> bool:
        """Tell whether somebody must look at anything."""
        return bool(self.reasons)

    @property
    def unagreed(self) -> tuple[Agreement, ...]:
        """Give the trees that lead elsewhere, and nobody has agreed."""
        return tuple(each for each in self.agreements if not each.since)

    @property
    def is_red(self) -> bool:
        """Tell whether the request must not be merged as it stands."""
        return self.grave or bool(self.unagreed)

    @property
    def empty(self) -> bool:
        """Tell whether nothing has changed in what was compared."""
        compared = (name for name in SECTIONS if name != "unread")
        kept = "unwalked", "uncounted", "moved", "runs", "agreed_idly"
        return not any(getattr(self, name) for name in (*compared, *kept))


SECTIONS: Mapping[str, str] = {name: field.title for name, field in Review.model_fields.items() if field.title}
"""The title of each section by its field, in the order of reading: text, Markdown, HTML and JSON all keep it."""


def greatest(steps: list[Step]) -> Step:
    """Give the greatest of some version steps; none where there are none."""
    return max(steps, key=STEPS.index, default="none")
