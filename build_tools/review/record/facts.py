"""What every finding of a review is made of: a frozen fact, the line it stands on, what happened, why it is grave."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Change = Literal["removed", "weakened", "moved-later", "added", "strengthened", "moved-earlier", "changed"]


def change_of(before: object, after: object) -> Change:
    """Tell what happened to a thing, None where a version does not have it."""
    return "added" if before is None else "removed" if after is None else "changed"


class Fact(BaseModel):
    """Base of all that is found: frozen, and with no other keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Spot(Fact):
    """A line of a source file."""

    path: str = Field(description="Relative to the project, with forward slashes.")
    line: int = Field(ge=1, description="Counts from 1.")


class Judged(Fact):
    """A finding that somebody may have to look at."""

    grave: str = Field(default="", description="Why somebody must look at it; empty where nobody must.")
