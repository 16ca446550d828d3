"""The code of the formulas, name by name: what another number or another step of the working would change.

Nothing is run here: code is read as Python's own parser reads it, and compared as a formula's fingerprint is made.
"""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator, Mapping
from difflib import ndiff
from pathlib import Path

from build_tools.formulas.fingerprint import is_remark, what_it_does
from build_tools.review.differences.findings import Found
from build_tools.review.record.changes import Row, Spot, change_of
from build_tools.review.versions.matching import Match, plain

PROGRAM = "build_tools"
FOLDER = f"{PROGRAM}/formulas"
Code = Mapping[str, str]
"""The text of each module by its path in the project."""
CONTEXT = 3
"""Words shown beside those that differ."""
LONGEST = 200
"""Letters of code that are shown; the place of the rest is."""
NO_CODE = (SyntaxError, ValueError, RecursionError, MemoryError)
"""What is raised over a text that is no code, or nested too deep to go through."""
Defined = ast.FunctionDef | ast.ClassDef


def read_formulas(root: Path) -> Code:
    """Read the modules of the formulas; none where the folder holds no program."""
    return _modules(root, FOLDER)


def programs_differ(before: Path, after: Path) -> bool:
    """Tell whether any module of two projects' programs does something else: a formula may use each of them."""
    old, new = _modules(before, PROGRAM), _modules(after, PROGRAM)
    return old.keys() != new.keys() or any(_differ(old[path], new[path]) for path in old)


def _modules(root: Path, folder: str) -> Code:
    files = sorted((root / folder).rglob("*.py"))
    return {each.relative_to(root).as_posix(): each.read_text(encoding="utf-8", errors="replace") for each in files}


def _differ(before: str, after: str) -> bool:
    if before == after:
        return False
    try:
        return what_it_does(ast.parse(before)) != what_it_does(ast.parse(after))
    except NO_CODE:
        return True


def formula_content(match: Match, before: Code, after: Code) -> Iterator[Found]:
    """Find the statements that differ, where both versions hold the program."""
    for path in dict.fromkeys((*before, *after)) if before and after else ():
        if before.get(path) == after.get(path):
            continue
        old, new = _named(before.get(path, "")), _named(after.get(path, ""))
        for name in dict.fromkeys((*old, *new)):
            yield from _compared(match, path, name, old.get(name), new.get(name))


def _named(text: str) -> Mapping[str, ast.stmt]:
    """Give the statements of a module by the names that they give a value, or by their own text.

    A name that is given a value again has its number behind it: what stands between them may use the first.
    A module that is no Python has nothing, and `check` would not run.
    """
    found: dict[str, ast.stmt] = {}
    times = Counter[str]()
    try:
        for each in ast.parse(text).body:
            for name, statement in () if is_remark(each) else _with_names(each):
                times[name] += 1
                found[name if times[name] == 1 else f"{name} ({times[name]})"] = statement
                _code(statement), _does(statement)
    except NO_CODE:
        return {}
    return found


def _with_names(statement: ast.stmt) -> Iterator[tuple[str, ast.stmt]]:
    match statement:
        case ast.FunctionDef() | ast.ClassDef():
            yield statement.name, statement
        case ast.Import() | ast.ImportFrom():
            for each in statement.names:
                alone = type(statement)(**{**vars(statement), "names": [each]})
                yield each.asname or each.name, alone
        case ast.Assign():
            yield ast.unparse(statement.targets[0]), statement
        case ast.AnnAssign():
            yield ast.unparse(statement.target), statement
        case _:
            yield ast.unparse(statement), statement


def _compared(match: Match, path: str, name: str, old: ast.stmt | None, new: ast.stmt | None) -> Iterator[Found]:
    codes = _code(old), _code(new)
    if _does(old) != _does(new):
        yield "values", _row(match, path, name, (old, new), _parts_that_differ(*codes))
    said = _said(old), _said(new)
    if old and new and said[0] != said[1]:
        yield "text", _row(match, path, f"{name}, docstring", (old, new), said)


def _does(node: ast.stmt | None) -> str:
    return what_it_does(node) if node else ""


def _said(node: ast.stmt | None) -> str | None:
    return plain(ast.get_docstring(node) or "") or None if isinstance(node, Defined) else None


def _code(node: ast.stmt | None) -> str:
    """Write a definition without its docstring and in one layout; empty where there is none."""
    if node is None:
        return ""
    bare = ast.parse(ast.unparse(node)).body[0]
    if isinstance(bare, Defined) and ast.get_docstring(bare) is not None:
        bare.body = bare.body[1:] or [ast.Pass()]
    return ast.unparse(bare)


def _parts_that_differ(before: str, after: str) -> tuple[str | None, str | None]:
    """Give the lines that only one of two codes has."""
    lines = list(ndiff(before.splitlines(), after.splitlines()))
    gone, come = (" / ".join(each[2:].strip() for each in lines if each[0] == sign) for sign in "-+")
    if gone and come and max(len(gone), len(come)) > LONGEST:
        gone, come = _without_common_ends(gone, come)
    return _cut(gone) or None, _cut(come) or None


def _without_common_ends(before: str, after: str) -> tuple[str, str]:
    """Leave out the words that both texts begin and end with, but for a few beside what differs."""
    sides = before.split(" "), after.split(" ")
    shortest = min(map(len, sides))
    start = next((place for place in range(shortest) if sides[0][place] != sides[1][place]), shortest)
    rest = shortest - start
    end = next((place for place in range(rest) if sides[0][-1 - place] != sides[1][-1 - place]), rest)
    first, last = max(0, start - CONTEXT), max(0, end - CONTEXT)
    lead, trail = "… " if first else "", " …" if last else ""
    said = [f"{lead}{' '.join(words[first : len(words) - last])}{trail}" for words in sides]
    return said[0], said[1]


def _cut(code: str) -> str:
    return code if len(code) <= LONGEST else f"{code[:LONGEST]}…"


def _row(
    match: Match,
    path: str,
    name: str,
    nodes: tuple[ast.stmt | None, ast.stmt | None],
    words: tuple[str | None, str | None],
) -> Row:
    spots = tuple(Spot(path=path, line=node.lineno) if node else None for node in nodes)
    return Row(
        change=change_of(*nodes),
        subject=f"formula code {Path(path).name}",
        detail=_cut(name.partition("\n")[0]),
        before=words[0],
        after=words[1],
        spot_before=spots[0],
        spot_after=spots[1],
        trees=_trees(match, Path(path).stem),
    )


def _trees(match: Match, module: str) -> tuple[str, ...]:
    """Name the trees that use a formula of this module, or any formula where the module serves them all."""
    homes = {name: formula.printed[0].__module__.rpartition(".")[2] for name, formula in match.formulas.items()}
    named = [name for name, home in homes.items() if home == module] or list(match.formulas)
    return tuple(sorted({tree for name in named for tree in match.trees("formula", name)}))
