"""A stated case, walked: where it comes to, and where it first strays from what it states."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from build_tools.model import Case
from build_tools.model.problems import KeyPath, did_you_mean
from build_tools.proof.walk import Stop, WalkData, WrongAnswer, follow


class Stray(NamedTuple):
    """What a case states and its walk does not bear out: the keys of it, and what is wrong."""

    keys: KeyPath
    what: str


def answers_of(case: Case) -> list[tuple[str, str]]:
    """Give the answers of a case in their order, each with the step that it is given at."""
    return [given for each in case.answers for given in each.items()]


def walked(walks: Mapping[str, WalkData], case: Case) -> tuple[tuple[Stop, ...], Stray | None]:
    """Walk a case from its start to its end, to where it strays, or to what is not among the walks.

    The course is empty where there is no such tree.
    """
    if case.tree not in walks:
        mend = did_you_mean(case.tree, walks, f"The trees are: {', '.join(walks)}.")
        return (), Stray(("tree",), f'"{case.tree}" is not a tree. {mend}')
    wrong = ""
    try:
        course = follow(walks, case.tree, [said for _, said in answers_of(case)])
    except WrongAnswer as refused:
        course, wrong = refused.course, str(refused)
    if course[-1].kind in ("go-to", "missing"):
        return course, None
    asked = [each for each in course if each.asked and walks[each.tree]["steps"][each.step]["exits"]]
    for number, ((step, _), stop) in enumerate(zip(answers_of(case), asked, strict=False)):
        if step != stop.step:
            return course, Stray(("answers", number), f'this answers "{step}", but the walk has come to "{stop.step}"')
    if wrong:
        return course, Stray(("answers", sum(each.answer is not None for each in asked)), wrong)
    return course, _end(walks, case, course[-1])


def _end(walks: Mapping[str, WalkData], case: Case, last: Stop) -> Stray | None:
    end = walks[last.tree]["steps"][last.step].get("remedy")
    if end is None:
        return Stray(("ends-in",), f'the walk is not at its end: it still asks "{last.title}"')
    if end != case.ends_in:
        return Stray(("ends-in",), f'the walk ends in "{end}", and not in "{case.ends_in}"')
    return None
