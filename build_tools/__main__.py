"""The command line. The only place that prints and that ends the program.

Exit 0: good. Exit 1: findings, or a file that cannot be read or written. Exit 2: wrong use. Exit 130: stopped.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Mapping
from io import TextIOWrapper
from pathlib import Path

from build_tools.commands.arguments import Run, parser
from build_tools.commands.walkable import Refused, Said
from build_tools.model.letters import visible
from build_tools.proof.report import FORMATS
from build_tools.sources.data_tables import FaultyTables

OBJECTS_BETWEEN_SWEEPS = 200_000
"""Far more than Python's own 700."""
ROOT = Path(__file__).resolve().parent.parent


def _say(said: object) -> None:
    """Print; what is shown comes from whoever wrote the sources, and no letter of it moves the cursor."""
    print(visible(str(said)), flush=True)


def _complain(said: object) -> None:
    print(visible(str(said)), file=sys.stderr)


def _check(arguments: argparse.Namespace) -> int:
    from build_tools.model.problems import has_errors
    from build_tools.progress import progress
    from build_tools.proof.checks import check, is_read

    wanted = [_in_project(arguments.root, path) for path in arguments.paths]
    if None in wanted:
        gone = arguments.paths[wanted.index(None)]
        _complain(f'"{gone}" is not a file or folder of the project.')
        return 2
    if idle := next((path for path in wanted if path and not is_read(path)), None):
        cases = " `python -m build_tools coverage` walks the stated cases."
        _complain(f'"{idle.as_posix()}" is nothing that `check` reads: the guide stands in trees/ and guide/.{cases}')
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
    from build_tools.progress import progress
    from build_tools.proof.checks import check
    from build_tools.proof.report import as_text
    from build_tools.site.mkdocs_run import BuildFailed
    from build_tools.site.publish import WrongFolder, clear_up, publish

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
    from build_tools.commands.walkable import walkable
    from build_tools.guide.walk import WrongAnswer, follow
    from build_tools.shell.walk_shell import walk_along
    from build_tools.shell.walk_text import can_go_on, course_json, course_text

    whole = walkable(arguments.root)
    whole.known_tree(arguments.tree)
    if whole.aside:
        _complain(whole.aside)
    if arguments.answers is None and arguments.format == "text":
        course = walk_along(whole.guide, whole.walks, arguments.tree, _typed, _say)
        _say(f"\n{course_text(course)}")
        return int(not can_go_on(course))
    answers = [each.strip() for each in (arguments.answers or "").split(",") if each.strip()]
    try:
        course = follow(whole.walks, arguments.tree, answers)
    except WrongAnswer as wrong:
        _complain(wrong)
        return 2
    _say(course_json(course) if arguments.format == "json" else course_text(course))
    return int(not can_go_on(course))


def _typed(prompt: str) -> str:
    """Read one line that is typed; empty at the end of input."""
    try:
        return input(visible(prompt))
    except EOFError:
        return ""


def _schema(arguments: argparse.Namespace) -> int:
    from build_tools.sources.schema import schema_files

    return _wrote(arguments.root, schema_files())


def _wrote(root: Path, files: Mapping[str, str]) -> int:
    for path, text in files.items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        _say(f"wrote {path}")
    return 0


def _record(arguments: argparse.Namespace) -> int:
    from build_tools.proof.checks import check
    from build_tools.proof.versions import current_versions, versions_text
    from build_tools.sources.library import table_path

    checked = check(arguments.root)
    if checked.guide is None:
        _complain("The sources have errors: run `python -m build_tools check` and mend them first.")
        return 1
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


def _calc(arguments: argparse.Namespace) -> int:
    from build_tools.commands.reckoning import calc

    return _speak(calc(arguments))


def _take_off(arguments: argparse.Namespace) -> int:
    from build_tools.commands.reckoning import take_off

    return _speak(take_off(arguments))


def _author(arguments: argparse.Namespace) -> int:
    command: Callable[[argparse.Namespace], Said] = arguments.command.run
    return _speak(command(arguments))


def _speak(said: Said) -> int:
    if said.aside:
        _complain(said.aside)
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
    except Refused as refused:
        return _speak(refused.said)
    except OSError as error:
        _complain(f"{error.filename or 'The disk'}: {error.strerror or error}.")
        return 1
    except KeyboardInterrupt:
        _complain("\nStopped.")
        return 130
    return code


if __name__ == "__main__":
    sys.exit(main())
