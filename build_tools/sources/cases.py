"""Stated cases from a folder: facts in, answers given, the remedy they must end in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.model.problems import Place, Problem
from build_tools.sources.compose import Composed, compose
from build_tools.sources.source import read_source


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer of a case, and the step it is given at; empty where the case does not name it."""

    step: str
    said: str
    place: Place


@dataclass(frozen=True, slots=True)
class Case:
    """One stated case: its title, the tree it begins in, its answers in order, and the remedy it must end in."""

    title: str
    """The name of its file where it states none."""
    tree: str
    answers: tuple[Answer, ...]
    ends_in: str
    tree_place: Place
    end_place: Place


def read_cases(root: Path, folder: Path) -> tuple[tuple[Case, ...], tuple[Problem, ...]]:
    """Read every case of a folder, *.yaml: `tree`, `answers` and `ends-in`; a problem for each that is none.

    Places are told from the root where the folder lies under it.
    """
    base = root if folder.is_relative_to(root) else folder
    read = [_read(base, file) for file in sorted(folder.glob("*.yaml"))]
    cases = tuple(case for case, _ in read if case is not None)
    return cases, tuple(problem for _, problems in read for problem in problems)


def _read(base: Path, file: Path) -> tuple[Case | None, tuple[Problem, ...]]:
    source = read_source(base, file)
    if isinstance(source, Problem):
        return None, (source,)
    composed, problems = compose(source)
    case = _case(composed, file.stem) if composed else None
    if case is None and not problems:
        mend = "Give it `tree:`, a list of `answers:`, and the remedy after `ends-in:`."
        problems = (Problem(Place(source.path, 1, 1), "wrong-value", "this is not a case", mend),)
    return case, problems


def _case(composed: Composed, name: str) -> Case | None:
    value, places = composed.value, composed.value_places
    if not isinstance(value, Mapping):
        return None
    tree, answers, end = (value.get(key) for key in ("tree", "answers", "ends-in"))
    if not isinstance(tree, str) or not isinstance(answers, tuple) or not isinstance(end, str):
        return None
    given = tuple(Answer(*_answer(each), places["answers", number]) for number, each in enumerate(answers))
    title = value.get("title")
    return Case(title if isinstance(title, str) else name, tree, given, end, places["tree",], places["ends-in",])


def _answer(said: Any) -> tuple[str, str]:
    """Take the step and the answer of an entry; an answer may be written alone."""
    step, answer = next(iter(said.items()), ("", "")) if isinstance(said, Mapping) else ("", said)
    return str(step), str(answer)
