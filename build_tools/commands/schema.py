"""`schema`: write the JSON Schema that editors use."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, no_arguments


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.sources.schema import schema_files

    for path, text in schema_files().items():
        file = chosen.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        talk.say(f"wrote {path}")
    return Said()


COMMAND = Command("schema", "write the JSON Schema that editors use", no_arguments, _run)
