"""Remedies and their work: what an author may write in trees/remedies/, key by key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Discriminator, Field, Tag

from build_tools.model.base import TARGET_PATTERN, Accept, AnAct, Id, Record, Sources, Text, Where


class Action(Record):
    """One step of the work."""

    do: Text = Field(description="One complete action, beginning with a verb.")
    right: Text | None = Field(default=None, description="What it looks like when it is done right.")
    where: Annotated[Where, Field(strict=False, description="Where it is done.")]
    one_hand: Text | None = Field(
        default=None, description="On a ladder, and only there: how one hand does it, while the other holds on."
    )
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


class TakeOff(Record):
    """How a material is reckoned from the sizes of a light; `python -m build_tools calc take-off` explains each key."""

    run: Id = Field(description="What it is taken along: edges, courses, an area or the slope.")
    joint: Id | None = Field(default=None, description="How its pieces meet; left out, they need no lap.")
    past_mm: float | None = Field(default=None, description="How far it goes past each end of an edge.")
    longest_mm: float | None = Field(default=None, description="The longest piece that may be laid.")
    waste_percent: float | None = Field(
        default=None, description="Its waste, where it is not what a reader takes for all."
    )
    sold_m: float | None = Field(default=None, description="The length that one of it is sold in, or reaches.")
    sold_as: Text = Field(default="length", description="What one is called: length, roll, cartridge of 310 ml.")
    sources: Sources


class Material(Record):
    """One line of the list to buy from."""

    item: Text = Field(description="What to buy, by its trade name; never a brand.")
    quantity: Text = Field(description="How much, or how to work it out.")
    formula: Id | None = Field(default=None, description="The formula that gives the size or quantity.")
    take_off: TakeOff | None = Field(default=None, description="How its quantity follows from the sizes of a light.")


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
    suits: Suits = Field(description="The coverings and kinds of light it fits.")
    lasts: Literal["lasting", "stopgap", "mends-nothing"] = Field(
        description="A stopgap names the months it may stand and what follows it. "
        "What mends nothing by itself finds out, hands over or waits."
    )
    stands_months: int | None = Field(default=None, ge=1, le=24, description="The most months a stopgap may stand.")
    followed_by: tuple[Id, ...] = Field(
        default=(), description="What may follow a stopgap; no other stopgap, and one of them lasting."
    )
    urgent: bool = Field(
        default=False, description="Whether somebody may be in danger: then the work stands before everything else."
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
