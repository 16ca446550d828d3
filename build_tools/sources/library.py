"""The folder trees/ as one draft: every tree, remedy and table, parsed and not yet proved."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter

from build_tools.formulas import Formula, formulas_of
from build_tools.model import (
    ID_PATTERN,
    Agreed,
    Case,
    Caution,
    Gate,
    Hazard,
    HazardWords,
    Id,
    JoinedGate,
    PaneWords,
    PublishedNumbers,
    Readings,
    Remedy,
    Settings,
    Source,
    Term,
    Tree,
    Versions,
    Vocabulary,
    WrittenAsTree,
    WrittenGate,
)
from build_tools.model.data import DATA, Data
from build_tools.model.problems import Place, Problem, did_you_mean, nearest
from build_tools.sources import CASES
from build_tools.sources.data_tables import table_path as table_path
from build_tools.sources.gates import whole
from build_tools.sources.old_form import in_new_form
from build_tools.sources.parse import Parsed, parse
from build_tools.sources.source import SourceFile, files_below, read_source

T = TypeVar("T")

TREE: TypeAdapter[Tree] = TypeAdapter(WrittenAsTree)  # type: ignore[arg-type]  # what comes out of it
REMEDY: TypeAdapter[Remedy] = TypeAdapter(Remedy)
CASE: TypeAdapter[Case] = TypeAdapter(Case)
TABLES: Mapping[str, TypeAdapter[Any]] = {
    "cautions": TypeAdapter(Mapping[Id, Caution]),
    "gates": TypeAdapter(Mapping[Id, WrittenGate]),
    "hazards": TypeAdapter(Mapping[Id, Hazard]),
    "sources": TypeAdapter(Mapping[Id, Source]),
    "terms": TypeAdapter(Mapping[Id, Term]),
    "vocabulary": TypeAdapter(Vocabulary),
    "settings": TypeAdapter(Settings),
    "versions": TypeAdapter(Mapping[Id, Versions]),
    "agreed": TypeAdapter(Mapping[Id, Agreed]),
}
"""Each table by its file name, with what it holds; the data tables stand beside these."""
PROOFS: Mapping[str, TypeAdapter[Any]] = {
    "hazards-read": TypeAdapter(Readings),
    "hazard-words": TypeAdapter(HazardWords),
    "pane-words": TypeAdapter(PaneWords),
    "published-numbers": TypeAdapter(PublishedNumbers),
}
"""Each file in trees/proofs/ by its name, with what it holds; a guide without one is not held to it."""
EMPTY: Mapping[str, Any] = {
    "vocabulary": Vocabulary.model_construct(covering={}, light={}),
    "settings": Settings.model_construct(first_tree="", make_safe=""),
}


BELONGS = (
    "Trees stand in trees/, remedies in trees/remedies/, tables under their names in trees/tables/, "
    "stated cases in trees/cases/, readings under their names in trees/proofs/."
)
Files = Mapping[str, Parsed[Any]]
"""Parsed files by their paths."""


@dataclass(frozen=True, slots=True)
class Draft:
    """All that could be parsed. Records of broken files are absent, but their names are known."""

    trees: Mapping[str, Tree]
    remedies: Mapping[str, Remedy]
    cautions: Mapping[str, Caution]
    gates: Mapping[str, Gate]
    """Every gate whole, whatever it joins."""
    written_gates: Mapping[str, Gate | JoinedGate]
    """The table of gates as its author wrote it."""
    hazards: Mapping[str, Hazard]
    sources: Mapping[str, Source]
    terms: Mapping[str, Term]
    vocabulary: Vocabulary
    settings: Settings
    versions: Mapping[str, Versions]
    agreed: Mapping[str, Agreed]
    """To which trees that lead elsewhere somebody agreed, by tree; read by `review` only."""
    drawings: frozenset[str]
    named: Mapping[str, frozenset[str]]
    """Every tree ("trees") and remedy ("remedies") that has a file, parsed or not."""
    files: Files
    """Each parsed file by its path, for places and quotations."""
    data: Data = field(default_factory=dict)
    """The data tables that formulas calculate with."""
    formulas: Mapping[str, Formula] = field(default_factory=dict, compare=False)
    """All formulas, made of these tables; none where one of them has no rows, or could not be read."""
    cases: Mapping[str, Case] = field(default_factory=dict)
    """The stated cases by the names of their files."""
    proofs: Mapping[str, Any] = field(default_factory=dict)
    """What was read by hand, by the names of those files of `PROOFS` that there are."""
    unread: frozenset[str] = frozenset()
    """What has a file that could not be read as records: "trees", "remedies", "cases" or the name of its kind."""


def tree_path(tree_id: str) -> str:
    """Give the path of a tree's file."""
    return f"trees/{tree_id}.yaml"


def remedy_path(remedy_id: str) -> str:
    """Give the path of a remedy's file."""
    return f"trees/remedies/{remedy_id}.yaml"


def case_path(name: str) -> str:
    """Give the path of a stated case's file."""
    return f"{CASES}/{name}.yaml"


def proof_path(name: str) -> str:
    """Give the path of what was read by hand."""
    return f"trees/proofs/{name}.yaml"


def read_library(
    root: Path, known: Files | None = None, *, renewing: bool = False
) -> tuple[Draft, tuple[SourceFile, ...], tuple[Problem, ...]]:
    """Read everything under trees/ of a project folder, with every problem of shape in it.

    known: files of the same paths that were parsed already; where the text is still the same, so is what it says.
    renewing: whether trees of the old form are read as `migrate` would write them, and not refused.
    """
    shelf = _Shelf(root, known or {}, renewing)
    trees = shelf.folder("trees", root / "trees", TREE)
    remedies = shelf.folder("remedies", root / "trees" / "remedies", REMEDY)
    tables = {name: shelf.table(name, kind) for name, kind in TABLES.items()}
    written: Mapping[str, Gate | JoinedGate] = tables.pop("gates")
    data = {name: shelf.table(name, kind) for name, kind in DATA.items()}
    cases = shelf.folder("cases", root / CASES, CASE)
    proofs = {name: shelf.proof(name, kind) for name, kind in PROOFS.items()}
    shelf.refuse_strangers()
    draft = Draft(
        trees=trees,
        remedies=remedies,
        gates=whole(written),
        written_gates=written,
        drawings=frozenset(each.stem for each in _shown(root / "guide" / "drawings", (".svg",))),
        named={"trees": _names(root / "trees"), "remedies": _names(root / "trees" / "remedies")},
        files=shelf.files,
        data=data,
        cases=cases,
        proofs={name: record for name, record in proofs.items() if record is not None},
        formulas=formulas_of(data) if all(data.values()) else {},
        unread=frozenset(shelf.unread),
        **tables,
    )
    return draft, tuple(shelf.sources), tuple(shelf.problems)


def read_cases(root: Path, folder: Path) -> tuple[Mapping[str, Parsed[Case]], tuple[Problem, ...]]:
    """Read every case of a folder by itself, by path, with every problem of shape.

    Paths are told from the root where the folder lies under it.
    """
    shelf = _Shelf(root if folder.is_relative_to(root) else folder, {}, renewing=False)
    shelf.folder("cases", folder, CASE)
    return shelf.files, tuple(shelf.problems)


def _names(folder: Path) -> frozenset[str]:
    """Name what has a file, also under an ending that is refused: that file is blamed, not who names it."""
    return frozenset(each.stem for each in _shown(folder, (".yaml", ".yml")))


def _shown(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    """List the files with these endings, without the hidden ones that desktops and editors leave behind."""
    return sorted(each for each in folder.glob("*") if each.suffix in endings and not each.name.startswith("."))


@dataclass(frozen=True, slots=True)
class _Shelf:
    root: Path
    known: Files
    renewing: bool
    sources: list[SourceFile] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    files: dict[str, Parsed[Any]] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)

    def one(self, group: str, file: Path, kind: TypeAdapter[T]) -> T | None:
        parsed = self.parsed(file, kind)
        if parsed is None:
            self.unread.add(group)
            return None
        self.files[parsed.source.path] = parsed
        return parsed.record

    def parsed(self, file: Path, kind: TypeAdapter[T]) -> Parsed[T] | None:
        read = read_source(self.root, file)
        if isinstance(read, Problem):
            self.problems.append(read)
            return None
        if self.renewing and kind is TREE:
            read = replace(read, text=in_new_form(read))
        self.sources.append(read)
        known = self.known.get(read.path)
        parsed, problems = (known, known.warnings) if known and known.source == read else parse(read, kind)
        self.problems.extend(problems)
        return parsed

    def folder(self, group: str, folder: Path, kind: TypeAdapter[T]) -> dict[str, T]:
        records = ((file.stem, self.one(group, file, kind)) for file in _shown(folder, (".yaml",)))
        return {name: record for name, record in records if record is not None}

    def proof(self, name: str, kind: TypeAdapter[T]) -> T | None:
        file = self.root / proof_path(name)
        return self.one(name, file, kind) if file.exists() else None

    def table(self, name: str, kind: TypeAdapter[Any]) -> Any:
        file = self.root / table_path(name)
        record = self.one(name, file, kind) if file.exists() else None
        if name == "settings" and not file.exists():
            what = "this file is not there, so the guide has no first tree"
            mend = "Write it with `first-tree:` and `make-safe:`."
            self.problems.append(Problem(Place(table_path(name), 1, 1), "missing-file", what, mend))
        return EMPTY.get(name, {}) if record is None else record

    def refuse_strangers(self) -> None:
        folder = self.root / "trees"
        for found in files_below(self.root, folder):
            if isinstance(found, Problem):
                self.problems.append(found)
                continue
            file = found.relative_to(folder)
            if reason := _reason_against(file):
                self.problems.append(Problem(Place(f"trees/{file.as_posix()}", 1, 1), "unexpected-file", *reason))
                self.unread.update(name for name in _meant(file) if not (self.root / table_path(name)).exists())


def _meant(file: Path) -> set[str]:
    """Give the table that a misnamed file was meant to be: who names what it holds is not to blame."""
    return {nearest(file.stem, (*TABLES, *DATA))} - {""} if file.parent.name == "tables" else set()


def _reason_against(file: Path) -> tuple[str, str] | None:
    """Say why a file under trees/ is refused, and what to do with it; nothing when it belongs there."""
    belongs = {
        ".": file.suffix == ".yaml",
        "remedies": file.suffix == ".yaml",
        "tables": file.suffix == ".yaml" and file.stem in (*TABLES, *DATA),
        "cases": file.suffix == ".yaml",
        "proofs": file.suffix == ".yaml" and file.stem in PROOFS,
        "schema": file.name.endswith(".schema.json"),
    }
    if not belongs.get(file.parent.as_posix(), False):
        mend = BELONGS
        if file.suffix == ".yml":
            mend = f'Name it "{file.stem}.yaml".'
        elif file.parent.name == "tables":
            mend = did_you_mean(file.stem, (*TABLES, *DATA), mend)
        elif file.parent.name == "proofs":
            mend = did_you_mean(file.stem, PROOFS, mend)
        return f'"{file.name}" is not a file that belongs in this folder', mend
    if file.stem == "index" and file.parent.name in ("", "remedies"):
        return '"index" is the page that lists all of them', "Give it another name."
    if file.suffix == ".yaml" and not re.fullmatch(ID_PATTERN, file.stem):
        return f'"{file.stem}" is not an id', "Name the file in lower-case words joined by hyphens."
    return None
