"""What git says of a repository, as bytes; whatever replaces commits on this machine is left out."""

from __future__ import annotations

import subprocess
from pathlib import Path


def git(folder: Path, *arguments: str, given: bytes = b"") -> bytes | None:
    """Ask git; nothing where it refuses, or is not there. given: what it reads."""
    asked = ["git", "--no-replace-objects", "-C", str(folder), *arguments]
    try:
        done = subprocess.run(asked, input=given, capture_output=True)
    except FileNotFoundError:
        return None
    return done.stdout if done.returncode == 0 else None
