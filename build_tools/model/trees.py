"""Trees and their steps: what an author may write in trees/, key by key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Discriminator, Field, Tag

from build_tools.model.base import (
    TARGET_PATTERN,
    Accept,
    AnAct,
    APlace,
    Day,
    Effort,
    Headline,
    Id,
    OneOrMore,
    Record,
    Sources,
    Text,
    Version,
    Where,
)


class StepBase(Record):
    """What every kind of step may carry."""

    part: Id | None = Field(
        default=None, description="The part of the tree it belongs to: one diagram, one run of paper."
    )
    accept: Accept


class Looked(StepBase):
    """What a question and a measure share: a person goes somewhere and finds something out."""

    where: Annotated[Where, Field(strict=False, description="Where it is done.")]
    effort: Annotated[Effort, Field(strict=False, description="What it disturbs; cheap and reversible comes first.")]
    minutes: int | None = Field(default=None, ge=1, le=600, description="About how long it takes.")
    look: Text = Field(description="What to do and where to look: one thing.")
    why: Text = Field(description="One sentence: what the answer tells.")
    find_out: Text | None = Field(
        default=None, description="If it cannot be told now: how to find out. The walk waits here."
    )
    drawing: Id | None = Field(
        default=None, description="A drawing in guide/drawings, by its file name without the ending."
    )
    carry: tuple[Text, ...] = Field(default=(), description="What to have in the pocket for it.")
    acts: tuple[AnAct, ...] = Field(default=(), description="Dangerous acts it takes.")
    hazards: tuple[Id, ...] = Field(default=(), description="Hazards beyond those its place and acts bring.")
    sources: Sources


class Question(Looked):
    """One thing to look at, answered yes, no or cannot tell."""

    question: Headline = Field(description="The question: one condition, under 90 letters, ends in a question mark.")
    if_so: Text = Field(description="What it looks like when the answer is yes.")
    if_not: Text = Field(description="What it looks like when the answer is no.")
    establishes: Mapping[str, Mapping[str, OneOrMore]] = Field(
        default_factory=dict,
        description="By exit: the covering or light that this answer makes certain, or the few it leaves.",
    )
    exits: Mapping[str, Id] = Field(description="yes, no and unsure, each with the step it leads to.")


class Measure(Looked):
    """A number decides: the verdicts of a formula are the exits."""

    measure: Id = Field(description="A formula by id; its verdicts are the exits, all of them routed.")
    question: Headline = Field(description="What is being settled, as a question.")
    given: Mapping[str, float | str] = Field(
        default_factory=dict, description="Inputs of the formula that this step already settles."
    )
    exits: Mapping[str, Id] = Field(description="Each verdict of the formula, and unsure, with the step it leads to.")


class GateStep(StepBase):
    """Conditions that must all hold before a place or act is open."""

    gate: Id = Field(description="A gate by id from tables/gates.yaml.")
    exits: Mapping[str, Id] = Field(description="yes, no and unsure; only yes may lead to what the gate opens.")


class RemedyStep(StepBase):
    """What to do: the end of a walk, or what comes first before it goes on."""

    remedy: Id = Field(description="A remedy by the name of its file in remedies/.")
    note: Text | None = Field(default=None, description="What this way of arriving adds, for the finding.")
    then: Id | None = Field(
        default=None, description="Where the walk goes on when it is done, as after a danger that is made safe."
    )


class GoTo(StepBase):
    """Hands over to another tree."""

    go_to: str = Field(pattern=TARGET_PATTERN, description="A tree by id, or tree/step.")


STEP_KINDS: Mapping[str, type[StepBase]] = {
    "measure": Measure,
    "question": Question,
    "gate": GateStep,
    "remedy": RemedyStep,
    "go-to": GoTo,
}
"""The key that makes a step what it is, in the order in which it is looked for."""


def step_kind(value: Any) -> str:
    """Tell the kind of a step from its keys (a `measure` has a question too)."""
    if isinstance(value, StepBase):
        return next(kind for kind, record in STEP_KINDS.items() if type(value) is record)
    return next((kind for kind in STEP_KINDS if isinstance(value, Mapping) and kind in value), "question")


Step: TypeAlias = Annotated[
    Annotated[Question, Tag("question")]
    | Annotated[Measure, Tag("measure")]
    | Annotated[GateStep, Tag("gate")]
    | Annotated[RemedyStep, Tag("remedy")]
    | Annotated[GoTo, Tag("go-to")],
    Discriminator(step_kind),
]


Chance = Annotated[float, Field(ge=0, le=1)]


class AskFirst(Record):
    """A question that the tree does not ask, which could be put before a run of checks."""

    question: Text = Field(description="The question, as it would be asked.")
    minutes: int = Field(ge=1, le=600, description="About how long it takes.")
    leaves: Annotated[
        Mapping[str, tuple[Id, ...]],
        Field(min_length=2, description="By answer: the steps of the run that are still to be asked after it."),
    ]


class AnyOrder(Record):
    """A run of checks of which any could come first, for `check` to reckon whether another order is cheaper."""

    steps: Annotated[
        tuple[Id, ...],
        Field(
            min_length=2, description="The steps as they are asked: each leads straight to the next. Each has minutes."
        ),
    ]
    causes: Literal["one", "several"] = Field(
        default="one", description="one: one cause at most is there; several: causes arise apart from each other."
    )
    chance: Mapping[Id, Chance] = Field(
        default_factory=dict,
        description="By step, for all or none: the chance that its cause is there. Without it all are equally likely.",
    )
    missed: Mapping[Id, Chance] = Field(
        default_factory=dict,
        description="By step, where it can miss: the chance that it overlooks what is there; for one cause only.",
    )
    access: Mapping[APlace, Annotated[int, Field(ge=1, le=600)]] = Field(
        default_factory=dict, description="By place: the minutes that it takes to get ready to work there, once."
    )
    ask_first: AskFirst | None = Field(
        default=None, description="A question that would tell them apart, to see whether it pays; for one cause only."
    )
    sources: Sources
    accept: Accept


class Tree(Record):
    """One tree: a start and steps, joined by exits."""

    title: Text = Field(description="What the tree is for, as the reader would say it.")
    version: Version = Field(description="Raised whenever the tree or what it leads to changes.")
    revised: Day = Field(description="The day of the last change, as 2026-11-25.")
    about: Text = Field(description="When to start here, and what it settles.")
    begins_with: Literal["sign", "part", "decision"] | None = Field(
        default=None,
        description="What brings a reader to it: a sign of the leak, a part of the light or roof, a decision. "
        "Without it, it stands before all these.",
    )
    assumes: Mapping[str, tuple[str, ...]] = Field(
        default_factory=dict, description="Coverings or lights that are certain for everybody in this tree."
    )
    starts_at: Id = Field(description="The step where the walk begins.")
    parts: Mapping[Id, Text] = Field(default_factory=dict, description="Titles of the parts, in order.")
    steps: Annotated[Mapping[Id, Step], Field(min_length=1, description="The steps, by id, in the order of reading.")]
    any_order: tuple[AnyOrder, ...] = Field(
        default=(), description="Runs of checks that could be made in any order; read by authors and `check` only."
    )
    accept: Accept
