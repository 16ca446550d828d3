"""The data tables of a project folder by themselves, for who calculates and reads no trees: all of them, or none."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from build_tools.model.data import DATA, Data, Rows
from build_tools.model.problems import Place, Problem, has_errors, in_order
from build_tools.sources.parse import parse
from build_tools.sources.source import SourceFile, read_source

NOT_THERE = (
    "this table is not there, and formulas reckon with it",
    "Write it, or take its model out of build_tools/model/data.py.",
)
"""What is wrong where a data table has no file, and how to mend it."""


class FaultyTables(Exception):
    """A data table cannot be used, and so no formula can be; it carries the problems of all data tables."""

    def __init__(self, problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> None:
        super().__init__(", ".join(sorted({each.place.path for each in problems})))
        self.problems = problems
        self.sources = sources


def table_path(name: str) -> str:
    """Give the path of a table's file."""
    return f"trees/tables/{name}.yaml"


def read_data(root: Path) -> Data:
    """Read every data table of a project folder; FaultyTables where one is not there or has an error."""
    sources: dict[str, SourceFile] = {}
    problems: list[Problem] = []
    data = {name: _rows(root, name, sources, problems) for name in DATA}
    if has_errors(problems):
        raise FaultyTables(in_order(problems), sources)
    return data


def _rows(root: Path, name: str, sources: dict[str, SourceFile], problems: list[Problem]) -> Rows:
    path = table_path(name)
    if not (root / path).exists():
        problems.append(Problem(Place(path, 1, 1), "missing-file", *NOT_THERE))
        return {}
    read = read_source(root, root / path)
    if isinstance(read, Problem):
        problems.append(read)
        return {}
    sources[path] = read
    parsed, found = parse(read, DATA[name])
    problems.extend(found)
    rows: Rows = parsed.record if parsed else {}
    return rows
