"""Trees as their authors write them: each answer a block, each part a heading over its steps.

What an answer looks like stands beside where it leads. `whole_tree` makes of it the tree that is read.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, TypeAlias

from pydantic import AfterValidator, Discriminator, Field, Tag

from build_tools.model.base import ANSWERS, Id, Record, Text
from build_tools.model.trees import (
    GateBase,
    GateStep,
    GoTo,
    Measure,
    MeasureBase,
    Question,
    QuestionBase,
    RemedyStep,
    Step,
    Tree,
    TreeBase,
    step_kind,
)


class Way(Record):
    """Where an answer leads: to a step, or the way of another answer."""

    then: Id | None = Field(default=None, description="The step that it leads to.")
    as_: str | None = Field(default=None, description="The answer whose way it goes, in place of `then`.")
    since: Text | None = Field(default=None, description="Why it goes the way of that answer; the reader sees it.")


class Answer(Way):
    """Yes or no to a question: what it looks like, and where it leads."""

    looks: Text = Field(description="What it looks like when this is the answer.")


class WrittenQuestion(QuestionBase):
    """One thing to look at, answered yes, no or cannot tell."""

    yes: Answer = Field(description="What yes looks like, and where it leads.")
    no: Answer = Field(description="What no looks like, and where it leads.")
    unsure: Way = Field(description="Where it leads when it still cannot be told.")


class WrittenMeasure(MeasureBase):
    """A number decides: the verdicts of a formula are the answers."""

    verdicts: Mapping[str, Way] = Field(description="Each verdict of the formula, with where it leads.")
    unsure: Way = Field(description="Where it leads when the numbers are not to be had.")


class WrittenGateStep(GateBase):
    """Conditions that must all hold before a place or act is open."""

    yes: Way = Field(description="Where it leads when all conditions hold; only this may lead to what the gate opens.")
    no: Way = Field(description="Where it leads when one does not hold.")
    unsure: Way = Field(description="Where it leads when one cannot be told; the way of no needs no reason.")


WrittenStep: TypeAlias = Annotated[
    Annotated[WrittenQuestion, Tag("question")]
    | Annotated[WrittenMeasure, Tag("measure")]
    | Annotated[WrittenGateStep, Tag("gate")]
    | Annotated[RemedyStep, Tag("remedy")]
    | Annotated[GoTo, Tag("go-to")],
    Discriminator(step_kind),
]
Steps = Annotated[Mapping[Id, WrittenStep], Field(min_length=1)]


class Part(Record):
    """A part of a tree: one diagram, one run of paper."""

    title: Text = Field(description="Its heading.")
    steps: Steps = Field(description="Its steps, by id, in the order of reading.")


class WrittenTree(TreeBase):
    """One tree: a start and steps, joined by answers."""

    parts: Mapping[Id, Part] = Field(default_factory=dict, description="The parts, by id, each with its steps.")
    steps: Steps = Field(default={}, description="The steps that stand in no part, by id, in the order of reading.")


def whole_tree(written: WrittenTree) -> Tree:
    """Read a tree as its author wrote it. Whether each answer leads somewhere, `sources.answers` tells."""
    steps = {name: _read(step, part) for part, each in written.parts.items() for name, step in each.steps.items()}
    steps |= {name: _read(step, None) for name, step in written.steps.items()}
    parts = {name: each.title for name, each in written.parts.items()}
    return Tree.model_construct(**_held(written, TreeBase), parts=parts, steps=steps)


def _read(step: WrittenStep, part: str | None) -> Step:
    if isinstance(step, RemedyStep | GoTo):
        return step.model_copy(update={"part": part})
    verdicts = step.verdicts if isinstance(step, WrittenMeasure) else {}
    ways: dict[str, Way] = {**verdicts, **{each: way for each in ANSWERS if (way := getattr(step, each, None))}}
    told = {
        "part": part,
        "exits": {answer: _target(ways, answer) for answer in ways},
        "since": {answer: way.since for answer, way in ways.items() if way.since},
    }
    if isinstance(step, WrittenQuestion):
        told |= {"if_so": step.yes.looks, "if_not": step.no.looks}
        return Question.model_construct(**{**_held(step, QuestionBase), **told})
    if isinstance(step, WrittenMeasure):
        return Measure.model_construct(**{**_held(step, MeasureBase), **told})
    return GateStep.model_construct(**{**_held(step, GateBase), **told})


def _held(record: Record, kind: type[Record]) -> dict[str, Any]:
    return {name: getattr(record, name) for name in kind.model_fields}


def _target(ways: Mapping[str, Way], answer: str) -> str:
    """Give the step that an answer leads to; nothing where its ways go round in a circle, which is told elsewhere."""
    for _ in ways:
        if answer in ways and (way := ways[answer]).as_ and not way.then:
            answer = way.as_
    return ways[answer].then or "" if answer in ways else ""


WrittenAsTree = Annotated[WrittenTree, AfterValidator(whole_tree)]
"""What a file of trees/ holds: read as `Tree`."""
