"""The command line. The only place that prints and that ends the program.

Exit 0: good. Exit 1: findings, or a file that cannot be read or written. Exit 2: wrong use. Exit 130: stopped.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Mapping
from io import TextIOWrapper
from pathlib import Path
from types import ModuleType

from build_tools.arguments import Run, parser
from build_tools.data_tables import FaultyTables
from build_tools.letters import visible
from build_tools.report import FORMATS

OBJECTS_BETWEEN_SWEEPS = 200_000
"""Far more than Python's own 700."""
ROOT = Path(__file__).resolve().parent.parent


def _say(said: object) -> None:
    """Print; what is shown comes from whoever wrote the sources, and no letter of it moves the cursor."""
    print(visible(str(said)), flush=True)


def _complain(said: object) -> None:
    print(visible(str(said)), file=sys.stderr)


def _check(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.problems import has_errors
    from build_tools.progress import progress

    wanted = [_in_project(arguments.root, path) for path in arguments.paths]
    if None in wanted:
        gone = arguments.paths[wanted.index(None)]
        _complain(f'"{gone}" is not a file or folder of the project.')
        return 2
    with progress(sys.stderr) as tell:
        tell("Proving the sources")
        checked = check(arguments.root)
    problems = tuple(
        each
        for each in checked.problems
        if not wanted or any(Path(each.place.path).is_relative_to(p) for p in wanted if p)
    )
    _say(FORMATS[arguments.format](problems, checked.sources))
    return int(has_errors(problems) or bool(arguments.strict and problems))


def _in_project(root: Path, path: str) -> Path | None:
    """Give a path relative to the project, whether it was written from there or from here."""
    tried = (place.resolve() for place in (root / path, Path(path)))
    found = (place for place in tried if place.exists() and place.is_relative_to(root.resolve()))
    return next((place.relative_to(root.resolve()) for place in found), None)


def _build(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.mkdocs_run import BuildFailed
    from build_tools.progress import progress
    from build_tools.publish import WrongFolder, clear_up, publish
    from build_tools.report import as_text

    out = (arguments.out or arguments.root / "site").resolve()
    clear_up(out)
    with progress(sys.stderr) as tell:
        tell("Proving the sources")
        checked = check(arguments.root)
    if checked.problems:
        _complain(as_text(checked.problems, checked.sources))
    kept = "The site that was there is untouched." if out.exists() else "Nothing was written."
    if checked.guide is None:
        _complain(kept)
        return 1
    try:
        with progress(sys.stderr) as tell:
            tell("Drawing, writing and proving the site")
            pages = publish(arguments.root, checked.guide, out)
    except WrongFolder as wrong:
        _complain(wrong)
        return 2
    except BuildFailed as failed:
        _complain(f"{failed}\n{kept}")
        return 1
    _say(f"{pages} pages, checked and built: {out}")
    _say(f"Open {out / 'index.html'} in a browser,")
    _say(f"or serve it: python3 -m http.server --directory {out}")
    return 0


def _serve(arguments: argparse.Namespace) -> int:
    from build_tools.preview.server import CannotServe, serve

    try:
        serve(arguments.root, arguments.host, arguments.port, _say)
    except CannotServe as cannot:
        _complain(cannot)
    return 2


def _walk(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.pages import guide_view
    from build_tools.problems import did_you_mean
    from build_tools.walk import WrongAnswer, follow, walk_data
    from build_tools.walk_shell import walk_along
    from build_tools.walk_text import course_json, course_text

    checked = check(arguments.root)
    if checked.guide is None:
        return _refused()
    guide = guide_view(checked.guide)
    walks = {tree.id: walk_data(guide, tree) for tree in guide.trees}
    if arguments.tree not in walks:
        advice = did_you_mean(arguments.tree, walks, f"The trees are: {', '.join(walks)}.")
        _complain(f'"{arguments.tree}" is not a tree. {advice}')
        return 2
    if arguments.answers is None and arguments.format == "text":
        _say(f"\n{course_text(walk_along(guide, walks, arguments.tree, _typed, _say))}")
        return 0
    answers = [each.strip() for each in (arguments.answers or "").split(",") if each.strip()]
    try:
        course = follow(walks, arguments.tree, answers)
    except WrongAnswer as wrong:
        _complain(wrong)
        return 2
    _say(course_json(course) if arguments.format == "json" else course_text(course))
    return 0


def _typed(prompt: str) -> str:
    """Read one line that is typed; empty at the end of input."""
    try:
        return input(visible(prompt))
    except EOFError:
        return ""


def _calc(arguments: argparse.Namespace) -> int:
    from build_tools import calc
    from build_tools.formulas import FORMULAS
    from build_tools.problems import did_you_mean

    if arguments.name is None:
        _say(calc.list_text())
        return 0
    if arguments.name not in FORMULAS:
        advice = did_you_mean(arguments.name, FORMULAS, f"The formulas are: {', '.join(FORMULAS)}.")
        _complain(f'"{arguments.name}" is not a formula. {advice}')
        return 2
    return _reckoned(arguments, calc, FORMULAS[arguments.name])


def _take_off(arguments: argparse.Namespace) -> int:
    from build_tools import take_off_text
    from build_tools.checks import check
    from build_tools.problems import did_you_mean

    checked = check(arguments.root)
    if checked.guide is None:
        return _refused()
    remedies = checked.guide.draft.remedies
    if arguments.remedy not in remedies:
        advice = did_you_mean(arguments.remedy, remedies, f"The remedies are: {', '.join(remedies)}.")
        _complain(f'"{arguments.remedy}" is not a remedy. {advice}')
        return 2
    return _reckoned(arguments, take_off_text, arguments.remedy, remedies[arguments.remedy])


def _reckoned(arguments: argparse.Namespace, how: ModuleType, *asked: object) -> int:
    """Explain what is asked for by one of the modules that write it, or reckon it where there are inputs."""
    from build_tools.calc import CannotReckon

    if not arguments.inputs and arguments.format == "text":
        _say(how.explain_text(*asked))
        return 0
    try:
        _say((how.run_json if arguments.format == "json" else how.run_text)(*asked, arguments.inputs))
    except CannotReckon as cannot:
        _complain(cannot)
        return 2
    return 0


def _refused() -> int:
    _complain("The sources have errors: run `python -m build_tools check` and mend them first.")
    return 1


def _schema(arguments: argparse.Namespace) -> int:
    from build_tools.schema import schema_files

    return _wrote(arguments.root, schema_files())


def _wrote(root: Path, files: Mapping[str, str]) -> int:
    for path, text in files.items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        _say(f"wrote {path}")
    return 0


def _record(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.library import table_path
    from build_tools.versions import current_versions, versions_text

    checked = check(arguments.root)
    if checked.guide is None:
        return _refused()
    path = table_path("versions")
    (arguments.root / path).write_text(versions_text(current_versions(checked.guide.draft)), encoding="utf-8")
    _say(f"wrote {path}")
    return 0


def _review(arguments: argparse.Namespace) -> int:
    from build_tools.progress import progress
    from build_tools.review.command import review_text

    with progress(sys.stderr) as tell:
        asked = arguments.base, arguments.head, arguments.format, arguments.link_to
        said, code = review_text(arguments.root, *asked, tell, not arguments.without_running)
    (_complain if code == 2 else _say)(said)
    return code


def _author(arguments: argparse.Namespace) -> int:
    from build_tools.authoring import run

    said = run(arguments.command, arguments)
    (_complain if said.code else _say)(said.text)
    return said.code


RUNS: Mapping[str, Run] = {
    "check": _check,
    "build": _build,
    "serve": _serve,
    "walk": _walk,
    "calc": _calc,
    "take-off": _take_off,
    "schema": _schema,
    "record": _record,
    "review": _review,
    "author": _author,
}
"""What runs each command; the author's share one."""


def main(arguments: list[str] | None = None) -> int:
    """Run one command and give its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A terminal that has no ° or “ shows its number, and the program goes on.
            stream.reconfigure(errors="backslashreplace")
    chosen = parser(ROOT, RUNS).parse_args(arguments)
    # What is read is kept to the end, so looking for what could be forgotten took a fifth of the time.
    gc.set_threshold(OBJECTS_BETWEEN_SWEEPS)
    try:
        code: int = chosen.run(chosen)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever was reading has read enough, as `head` does; nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except FaultyTables as faulty:
        # Raised where a command takes in the formulas, which reckon with these tables.
        report = FORMATS[chosen.format if chosen.run is _check else "text"]
        (_say if chosen.run is _check else _complain)(report(faulty.problems, faulty.sources))
        return 1
    except OSError as error:
        _complain(f"{error.filename or 'The disk'}: {error.strerror or error}.")
        return 1
    except KeyboardInterrupt:
        _complain("\nStopped.")
        return 130
    return code


if __name__ == "__main__":
    sys.exit(main())
