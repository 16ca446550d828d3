"""The program after an edit of it, or of a table that it reckons with: taken in anew, to show like any other source."""

from __future__ import annotations

import importlib
import sys
import traceback
from collections.abc import Iterable
from pathlib import Path
from types import ModuleType

PACKAGE = Path(__file__).resolve().parent.parent


def is_of_program(file: Path) -> bool:
    """Tell whether the program has to be taken in anew after a change of this file."""
    # Looked up each time: an edit may have added a table.
    tables = importlib.import_module("build_tools.sources.data_tables")
    data = {tables.ROOT / tables.table_path(name) for name in tables.DATA}
    return file in data or (file.suffix == ".py" and file.is_relative_to(PACKAGE))


def taken_in(name: str) -> ModuleType:
    """Import a module of the program anew, with all that it imports; where that fails the old ones stay in place."""
    old = {each: sys.modules[each] for each in _ours()}
    writes = sys.dont_write_bytecode
    _forget(old)
    try:
        # Two edits within a second would leave bytecode that looks fresh and is not.
        sys.dont_write_bytecode = True
        importlib.invalidate_caches()
        return importlib.import_module(name)
    except BaseException:
        _forget(_ours())
        sys.modules.update(old)
        raise
    finally:
        sys.dont_write_bytecode = writes


def fault_text(error: BaseException) -> str:
    """Say in one line where the program failed and how."""
    places = [(frame.f_code.co_filename, line) for frame, line in traceback.walk_tb(error.__traceback__)]
    if isinstance(error, SyntaxError):
        places.append((error.filename or "", error.lineno or 1))
    inside = [(path, line) for name, line in places if (path := Path(name)).is_relative_to(PACKAGE)]
    where = "".join(f"{path.relative_to(PACKAGE.parent).as_posix()}:{line}: " for path, line in inside[-1:])
    said = error.msg if isinstance(error, SyntaxError) else error
    return f"{where}{type(error).__name__}: {said}"


def _ours() -> tuple[str, ...]:
    return tuple(each for each in sys.modules if each.partition(".")[0] == PACKAGE.name)


def _forget(names: Iterable[str]) -> None:
    for name in names:
        del sys.modules[name]
