"""The command line. The only place that prints, asks, and ends the program.

Exit 0: good. Exit 1: findings, or a file that cannot be read or written. Exit 2: wrong use. Exit 130: stopped.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from io import TextIOWrapper
from pathlib import Path

from build_tools.commands.command import Refused, Said, Talk
from build_tools.commands.parser import parser
from build_tools.model.letters import visible
from build_tools.progress import progress

OBJECTS_BETWEEN_SWEEPS = 200_000
"""Far more than Python's own 700."""
ROOT = Path(__file__).resolve().parent.parent


def _say(text: object) -> None:
    """Print; what is shown comes from whoever wrote the sources, and no letter of it moves the cursor."""
    print(visible(str(text)), flush=True)


def _aside(text: object) -> None:
    print(visible(str(text)), file=sys.stderr)


def _ask(prompt: str) -> str:
    """Read one line that is typed; empty at the end of input."""
    try:
        return input(visible(prompt))
    except EOFError:
        return ""


def main(arguments: list[str] | None = None) -> int:
    """Run one command and give its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A terminal that has no ° or “ shows its number, and the program goes on.
            stream.reconfigure(errors="backslashreplace")
    chosen = parser(ROOT).parse_args(arguments)
    # What is read is kept to the end, so looking for what could be forgotten took a fifth of the time.
    gc.set_threshold(OBJECTS_BETWEEN_SWEEPS)
    code = 1
    try:
        said = _run(chosen)
        code = said.code
        if said.aside:
            _aside(said.aside)
        (_aside if said.is_refusal else _say)(said.text)
    except BrokenPipeError:
        # Whoever was reading has read enough, as `head` does; that is no finding.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        _aside(f"{error.filename or 'The disk'}: {error.strerror or error}.")
        return 1
    except KeyboardInterrupt:
        _aside("\nStopped.")
        return 130
    return code


def _run(chosen: argparse.Namespace) -> Said:
    try:
        with progress(sys.stderr) as tell:
            said: Said = chosen.command.run(chosen, Talk(_say, _aside, _ask, tell))
            return said
    except Refused as refused:
        return refused.said


if __name__ == "__main__":
    sys.exit(main())
