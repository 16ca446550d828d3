"""What a review tells beside differences: stories, what is new in full, and what was changed and not compared."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from build_tools.review.record.facts import Change, Fact, Judged, Spot


class StoryEnd(Fact):
    """Where a stated case ends, or where it can no longer go on."""

    kind: Literal["remedy", "question", "missing", "nothing"] = Field(
        description="question: it waits at a step that it has no answer for; missing: an exit leads to no step; "
        "nothing: there is no such tree."
    )
    name: str = Field(description="The id of the remedy, of the missing step, or of the step where it waits.")
    title: str = Field(description="Its title, for reading.")


class Story(Judged):
    """One stated case that ends elsewhere, or that was itself changed."""

    title: str = Field(description="The title of the case.")
    case: Literal["kept", "added", "removed", "changed"] = Field(description="What happened to the case itself.")
    before: StoryEnd | None = Field(description="Where it ended; nothing for a new case.")
    after: StoryEnd = Field(description="Where it ends.")
    states: str = Field(description="The end that it states, by its title, where it does not end so; else empty.")
    step: str = Field(description="The last step that both ways come to, as tree/step; empty where they do not part.")
    question: str = Field(description="What is asked there.")
    answer: str = Field(description="What is answered there; empty where there is no such answer.")
    spot: Spot = Field(description="Where the case states its end.")
    spot_before: Spot | None = Field(default=None, description="Before: the exit at which the ways part.")
    spot_after: Spot | None = Field(default=None, description="After: the exit at which the ways part.")


class Said(Fact):
    """One line that a reader gets, with the word that begins it."""

    word: str = Field(description="What the words are: a look, an answer, a warning.")
    words: str = Field(description="What is said.")


class WholeStep(Fact):
    """One step of what is new."""

    title: str = Field(description="Its number, and the question or work.")
    said: tuple[Said, ...] = Field(description="All that is said there.")
    spot: Spot | None = Field(default=None, description="Where it stands.")


class Whole(Fact):
    """What only the version after has, in full."""

    kind: Literal["tree", "remedy", "step", "gate", "caution", "hazard"] = Field(description="What it is.")
    name: str = Field(description="Its id; of a step tree/step.")
    title: str = Field(description="Its title.")
    said: tuple[Said, ...] = Field(description="Where it goes up and behind which gate, its hazards, its facts.")
    steps: tuple[WholeStep, ...] = Field(description="Its steps, in the order in which they are met.")
    spot: Spot | None = Field(default=None, description="Where it stands.")


class Passage(Fact):
    """Words of a chapter or drawing that differ."""

    before: str | None = Field(description="What stood there.")
    after: str | None = Field(description="What stands there.")
    spot_before: Spot | None = Field(description="Where it stood.")
    spot_after: Spot | None = Field(description="Where it stands.")


class Unread(Fact):
    """A file that differs, and that nothing here compares."""

    path: str = Field(description="Relative to the project, with forward slashes.")
    change: Change = Field(description="Added, removed or changed.")
    passages: tuple[Passage, ...] = Field(description="Of a chapter or drawing: the words that differ.")
