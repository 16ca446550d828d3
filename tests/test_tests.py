"""The tests themselves: none that can pass without having asserted anything, and no name of a file that is gone."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from longest_first import LONGEST

HERE = Path(__file__).parent
ASSERTS = {"raises", "fail", "warns", "expect"}
"""What asserts without the word: pytest's own, and the browser's `expect`."""
FUNCTIONS = [
    (path.relative_to(HERE).as_posix(), node)
    for path in sorted(HERE.rglob("*.py"))
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    if isinstance(node, ast.FunctionDef)
]


def called_in(function: ast.AST) -> set[str]:
    """Name what a function calls, a method by its last name."""
    called = (node.func for node in ast.walk(function) if isinstance(node, ast.Call))
    return {ast.unparse(each).rpartition(".")[2] for each in called}


def asserting(functions: Iterable[ast.FunctionDef]) -> set[str]:
    """Name the functions that assert, themselves or by one that they call; of one name, all have to."""
    alike: dict[str, list[ast.FunctionDef]] = {}
    for each in functions:
        alike.setdefault(each.name, []).append(each)
    calls: Mapping[str, list[set[str]]] = {name: [called_in(each) for each in found] for name, found in alike.items()}
    known = set(ASSERTS)
    known |= {name for name, found in alike.items() if all(map(_asserts, found))}
    while more := {name for name in calls if name not in known and all(each & known for each in calls[name])}:
        known |= more
    return known


def _asserts(function: ast.FunctionDef) -> bool:
    return any(isinstance(node, ast.Assert) for node in ast.walk(function)) or bool(called_in(function) & ASSERTS)


def returns_early(function: ast.FunctionDef) -> bool:
    """Tell whether a test can leave without having asserted anything; what it defines within may return."""
    return any(_leaves(statements) for statements in _blocks(function))


def _leaves(statements: list[ast.stmt]) -> bool:
    for each in statements:
        if isinstance(each, ast.Assert | ast.Return):
            return isinstance(each, ast.Return)
    return False


def _blocks(node: ast.AST) -> Iterator[list[ast.stmt]]:
    for name in ("body", "orelse", "finalbody"):
        if statements := getattr(node, name, []):
            yield statements
            for each in statements:
                if not isinstance(each, ast.FunctionDef):
                    yield from _blocks(each)


def text_of(test: str) -> ast.FunctionDef:
    (function,) = ast.parse(test).body
    assert isinstance(function, ast.FunctionDef)
    return function


def test_every_test_asserts_itself_or_by_what_it_calls() -> None:
    tests = [(path, each) for path, each in FUNCTIONS if each.name.startswith("test_")]
    assert len(tests) > 1000
    known = asserting(each for _, each in FUNCTIONS)
    assert [
        f"{path}:{each.lineno} {each.name}" for path, each in tests if not (_asserts(each) or called_in(each) & known)
    ] == []


def test_no_test_leaves_for_some_of_its_cases_without_a_word() -> None:
    """Name in `parametrize` the cases that it is for, or use `assume`: then hypothesis sees that some are left."""
    leave = [
        f"{path}:{each.lineno} {each.name}"
        for path, each in FUNCTIONS
        if each.name.startswith("test_") and returns_early(each)
    ]
    assert leave == []


def test_empty_tests_are_found() -> None:
    helper, empty = text_of("def sees(x): assert x"), text_of("def test_a(): look(1)")
    by_helper, raising = text_of("def test_b(): sees(1)"), text_of("def test_c():\n with pytest.raises(E): look(1)")
    assert asserting([helper, empty, by_helper, raising]) == ASSERTS | {"sees", "test_b", "test_c"}
    assert returns_early(text_of("def test_a(x):\n if x: return\n assert x"))
    assert not returns_early(text_of("def test_a(x):\n if x:\n  assert x\n  return\n assert y"))
    assert not returns_early(text_of("def test_a(x):\n def y(): return 1\n assert y()"))


def test_files_that_begin_first_are_there() -> None:
    assert [name for name in LONGEST if not (HERE / name).is_file()] == []
