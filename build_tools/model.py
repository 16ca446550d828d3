"""The guide as typed, frozen records: what an author may write in trees/, key by key.

Plain data comes in (mappings of text, numbers and tuples, from `compose`), checked records come out. A
record holds no place in a file: `parse` keeps the places beside it. The JSON Schema that editors use is
made from these classes, so each key explains itself in its description here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag

ID_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"
TARGET_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)?$"

Id = Annotated[str, Field(pattern=ID_PATTERN)]
"""Lower-case words joined by hyphens; stable for ever, since records and links keep it."""
Text = Annotated[str, Field(min_length=1)]
Version = Annotated[str, Field(pattern=r"^(0|[1-9]\d*)\.(0|[1-9]\d*)\.(0|[1-9]\d*)$")]

ANSWERS = ("yes", "no", "unsure")
"""The three answers, in the order in which they are always shown."""


def _as_date(value: object) -> object:
    """Read a date from text, since the YAML reader leaves dates as text."""
    if isinstance(value, str):
        return date.fromisoformat(value)
    return value


Day = Annotated[date, BeforeValidator(_as_date)]


class Where(StrEnum):
    """Where a step is done, from the safest place to the most dangerous."""

    INSIDE = "inside"
    LOFT = "loft"
    GROUND = "ground"
    LADDER = "ladder"
    ROOF = "roof"


class Effort(StrEnum):
    """What a step disturbs, from nothing to what cannot be put back as it was."""

    LOOK = "look"
    TOUCH = "touch"
    WET = "wet"
    LIFT = "lift"
    STRIP = "strip"


class Act(StrEnum):
    """A dangerous thing to do, gated on its own wherever it is done."""

    HOSE_TEST = "hose-test"
    LIFT_GLASS = "lift-glass"
    HOT_WORK = "hot-work"


class Signal(StrEnum):
    """Signal words in the meaning of ANSI Z535.4: what happens if the hazard is not avoided."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"


# Enums arrive as text; strict mode would refuse it.
APlace = Annotated[Where, Field(strict=False)]
AnAct = Annotated[Act, Field(strict=False)]
Opening: TypeAlias = APlace | AnAct


def key_of(field_name: str) -> str:
    """Give the key an author writes for a field: hyphens for underscores."""
    return field_name.replace("_", "-")


class Record(BaseModel):
    """Base of all records: frozen, strict, no unknown keys, hyphens in the author's spelling."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, alias_generator=key_of, validate_by_alias=True)


Accept = Annotated[
    Mapping[str, Text],
    Field(default_factory=dict, description="A rule waived here, by its code, each with the reason."),
]
Sources = Annotated[
    tuple[Id, ...],
    Field(default=(), description="Ids from tables/sources.yaml that the numbers here rest on."),
]


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

    question: Text = Field(description="The question: one condition, under 90 letters, ends in a question mark.")
    if_so: Text = Field(description="What it looks like when the answer is yes.")
    if_not: Text = Field(description="What it looks like when the answer is no.")
    establishes: Mapping[str, Mapping[str, str]] = Field(
        default_factory=dict, description="By exit: the covering or light that this answer makes certain."
    )
    exits: Mapping[str, Id] = Field(description="yes, no and unsure, each with the step it leads to.")


class Measure(Looked):
    """A number decides: the verdicts of a formula are the exits."""

    measure: Id = Field(description="A formula by id; its verdicts are the exits, all of them routed.")
    question: Text = Field(description="What is being settled, as a question.")
    given: Mapping[str, float | int | str] = Field(
        default_factory=dict, description="Inputs of the formula that this step already settles."
    )
    exits: Mapping[str, Id] = Field(description="Each verdict of the formula, and unsure, with the step it leads to.")


class GateStep(StepBase):
    """Conditions that must all hold before a place or act is open."""

    gate: Id = Field(description="A gate by id from tables/gates.yaml.")
    exits: Mapping[str, Id] = Field(description="yes, no and unsure; only yes may lead to what the gate opens.")


class RemedyStep(StepBase):
    """The end of a walk: what to do."""

    remedy: Id = Field(description="A remedy by the name of its file in remedies/.")
    note: Text | None = Field(default=None, description="What this way of arriving adds, for the finding.")


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


class Tree(Record):
    """One tree: a start and steps, joined by exits."""

    title: Text = Field(description="What the tree is for, as the reader would say it.")
    version: Version = Field(description="Raised whenever the tree or what it leads to changes.")
    revised: Day = Field(description="The day of the last change, as 2026-11-25.")
    about: Text = Field(description="When to start here, and what it settles.")
    assumes: Mapping[str, tuple[str, ...]] = Field(
        default_factory=dict, description="Coverings or lights that are certain for everybody in this tree."
    )
    starts_at: Id = Field(description="The step where the walk begins.")
    parts: Mapping[Id, Text] = Field(default_factory=dict, description="Titles of the parts, in order.")
    steps: Annotated[Mapping[Id, Step], Field(min_length=1, description="The steps, by id, in the order of reading.")]
    accept: Accept


class Action(Record):
    """One step of the work."""

    do: Text = Field(description="One complete action, beginning with a verb.")
    right: Text | None = Field(default=None, description="What it looks like when it is done right.")
    where: Annotated[Where, Field(strict=False, description="Where it is done.")]
    acts: tuple[AnAct, ...] = Field(default=(), description="Dangerous acts it takes.")
    hazards: tuple[Id, ...] = Field(default=(), description="Hazards beyond those its place and acts bring.")
    drawing: Id | None = Field(default=None, description="A drawing in guide/drawings.")
    accept: Accept


class WorkGate(Record):
    """A gate inside the work: nothing below it is done until all its conditions hold."""

    gate: Id = Field(description="A gate by id from tables/gates.yaml.")
    accept: Accept


def _work_kind(value: Any) -> str:
    is_gate = isinstance(value, WorkGate) or (isinstance(value, Mapping) and "gate" in value)
    return "gate" if is_gate else "do"


WorkStep: TypeAlias = Annotated[
    Annotated[Action, Tag("do")] | Annotated[WorkGate, Tag("gate")],
    Discriminator(_work_kind),
]


class Material(Record):
    """One line of the list to buy from."""

    item: Text = Field(description="What to buy, by its trade name; never a brand.")
    quantity: Text = Field(description="How much, or how to work it out.")
    formula: Id | None = Field(default=None, description="The formula that gives the size or quantity.")


class Suits(Record):
    """What a remedy fits; `any` where it makes no difference."""

    covering: tuple[str, ...] = Field(description="Coverings from tables/vocabulary.yaml, or any.")
    light: tuple[str, ...] = Field(description="Kinds of light from tables/vocabulary.yaml, or any.")


class Cleaning(Record):
    """How what can silt up is reached and cleaned."""

    access: Text = Field(description="How it is reached.")
    every_months: int = Field(ge=1, le=120, description="How often it is looked at and cleaned.")


class Remedy(Record):
    """What to do: the end of every walk."""

    title: Text = Field(description="What is done, in a few words.")
    cures: Text = Field(description="What was wrong that this puts right, and what it does not.")
    suits: Suits
    lasts: Literal["lasting", "stopgap"] = Field(
        description="A stopgap names the months it may stand and what follows it."
    )
    stands_months: int | None = Field(default=None, ge=1, le=24, description="The most months a stopgap may stand.")
    followed_by: tuple[Id, ...] = Field(
        default=(), description="The lasting remedies one of which must follow a stopgap."
    )
    who: Text = Field(description="Who may do it.")
    glass: Literal["stays-in", "comes-out", "not-touched"] = Field(description="What happens to the glass.")
    tools: tuple[Text, ...] = Field(default=(), description="Tools and access to have there before starting.")
    materials: tuple[Material, ...] = Field(default=(), description="The list to buy from.")
    steps: Annotated[
        tuple[WorkStep, ...], Field(min_length=1, description="The work in its order: from the bottom up.")
    ]
    water_leaves: Text = Field(description="Where the water goes when the work is done.")
    cleaning: Cleaning | None = Field(default=None, description="Needed wherever anything can silt up.")
    cautions: Annotated[
        tuple[Id, ...],
        Field(min_length=1, description="Cautions by id; together they answer every hazard of the steps."),
    ]
    prove: Text = Field(description="The cheap test that shows that it worked.")
    after_failed_proof: str = Field(
        pattern=TARGET_PATTERN, description="Where to go on if it still leaks: tree or tree/step."
    )
    look_again: Text = Field(description="When to look at it again, and for what.")
    record: Text = Field(description="What to write down, for whom.")
    sources: Sources
    accept: Accept


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
    sources: Sources


class Gate(Record):
    """Conditions that must all hold before a place or act is open."""

    title: Text = Field(description="What it lets a person do.")
    opens: Annotated[
        tuple[Opening, ...],
        Field(min_length=1, description="The places and acts it opens."),
    ]
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


class Source(Record):
    """Where a number or rule was read."""

    title: Text = Field(description="Title, number and year.")
    publisher: Text = Field(description="Who published it.")
    kind: Literal["standard", "guidance", "book", "paper", "practice"] = Field(description="What sort of source it is.")
    seen: Literal["seen", "reported", "memory"] = Field(
        description="seen: read there; reported: read in a page that reports it; memory: recalled, not seen."
    )
    states: Text = Field(description="What it is used for here.")
    address: Text | None = Field(default=None, description="Where it was seen, as text; never a firm's own page.")


class Term(Record):
    """A word of the trade, as this guide uses it."""

    term: Text = Field(description="The term as it stands in a sentence.")
    means: Text = Field(description="What it means here.")


class Vocabulary(Record):
    """The coverings and kinds of light that trees establish and remedies suit."""

    covering: Mapping[Id, Text] = Field(description="Coverings by id, each in words.")
    light: Mapping[Id, Text] = Field(description="Kinds of light by id, each in words.")


class Settings(Record):
    """What the guide as a whole points to."""

    first_tree: Id = Field(description="The tree to begin with when nothing is known.")
    make_safe: Id = Field(description="The stopgap offered by Stop, come down.")


class Versions(Record):
    """What each tree and what it leads to was at its stated version."""

    version: Version
    content: str = Field(pattern=r"^[0-9a-f]{16}$", description="A short hash of the tree with all it leads to.")
