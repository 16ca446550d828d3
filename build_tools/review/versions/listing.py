"""All files of a version, each with the name that git gives its content, so that any two versions can be compared."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from hashlib import sha1
from pathlib import Path

from build_tools.review.versions.git import git

Listing = Mapping[str, str]
"""By path in the project: what tells the content of a file from any other."""
PASSED_OVER = frozenset(
    (
        *(".git", ".venv", ".cache", ".hypothesis", ".mypy_cache", ".pytest_cache", ".ruff_cache"),
        *("__pycache__", "node_modules", "site"),
    )
)
"""Folders that tools make; passed over where no git is there to say so."""


def listed(project: Path, folder: Path, revision: str) -> Listing:
    """List the files of a version: of a commit as git holds it, of a folder as it stands there.

    project: where the repository is. folder: where the version was opened. revision: its commit; empty for a folder.
    """
    if revision and folder != project:
        return dict(_in_commit(project, revision))
    return {path: _name(folder / path) for path in _in_folder(folder)}


def _in_commit(project: Path, revision: str) -> Iterator[tuple[str, str]]:
    for line in _asked(project, "ls-tree", "-r", "-z", revision):
        about, _, path = line.partition(b"\t")
        yield os.fsdecode(path), about.split()[2].decode()


def _in_folder(folder: Path) -> list[str]:
    """Name what git would keep; where the folder is in no repository, all but what tools make."""
    kept = _asked(folder, "ls-files", "-z", "--cached", "--others", "--exclude-standard")
    paths = [os.fsdecode(each) for each in kept] or list(_below(folder))
    return [each for each in paths if (folder / each).is_symlink() or (folder / each).is_file()]


def _below(folder: Path) -> Iterator[str]:
    for place, folders, files in os.walk(folder):
        folders[:] = sorted(each for each in folders if each not in PASSED_OVER)
        yield from ((Path(place) / each).relative_to(folder).as_posix() for each in sorted(files))


def _name(file: Path) -> str:
    """Name a content as git does; that of a link is what it leads to, which is never followed."""
    content = os.fsencode(file.readlink()) if file.is_symlink() else file.read_bytes()
    return sha1(b"blob %d\0" % len(content) + content, usedforsecurity=False).hexdigest()


def _asked(folder: Path, *arguments: str) -> list[bytes]:
    """Ask git for a list; nothing where it refuses, or is not there."""
    return (git(folder, *arguments) or b"").split(b"\0")[:-1]
