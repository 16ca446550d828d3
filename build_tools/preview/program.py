"""The program after an edit of it: a fresh process takes over, if the edited program can be imported at all."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
_PLACE = re.compile(r'^ *File "(.+)", line (\d+)', re.M)
_ERROR = re.compile(r"^(?:\w+\.)*(\w+(?::.*)?)$", re.M)


def is_of_program(file: Path) -> bool:
    """Tell whether a change of this file changes the program."""
    return file.suffix == ".py" and file.is_relative_to(PACKAGE)


def fault_of_program() -> str | None:
    """Import the edited program in a process of its own; say in one line what is wrong, if anything."""
    # No bytecode: of two edits within a second the second would find that of the first.
    command = [sys.executable, "-B", "-c", "import build_tools.__main__, build_tools.preview.server"]
    done = subprocess.run(command, cwd=PACKAGE.parent, capture_output=True, text=True, check=False)
    return fault_text(done.stderr) if done.returncode else None


def start_anew(root: Path, host: str, port: int) -> None:
    """Replace this process by one of the edited program, which serves the same project at the same address."""
    arguments = ["--root", str(root), "serve", "--host", host, "--port", str(port)]
    os.execv(sys.executable, [sys.executable, "-B", "-m", "build_tools", *arguments])


def fault_text(traceback: str) -> str:
    """Say in one line where the program failed and how, from what Python writes of it."""
    places = list(_PLACE.finditer(traceback))
    inside = [(path, each[2]) for each in places if (path := Path(each[1])).is_relative_to(PACKAGE)]
    where = "".join(f"{path.relative_to(PACKAGE.parent).as_posix()}:{line}: " for path, line in inside[-1:])
    error = _ERROR.search(traceback, places[-1].end() if places else 0)
    return where + (error[1] if error else "it ended without a word")
