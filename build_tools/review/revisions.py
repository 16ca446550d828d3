"""A git revision or a folder to a project folder that can be read; the working tree is never touched."""

from __future__ import annotations

import io
import subprocess
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

MAIN = ("main", "origin/main", "master", "origin/master")
"""Where the main branch may be found, in this order; a code host's checkout has it under `origin` only."""
WANTED = ("trees", "guide/drawings", "build_tools")
"""All that a review reads, of the drawings only the names, and the program, whose formulas it may run."""
LINKED = ("trees", "guide/drawings", "build_tools/formulas")
"""What places of a review can lie in."""


class Opened(NamedTuple):
    """A version as a folder, with the commit it is of; no commit where its files are in none."""

    folder: Path
    revision: str


class NoSuchVersion(Exception):
    """What was asked for is neither a revision nor a folder of a guide; the message is one plain sentence."""


@contextmanager
def opened(root: Path, name: str) -> Iterator[Opened]:
    """Give a folder with the trees of a version, by the path of a folder or the name of a git revision.

    Raises NoSuchVersion.
    """
    folder = next((place for place in (root / name, Path(name)) if (place / "trees").is_dir()), None)
    if folder is not None:
        yield Opened(folder, "")
        return
    commit = _commit(root, name)
    if commit is None:
        raise NoSuchVersion(f'"{name}" is neither a git revision nor a folder that holds trees/.')
    with tempfile.TemporaryDirectory(prefix="review-") as place:
        _unpack(root, name, commit, Path(place))
        yield Opened(Path(place), commit)


def working_tree(root: Path) -> Opened:
    """Give the project folder itself, with the commit that is checked out where no file differs from it."""
    changed = _git(root, "status", "--porcelain", "--", *LINKED)
    return Opened(root, (_commit(root, "HEAD") or "") if changed == b"" else "")


def main_branch(root: Path) -> str:
    """Name the main branch. Raises NoSuchVersion where there is none."""
    for name in MAIN:
        if _commit(root, name):
            return name
    raise NoSuchVersion("There is no main branch to review against: name a git revision or a folder.")


def _commit(root: Path, name: str) -> str | None:
    said = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    return said.decode().strip() if said else None


def _unpack(root: Path, name: str, commit: str, place: Path) -> None:
    listed = _git(root, "ls-tree", "--name-only", commit, *WANTED)
    held = [each for each in WANTED if each in (listed or b"").decode().splitlines()]
    if "trees" not in held:
        raise NoSuchVersion(f'"{name}" holds no trees/ folder.')
    packed = _git(root, "archive", "--format=tar", commit, *held)
    if packed is None:
        raise NoSuchVersion(f'git could not read the trees of "{name}".')
    with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
        for member in archive:
            content = archive.extractfile(member) if member.isfile() else None
            if content is not None:
                file = place / member.name
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(content.read())


def _git(root: Path, *arguments: str) -> bytes | None:
    """Ask git; nothing where it refuses, or is not there."""
    try:
        done = subprocess.run(["git", "-C", str(root), *arguments], capture_output=True)
    except FileNotFoundError:
        return None
    return done.stdout if done.returncode == 0 else None
