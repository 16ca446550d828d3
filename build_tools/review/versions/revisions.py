"""A git revision or a folder to a project folder that can be read; the working tree is never touched.

A revision is taken as git holds it. Attributes of a repository can put other words into a file when git writes it
out, or leave it away, so nothing here lets git write files. A link would lead past what is reviewed, and is refused.
"""

from __future__ import annotations

import io
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from build_tools.model.problems import Problem
from build_tools.review.versions.git import git
from build_tools.sources.source import LARGEST_BYTES, files_below

MAIN = ("main", "origin/main", "master", "origin/master")
"""Where the main branch may be found, in this order; a code host's checkout has it under `origin` only."""
WANTED = ("trees", "guide", "build_tools")
"""All that a review reads: the guide with its stated cases, and the program, whose formulas it may run."""
LINKED = ("trees", "guide", "build_tools/formulas")
"""What places of a review can lie in."""
PUBLISHED = "guide"
"""What may hold pictures, which may be larger than a text that is read."""
MOST_BYTES = 100_000_000
"""Of all that is read of a revision; some forty times what the guide itself has."""
COMPILED = (".pyc", ".pyo", ".pyd", ".so")
"""Code that Python takes in place of a text beside it."""
KINDS = {"120000": "a link", "160000": "a submodule"}
"""What git calls by these modes; those of files begin with 100."""


class Opened(NamedTuple):
    """A version as a folder, with the commit it is of; no commit where its files are in none."""

    folder: Path
    revision: str


class CannotOpen(Exception):
    """What was asked for is no version of a guide, or holds what cannot be reviewed; the message is one sentence."""


class _Blob(NamedTuple):
    """An entry of a commit: its mode, its name in git, its size in bytes and its path."""

    mode: str
    name: str
    size: int
    path: str


@contextmanager
def opened(root: Path, name: str) -> Iterator[Opened]:
    """Give a folder with the trees of a version, by the name of a git revision or the path of a folder.

    Raises CannotOpen.
    """
    folder = next((place for place in (root / name, Path(name)) if (place / "trees").is_dir()), None)
    commit = _commit(root, name)
    if folder is not None and commit is not None:
        raise CannotOpen(f'"{name}" is a git revision and a folder: write "./{name}" or "{commit[:12]}".')
    if folder is not None:
        yield _plain(Opened(folder, ""), name)
        return
    if commit is None:
        raise CannotOpen(f'"{name}" is neither a git revision nor a folder that holds trees/.')
    with tempfile.TemporaryDirectory(prefix="review-") as place:
        _write_out(root, name, commit, Path(place))
        yield Opened(Path(place), commit)


def working_tree(root: Path, name: str) -> Opened:
    """Give the project folder itself, with the commit that is checked out where no file differs from it.

    name: what it is called. Raises CannotOpen.
    """
    changed = git(root, "status", "--porcelain", "--", *LINKED)
    return _plain(Opened(root, (_commit(root, "HEAD") or "") if changed == b"" else ""), name)


def main_branch(root: Path) -> str:
    """Name the main branch. Raises CannotOpen where there is none."""
    for name in MAIN:
        if _commit(root, name):
            return name
    raise CannotOpen("There is no main branch to review against: name a git revision or a folder.")


def _plain(version: Opened, name: str) -> Opened:
    """Give back a folder in which all that a review reads is plain files."""
    for wanted in WANTED:
        for found in files_below(version.folder, version.folder / wanted):
            if isinstance(found, Problem):
                raise _refusal(name, found.place.path, found.what)
    return version


def _refusal(name: str, path: str, what: str) -> CannotOpen:
    return CannotOpen(f"{name} cannot be reviewed: {path}: {what}. Put a plain file here, or take it out.")


def _commit(root: Path, name: str) -> str | None:
    said = git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    return said.decode().strip() if said else None


def _write_out(root: Path, name: str, commit: str, place: Path) -> None:
    blobs = _wanted(root, name, commit)
    if not any(each.path.startswith("trees/") for each in blobs):
        raise CannotOpen(f'"{name}" holds no trees/ folder.')
    asked = "".join(f"{each.name}\n" for each in blobs)
    held = io.BytesIO(git(root, "cat-file", "--batch", given=asked.encode()) or b"")
    for blob in blobs:
        if held.readline() != f"{blob.name} blob {blob.size}\n".encode():
            raise CannotOpen(f'git could not read {blob.path} of "{name}".')
        file = place / blob.path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(held.read(blob.size))
        held.readline()


def _wanted(root: Path, name: str, commit: str) -> list[_Blob]:
    """List what a review reads of a commit. Raises CannotOpen where that is not all plain files of a fair size."""
    listed = git(root, "ls-tree", "-r", "-z", "-l", commit)
    if listed is None:
        raise CannotOpen(f'git could not read the files of "{name}".')
    blobs = [each for each in map(_entry, listed.split(b"\0")[:-1]) if _is_wanted(each.path)]
    seen: set[str] = set()
    for blob in blobs:
        if fault := _fault(blob, blob.path in seen):
            raise _refusal(name, blob.path, fault)
        seen.add(blob.path)
    if sum(each.size for each in blobs) > MOST_BYTES:
        raise CannotOpen(f"{name} cannot be reviewed: it holds more than {MOST_BYTES // 1_000_000} megabytes.")
    return blobs


def _entry(line: bytes) -> _Blob:
    about, _, path = line.partition(b"\t")
    mode, _, name, size = about.decode().split()
    return _Blob(mode, name, int(size) if size.isdecimal() else 0, os.fsdecode(path))


def _is_wanted(path: str) -> bool:
    """Tell whether an entry is read, or stands where a folder of what is read has to be."""
    entry = PurePosixPath(path)
    return any(entry.is_relative_to(each) or PurePosixPath(each).is_relative_to(entry) for each in WANTED)


def _fault(blob: _Blob, again: bool) -> str:
    """Say what is wrong with an entry that is no plain file; nothing where all is well."""
    parts = blob.path.split("/")
    if not blob.mode.startswith("100"):
        return f"this is {KINDS.get(blob.mode, f'an entry of mode {blob.mode}')}, and no file or folder"
    if again or not {"", ".", "..", ".git"}.isdisjoint(parts):
        return "no checkout could hold a file of this name"
    if blob.path.endswith(COMPILED):
        return "this is compiled code, which nobody can read"
    if blob.size > LARGEST_BYTES and parts[0] != PUBLISHED:
        return "the file is larger than a megabyte"
    return ""
