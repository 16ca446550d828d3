"""Trees and their steps as they are read: a step with one mapping of exits, a tree with one of steps.

Keys that an author writes as they stand here are told of here; the form of answers and parts is `written`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Discriminator, Field, Tag
from pydantic.json_schema import SkipJsonSchema

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

    part: SkipJsonSchema[Id | None] = Field(default=None, description="The part under whose heading it stands.")
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


class QuestionBase(Looked):
    """What a question is, but for its answers."""

    question: Headline = Field(description="The question: one condition, under 90 letters, ends in a question mark.")
    establishes: Mapping[str, Mapping[str, OneOrMore]] = Field(
        default_factory=dict,
        description="By answer: the covering or light that this answer makes certain, or the few it leaves.",
    )


class MeasureBase(Looked):
    """What a measure is, but for its answers."""

    measure: Id = Field(description="A formula by id; its verdicts are answers, all of them with a way.")
    question: Headline = Field(description="What is being settled, as a question.")
    given: Mapping[str, float | str] = Field(
        default_factory=dict, description="Inputs of the formula that this step already settles."
    )


class GateBase(StepBase):
    """What a step at a gate is, but for its answers."""

    gate: Id = Field(description="A gate by id from tables/gates.yaml.")


class Answered(Record):
    """The answers of a step as they are read."""

    exits: Mapping[str, Id] = Field(description="By answer: the step that it leads to, by `then` or by `as`.")
    since: Mapping[str, Text] = Field(
        default_factory=dict, description="By answer: why it goes the way of another; of a measure, of several."
    )


class Question(QuestionBase, Answered):
    """A question as it is read."""

    if_so: Text = Field(description="What yes looks like.")
    if_not: Text = Field(description="What no looks like.")


class Measure(MeasureBase, Answered):
    """A measure as it is read."""


class GateStep(GateBase, Answered):
    """A step at a gate as it is read."""


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


class TreeBase(Record):
    """What a tree is, but for its steps."""

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
    any_order: tuple[AnyOrder, ...] = Field(
        default=(), description="Runs of checks that could be made in any order; read by authors and `check` only."
    )
    accept: Accept


class Tree(TreeBase):
    """A tree as it is read: its steps in one mapping, whatever their part."""

    parts: Mapping[Id, Text] = Field(default_factory=dict, description="Titles of the parts, in order.")
    steps: Mapping[Id, Step] = Field(description="The steps by id, those of each part together.")
