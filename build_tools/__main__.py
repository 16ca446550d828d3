"""The command line. The only place that prints and that ends the program.

Exit 0: good. Exit 1: findings. Exit 2: wrong use.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def _check(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.problems import has_errors
    from build_tools.report import FORMATS

    checked = check(arguments.root)
    wanted = tuple(arguments.paths)
    problems = tuple(each for each in checked.problems if not wanted or each.place.path.startswith(wanted))
    print(FORMATS[arguments.format](problems, checked.sources))
    return int(has_errors(problems) or bool(arguments.strict and problems))


def _schema(arguments: argparse.Namespace) -> int:
    from build_tools.schema import schema_files

    for path, text in schema_files().items():
        (arguments.root / path).write_text(text, encoding="utf-8")
        print(f"wrote {path}")
    return 0


def _record(arguments: argparse.Namespace) -> int:
    from build_tools.checks import check
    from build_tools.library import table_path
    from build_tools.versions import current_versions, versions_text

    checked = check(arguments.root)
    if checked.guide is None:
        print("The sources have errors: run `python -m build_tools check` and mend them first.", file=sys.stderr)
        return 1
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
    check.add_argument("--format", choices=("text", "json"), default="text")
    check.add_argument("--strict", action="store_true", help="fail on warnings too")
    check.set_defaults(run=_check)

    schema = commands.add_parser("schema", help="write the JSON Schema that editors use")
    schema.set_defaults(run=_schema)

    record = commands.add_parser("record", help="record each tree's content under its version")
    record.set_defaults(run=_record)
    return parser


def main(arguments: list[str] | None = None) -> int:
    """Run one command and give its exit code."""
    chosen = _parser().parse_args(arguments)
    code: int = chosen.run(chosen)
    return code


if __name__ == "__main__":
    sys.exit(main())
