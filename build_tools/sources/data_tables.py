"""The data tables of this project, as the formulas take them in: all of them read at once, or none.

The library reads the same tables of whatever folder is checked; these are the ones that stand beside the
program, since a formula is part of the program and its numbers belong to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from build_tools.model import DATA_TABLES, DataRow, Id
from build_tools.model.problems import Place, Problem, has_errors, in_order
from build_tools.sources.parse import parse
from build_tools.sources.source import SourceFile, read_source

ROOT = Path(__file__).resolve().parents[2]
DATA: Mapping[str, TypeAdapter[Any]] = {
    name: TypeAdapter(Mapping[Id, kind])  # type: ignore[valid-type]
    for name, kind in DATA_TABLES.items()
}
"""Each data table by its file name, with what its file holds."""

Data = Mapping[str, Mapping[str, DataRow]]
"""By table, then by id: the rows, in the order of the file."""


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
    data = {name: _rows(root, name, sources, problems) for name in DATA_TABLES}
    if has_errors(problems):
        raise FaultyTables(in_order(problems), sources)
    return data


def _rows(root: Path, name: str, sources: dict[str, SourceFile], problems: list[Problem]) -> Mapping[str, DataRow]:
    path = table_path(name)
    if not (root / path).exists():
        what = "this table is not there, and formulas reckon with it"
        mend = "Write it, or take its model out of build_tools/model/data.py."
        problems.append(Problem(Place(path, 1, 1), "missing-file", what, mend))
        return {}
    read = read_source(root, root / path)
    if isinstance(read, Problem):
        problems.append(read)
        return {}
    sources[path] = read
    parsed, found = parse(read, DATA[name])
    problems.extend(found)
    rows: Mapping[str, DataRow] = parsed.record if parsed else {}
    return rows


@cache
def own_data() -> Data:
    """Give the data tables that stand beside this program; FaultyTables where one cannot be used."""
    return read_data(ROOT)


def sources_of(tables: tuple[str, ...]) -> Iterator[str]:
    """Give the sources of all rows of these tables, once each."""
    yield from dict.fromkeys(row.source for name in tables for row in own_data()[name].values())
