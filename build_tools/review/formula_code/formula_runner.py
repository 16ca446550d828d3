"""Run in a process of its own, on the formulas of one version: formulas and inputs as JSON in, results as JSON out.

`build_tools` is that version's own here, so nothing else of the reviewing program can be imported. Asked for
nothing, it only describes the formulas.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from build_tools.formulas import Formula, Input


def answer(folder: Path, asked: Mapping[str, list[Mapping[str, Any]]]) -> Mapping[str, Any]:
    """Describe the formulas of a project folder, and give for each that is named what each set of inputs gives."""
    sys.path.insert(0, str(folder))
    import build_tools.formulas

    # The program that reviews may be installed, and would be taken for one that the folder does not hold.
    if folder not in Path(build_tools.formulas.__file__).resolve().parents:
        raise ImportError("the folder holds no formulas")
    formulas = _formulas(build_tools.formulas, folder)
    return {
        "formulas": {name: _described(formula, folder) for name, formula in formulas.items()},
        "results": {name: [_result(formulas[name], raw) for raw in tries] for name, tries in asked.items()},
    }


def _formulas(home: ModuleType, folder: Path) -> Mapping[str, Formula]:
    """Make the formulas of a version of its own tables; an older one made them when it was imported."""
    if hasattr(home, "FORMULAS"):
        older: Mapping[str, Formula] = home.FORMULAS
        return older
    from build_tools.formulas import formulas_of
    from build_tools.sources.data_tables import read_data

    return formulas_of(read_data(folder))


def _described(formula: Formula, folder: Path) -> Mapping[str, Any]:
    # A function that was handed rows is a `partial` of the one that is written.
    code = getattr(formula.function, "func", formula.function).__code__
    return {
        "title": formula.title,
        "inputs": [_input(each) for each in formula.inputs],
        "outputs": [{"name": each.name, "label": each.label, "unit": each.unit.symbol} for each in formula.outputs],
        "verdicts": dict(formula.verdicts),
        "example": dict(formula.example),
        "path": Path(code.co_filename).resolve().relative_to(folder).as_posix(),
        "line": code.co_firstlineno,
    }


def _input(spec: Input) -> Mapping[str, Any]:
    """Describe an input; those of older versions have no counts and no lists."""
    told = {name: getattr(spec, name) for name in ("name", "label", "low", "high", "default", "optional")}
    choices = [each.value for each in spec.choices]
    columns = [_input(each) for each in getattr(spec, "columns", ())]
    whole = getattr(spec, "whole", False)
    return {**told, "unit": spec.unit.symbol, "choices": choices, "whole": whole, "columns": columns}


def _result(formula: Formula, raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """Give what a reader would get who fills in these inputs, as far as this version asks for them."""
    from build_tools.formulas import reckon, validate

    known = {each.name: _as_tuples(raw[each.name]) for each in formula.inputs if each.name in raw}
    try:
        taken = validate(formula, known)
        if taken.errors:
            return {"refused": " ".join(taken.errors.values())}
        result = reckon(formula, taken.values)
    except Exception as error:
        return {"refused": f"it fails: {type(error).__name__}: {error}"}
    return {"outputs": dict(result.outputs), "verdict": result.verdict}


def _as_tuples(value: Any) -> Any:
    return tuple(_as_tuples(each) for each in value) if isinstance(value, list) else value


def _limit(seconds: int) -> None:
    """Let this process use so much of the processor, where the system knows such a limit."""
    try:
        import resource
    except ImportError:
        return
    # The second bound is one that the code of a version cannot raise.
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))


if __name__ == "__main__":
    _limit(int(sys.argv[2]))
    # What the code itself prints must not get into the answer.
    out, sys.stdout = sys.stdout, sys.stderr
    json.dump(answer(Path(sys.argv[1]).resolve(), json.load(sys.stdin)), out)
