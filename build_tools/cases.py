"""Stated cases from a folder: facts in, answers given, the remedy they must end in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.compose import compose
from build_tools.problems import Place, Problem
from build_tools.source import read_source


@dataclass(frozen=True, slots=True)
class Case:
    """One stated case: the tree it begins in, and its answers in order."""

    path: str
    tree: str
    answers: tuple[str, ...]


def read_cases(folder: Path) -> tuple[tuple[Case, ...], tuple[Problem, ...]]:
    """Read every case of a folder, *.yaml, with `tree` and `answers`; a problem for each that is none."""
    read = [_read(folder, file) for file in sorted(folder.glob("*.yaml"))]
    cases = tuple(case for case, _ in read if case is not None)
    return cases, tuple(problem for _, problems in read for problem in problems)


def _read(folder: Path, file: Path) -> tuple[Case | None, tuple[Problem, ...]]:
    source = read_source(folder, file)
    if isinstance(source, Problem):
        return None, (source,)
    composed, problems = compose(source)
    case = _case(source.path, composed.value) if composed else None
    if case is None and not problems:
        mend = "Give it `tree:` and a list of `answers:`."
        problems = (Problem(Place(source.path, 1, 1), "wrong-value", "this is not a case", mend),)
    return case, problems


def _case(path: str, value: Any) -> Case | None:
    if not isinstance(value, Mapping) or not isinstance(value.get("tree"), str):
        return None
    answers = value.get("answers")
    if not isinstance(answers, tuple):
        return None
    return Case(path, value["tree"], tuple(_answer(each) for each in answers))


def _answer(said: Any) -> str:
    """Take an answer, written alone or after the id of its step."""
    return str(next(iter(said.values()), "")) if isinstance(said, Mapping) else str(said)
