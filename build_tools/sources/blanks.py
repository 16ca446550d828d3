"""Blanks that `new` leaves for the author: how they look, and that none is left when a guide is proved."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.model import every_value
from build_tools.model.problems import Problem
from build_tools.sources.compose import Composed

BLANK = "___"
"""What a value begins with that is still to be written; what follows says what belongs there."""


def blanks(composed: Composed) -> Iterator[Problem]:
    """Find every blank of a file. What else is wrong with it is told once they are filled."""
    for keys, value in every_value(composed.value):
        if isinstance(value, str) and BLANK in value:
            asked = " ".join(value.replace(BLANK, "").split())
            key = next((key for key in reversed(keys) if isinstance(key, str)), "this")
            mend = f"Write it: {asked}" if asked else "Write it, or take the line out."
            yield Problem(composed.value_places[keys], "blank-left", f'"{key}" is still a blank', mend)
