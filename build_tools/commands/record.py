"""`record`: write down what each tree says at its version."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Refused, Said, Talk, no_arguments
from build_tools.commands.walkable import HAS_ERRORS


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.proof.checks import check
    from build_tools.proof.versions import current_versions, versions_text
    from build_tools.sources.library import table_path

    checked = check(chosen.root)
    if checked.guide is None:
        raise Refused(HAS_ERRORS, 1)
    path = table_path("versions")
    (chosen.root / path).write_text(versions_text(current_versions(checked.guide.draft)), encoding="utf-8")
    return Said(f"wrote {path}")


COMMAND = Command("record", "record each tree's content under its version", no_arguments, _run)
