"""The command line. The only place that prints, asks, and ends the program.

Exit 0: good. Exit 1: findings, or a file that cannot be read or written. Exit 2: wrong use. Exit 130: stopped.
"""

from __future__ import annotations

import gc
import os
import sys
from io import TextIOWrapper
from pathlib import Path
from typing import TextIO

from build_tools.commands.command import Refused, Said, Talk
from build_tools.commands.parser import parser
from build_tools.model.letters import visible
from build_tools.progress import progress

OBJECTS_BETWEEN_SWEEPS = 200_000
"""Far more than Python's own 700."""
ROOT = Path(__file__).resolve().parent.parent


def _say(words: str) -> None:
    _print(words, sys.stdout)


def _aside(words: str) -> None:
    if words:
        _print(words, sys.stderr)


def _print(words: str, stream: TextIO) -> None:
    """Print; what is shown comes from whoever wrote the sources, and no letter of it moves the cursor."""
    try:
        print(visible(words), file=stream, flush=True)
    except BrokenPipeError:
        # Whoever was reading has read enough, as `head` does: the rest is for nobody, and the command ends as it would.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


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
    try:
        return _end(chosen.command.run(chosen, Talk(_say, _aside, _ask, lambda: progress(sys.stderr))))
    except Refused as refused:
        return _end(refused.said)
    except OSError as error:
        return _end(Said(code=1, aside=f"{error.filename or 'The disk'}: {error.strerror or error}."))
    except KeyboardInterrupt:
        return _end(Said(code=130, aside="\nStopped."))


def _end(said: Said) -> int:
    _aside(said.aside)
    if said.text is not None:
        _say(said.text)
    return said.code


if __name__ == "__main__":
    sys.exit(main())
