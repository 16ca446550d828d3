"""The command line. The only place that prints and that ends the program.

Exit 0: good. Exit 1: findings. Exit 2: wrong use.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from build_tools.views import GuideView
    from build_tools.walk import WalkData

ROOT = Path(__file__).resolve().parent.parent


def _check(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.problems import has_errors
    from build_tools.report import FORMATS

    wanted = [_in_project(arguments.root, path) for path in arguments.paths]
    if None in wanted:
        gone = arguments.paths[wanted.index(None)]
        print(f'"{gone}" is not a file or folder of the project.', file=sys.stderr)
        return 2
    checked = check(arguments.root)
    problems = tuple(
        each
        for each in checked.problems
        if not wanted or any(Path(each.place.path).is_relative_to(p) for p in wanted if p)
    )
    print(FORMATS[arguments.format](problems, checked.sources))
    return int(has_errors(problems) or bool(arguments.strict and problems))


def _in_project(root: Path, path: str) -> Path | None:
    """Give a path relative to the project, whether it was written from there or from here."""
    tried = (place.resolve() for place in (root / path, Path(path)))
    found = (place for place in tried if place.exists() and place.is_relative_to(root.resolve()))
    return next((place.relative_to(root.resolve()) for place in found), None)


def _build(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.publish import BuildFailed, publish
    from build_tools.report import as_text

    checked = check(arguments.root)
    if checked.problems:
        print(as_text(checked.problems, checked.sources), file=sys.stderr)
    out = (arguments.out or arguments.root / "site").resolve()
    kept = "The site that was there is untouched." if out.exists() else "Nothing was written."
    if checked.guide is None:
        print(kept, file=sys.stderr)
        return 1
    try:
        pages = publish(arguments.root, checked.guide, out)
    except BuildFailed as failed:
        print(f"{failed}\n{kept}", file=sys.stderr)
        return 1
    print(f"{pages} pages, checked and built: {out}")
    print(f"Open {out / 'index.html'} in a browser,")
    print(f"or serve it: python3 -m http.server --directory {out}")
    return 0


def _walk(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.pages import guide_view
    from build_tools.problems import did_you_mean
    from build_tools.walk import WrongAnswer, follow, walk_data
    from build_tools.walk_text import course_json, course_text

    checked = check(arguments.root)
    if checked.guide is None:
        return _refused()
    guide = guide_view(checked.guide)
    walks = {tree.id: walk_data(guide, tree) for tree in guide.trees}
    if arguments.tree not in walks:
        print(did_you_mean(arguments.tree, walks, f"The trees are: {', '.join(walks)}."), file=sys.stderr)
        return 2
    if arguments.answers is None and arguments.format == "text":
        return _ask(guide, walks, arguments.tree)
    answers = [each.strip() for each in (arguments.answers or "").split(",") if each.strip()]
    try:
        course = follow(walks, arguments.tree, answers)
    except WrongAnswer as wrong:
        print(wrong, file=sys.stderr)
        return 2
    print(course_json(course) if arguments.format == "json" else course_text(course))
    return 0


def _ask(guide: GuideView, walks: Mapping[str, WalkData], tree: str) -> int:
    """Walk in the terminal, one question at a time; an empty line or the end of input stops."""
    from build_tools.walk import follow
    from build_tools.walk_text import course_text, exits_text, step_of, step_text

    answers: list[str] = []
    while True:
        course = follow(walks, tree, answers)
        view = step_of(guide, course[-1])
        print(f"\n{step_text(view)}")
        if not view.exits:
            print(f"\n{course_text(course)}")
            return 0
        said = _prompt(f"   {exits_text(view)}: ", [each.answer for each in view.exits])
        if said is None:
            print(f"\n{course_text(course)}")
            return 0
        answers.append(said)


def _prompt(words: str, known: list[str]) -> str | None:
    """Ask until a known answer, or its beginning, is typed."""
    while True:
        try:
            said = input(words).strip().lower()
        except EOFError:
            return None
        matches = [each for each in known if each.startswith(said)]
        if not said:
            return None
        if len(matches) == 1 or said in known:
            return said if said in known else matches[0]
        print(f"   Type one of: {', '.join(known)}. An empty line stops.")


def _calc(arguments: argparse.Namespace) -> int:
    from build_tools.calc import CannotReckon, explain_text, list_text, run_json, run_text
    from build_tools.formulas import FORMULAS
    from build_tools.problems import did_you_mean

    if arguments.name is None:
        print(list_text())
        return 0
    formula = FORMULAS.get(arguments.name)
    if formula is None:
        print(did_you_mean(arguments.name, FORMULAS, f"The formulas are: {', '.join(FORMULAS)}."), file=sys.stderr)
        return 2
    if not arguments.inputs and arguments.format == "text":
        print(explain_text(formula))
        return 0
    try:
        run = run_json if arguments.format == "json" else run_text
        print(run(formula, arguments.inputs))
    except CannotReckon as cannot:
        print(cannot, file=sys.stderr)
        return 2
    return 0


def _refused() -> int:
    print("The sources have errors: run `python -m build_tools check` and mend them first.", file=sys.stderr)
    return 1


def _schema(arguments: argparse.Namespace) -> int:
    from build_tools.schema import schema_files

    for path, text in schema_files().items():
        file = arguments.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        print(f"wrote {path}")
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
    print(f"wrote {path}")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m build_tools", description="Proves and builds the field guide.")
    parser.add_argument("--root", type=Path, default=ROOT, help="the project folder (default: this one)")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="prove the sources")
    check.add_argument("paths", nargs="*", metavar="PATH", help="show only problems in these files or folders")
    check.add_argument("--format", choices=("text", "json", "sarif", "github"), default="text")
    check.add_argument("--strict", action="store_true", help="fail on warnings too")
    check.set_defaults(run=_check)

    build = commands.add_parser("build", help="check, then write the site; a failed check leaves the old one whole")
    build.add_argument("--out", type=Path, metavar="DIR", help="where to write it (default: site)")
    build.set_defaults(run=_build)

    walk = commands.add_parser("walk", help="walk a tree in the terminal, or one given path")
    walk.add_argument("tree", metavar="TREE")
    walk.add_argument("--answers", metavar="A,B,…", help="answers in their order: yes, no, unsure, or a verdict")
    walk.add_argument("--format", choices=("text", "json"), default="text")
    walk.set_defaults(run=_walk)

    calc = commands.add_parser("calc", help="reckon a formula; without a name, list them")
    calc.add_argument("name", nargs="?", metavar="NAME")
    calc.add_argument("inputs", nargs="*", metavar="input=value")
    calc.add_argument("--format", choices=("text", "json"), default="text")
    calc.set_defaults(run=_calc)

    schema = commands.add_parser("schema", help="write the JSON Schema that editors use")
    schema.set_defaults(run=_schema)

    record = commands.add_parser("record", help="record each tree's content under its version")
    record.set_defaults(run=_record)
    return parser


def main(arguments: list[str] | None = None) -> int:
    """Run one command and give its exit code."""
    chosen = _parser().parse_args(arguments)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A terminal that has no ° or “ shows its number, and the program goes on.
            stream.reconfigure(errors="backslashreplace")
    try:
        code: int = chosen.run(chosen)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever was reading has read enough, as `head` does; nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    return code


if __name__ == "__main__":
    sys.exit(main())
