"""A walk as a course: the steps that somebody comes to who gives these answers.

`follow` is the one walker: `check` and `review` give it the walks of a draft (`draft_walks`), the shell those of the
pages (`guide.walk`).
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

WalkData = Mapping[str, Any]
"""One tree: `start`, and `steps` by id, of which `follow` reads kind, title, exits, gate and goTo."""


def is_open(gate: Mapping[str, Any], opened: Container[str]) -> bool:
    """Tell whether a gate is passed without asking; one that joins others is open when one of these is."""
    return gate["id"] in opened or any(each["id"] in opened for each in gate["picks"].values())


def opened_by(gate: Mapping[str, Any], roof: str = "") -> frozenset[str]:
    """Give the gates that a yes opens: of a joined gate the one for this roof, or all where the roof is not told."""
    picks = {name: each["id"] for name, each in gate["picks"].items() if name == roof or not roof}
    return frozenset(picks.values() or (gate["id"],))


class State(NamedTuple):
    """Where a walk stands, and the gates that are open by then."""

    tree: str
    step: str
    opened: frozenset[str] = frozenset()


def unasked(walks: Mapping[str, WalkData], here: State) -> State | None:
    """Give where a walk goes on to without an answer: by a hand-over, or by the yes of a gate that is open."""
    data = walks[here.tree]["steps"][here.step]
    if "goTo" in data:
        return State(data["goTo"]["tree"], data["goTo"]["step"], here.opened)
    is_passed = "gate" in data and is_open(data["gate"], here.opened)
    return here._replace(step=data["exits"]["yes"]) if is_passed else None


def answered(walks: Mapping[str, WalkData], here: State, answer: str, roof: str = "") -> State:
    """Give where an answer leads; the yes of a gate opens it, for a roof where that is told."""
    data = walks[here.tree]["steps"][here.step]
    opens = opened_by(data["gate"], roof) if "gate" in data and answer == "yes" else frozenset()
    return State(here.tree, data["exits"][answer], here.opened | opens)


@dataclass(frozen=True, slots=True)
class Stop:
    """One step that a walk came to, and the answer given there; None where it waits or ends."""

    tree: str
    step: str
    kind: str
    title: str
    answer: str | None
    asked: bool = True
    """False for a gate that was open already, and is passed without asking."""


class WrongAnswer(ValueError):
    """An answer that the step does not have; the message says which it has."""

    def __init__(self, said: str, course: tuple[Stop, ...] = ()) -> None:
        super().__init__(said)
        self.course = course
        """The steps up to the one that does not have it."""


def follow(walks: Mapping[str, WalkData], tree_id: str, answers: Iterable[str]) -> tuple[Stop, ...]:
    """Walk from a tree's start by the answers given, through other trees where it hands over.

    A gate whose yes was given stays open and is passed without asking again. At a gate that joins others the
    roof may stand for yes ("slope"): it opens the gate for that roof, and yes opens all of them. The last stop
    is a remedy, the step that waits for the next answer, or a hand-over to what is not among the walks. Raises
    WrongAnswer for an answer the step does not have, and for answers left over at the end.
    """
    course: list[Stop] = []
    given = iter(answers)
    here = State(tree_id, str(walks[tree_id]["start"]))
    while True:
        data = walks[here.tree]["steps"][here.step]
        onward = unasked(walks, here)
        is_passed = onward is not None and data["kind"] == "gate"
        try:
            answer, roof = ("yes", "") if is_passed else _answer(data, given)
        except WrongAnswer as wrong:
            wrong.course = (*course, Stop(here.tree, here.step, data["kind"], data["title"], None))
            raise
        course.append(Stop(here.tree, here.step, data["kind"], data["title"], answer, not is_passed))
        if onward is None and answer is None:
            break
        here = onward or answered(walks, here, str(answer), roof)
    left = list(given)
    if left and course[-1].kind == "remedy":
        over = "1 answer" if len(left) == 1 else f"{len(left)} answers"
        raise WrongAnswer(f'the walk ended at "{course[-1].title}" with {over} left over', tuple(course))
    return tuple(course)


def _answer(data: Mapping[str, Any], given: Iterable[str]) -> tuple[str | None, str]:
    """Take the next answer to a step, and the roof where that was told; None where the walk waits or ends."""
    if not data["exits"]:
        return None, ""
    answer = next(iter(given), None)
    if answer in data.get("gate", {}).get("picks", {}):
        return "yes", str(answer)
    if answer is not None and answer not in data["exits"]:
        raise WrongAnswer(f'"{answer}" is not an answer to "{data["title"]}"; answer {", ".join(answers_to(data))}')
    return answer, ""


def answers_to(data: Mapping[str, Any]) -> tuple[str, ...]:
    """Give all that a step can be answered with."""
    return (*data.get("gate", {}).get("picks", {}), *data["exits"])
