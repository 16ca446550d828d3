"""Answers of one step that were exchanged: their exits, or what yes and no look like.

In the file each looks harmless by itself; together they turn the question round.
"""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.model import Question, StepBase
from build_tools.model.problems import KeyPath
from build_tools.proof.graph import exits_of
from build_tools.review.differences.fields import Rename
from build_tools.review.versions.matching import alike, plain

Reasons = Mapping[KeyPath, str]
"""Why somebody must look at it, by the keys of a step."""


def exchanged(before: StepBase, after: StepBase, rename: Rename) -> Reasons:
    """Find the answers that changed places. rename: gives the ids of steps as they are in the second version."""
    return {**_exits(before, after, rename), **_looks(before, after)}


def _exits(before: StepBase, after: StepBase, rename: Rename) -> Reasons:
    old = {answer: rename("exits", head) for answer, head in exits_of(before).items()}
    new = exits_of(after)
    moved = [answer for answer in old if answer in new and old[answer] != new[answer]]
    return {
        ("exits", one): f'"{one}" now leads where "{other}" led, and "{other}" leads elsewhere'
        for one in moved
        for other in moved
        if new[one] == old[other]
    }


def _looks(before: StepBase, after: StepBase) -> Reasons:
    if not isinstance(before, Question) or not isinstance(after, Question):
        return {}
    old = plain(before.if_so), plain(before.if_not)
    new = plain(after.if_so), plain(after.if_not)
    if alike(new[0], old[1]) + alike(new[1], old[0]) <= alike(new[0], old[0]) + alike(new[1], old[1]):
        return {}
    reason = "what yes and what no look like changed places"
    return {("if-so",): reason, ("if-not",): reason}
