"""The whole build: MkDocs into a fresh folder, proof of what it wrote, and only then the exchange.

Until the last step the site that was there stays as it was. Only what a build wrote is ever replaced.
"""

from __future__ import annotations

import fcntl
import glob
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from mkdocs.commands.build import build

from build_tools.proof.checks import CheckedGuide
from build_tools.site.built_site import prove
from build_tools.site.finish import ARCHIVE
from build_tools.site.mkdocs_run import BuildFailed, plain_failures, settings

MARK = "built-site.json"
"""Stands at the top of every site that a build wrote, and lists its files."""


class WrongFolder(Exception):
    """The site cannot go where it was asked to go; the message says why."""


def publish(root: Path, guide: CheckedGuide, out: Path) -> int:
    """Build the site of a project folder, whose sources are proved, into `out`. Returns the number of pages.

    Raises WrongFolder, and BuildFailed where the site could not be built, proved or written; `out` is untouched then.
    """
    _refuse_to_replace(out)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with _scratch(out) as scratch:
            fresh = scratch / "new"
            _build(root, guide, fresh)
            faults = prove(fresh)
            if faults:
                raise BuildFailed("\n".join(f"{each.page}: {each.what}" for each in faults))
            pages = sum(1 for _ in fresh.rglob("*.html"))
            _finish(fresh)
            _put(fresh, out, scratch / "old")
    except OSError as error:
        raise BuildFailed(f"{error.filename or out}: {error.strerror or error}.") from None
    return pages


@contextmanager
def _scratch(out: Path) -> Iterator[Path]:
    """Give a folder beside the site, so that it can be exchanged by renaming; locked as long as its build runs."""
    made = tempfile.TemporaryDirectory(prefix=_prefix(out), dir=out.parent, ignore_cleanup_errors=True)
    with made as name, _locked(Path(name)):
        # Not before it is locked: what has no such folder in it is left alone by other builds.
        Path(name, "new").mkdir()
        yield Path(name)


def _prefix(out: Path) -> str:
    return f".{out.name}.being-built-"


@contextmanager
def _locked(folder: Path) -> Iterator[bool]:
    """Lock a folder, and tell whether that could be done; the system unlocks it where the program is killed."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield True
    except BlockingIOError:
        yield False
    finally:
        os.close(opened)


def clear_up(out: Path) -> None:
    """Drop what builds left that were killed, and put back the site of one that was killed between its two renames."""
    for left in out.parent.glob(f"{glob.escape(_prefix(out))}*"):
        if (left / "new").exists() or (left / "old").exists():
            with _locked(left) as dead:
                if dead and (left / "old").exists() and not out.exists():
                    (left / "old").rename(out)
                if dead:
                    shutil.rmtree(left, ignore_errors=True)


def _refuse_to_replace(out: Path) -> None:
    """Guard every folder that no build has written; hidden files alone are no reason, for they stay."""
    if out.exists() and not out.is_dir():
        raise WrongFolder(f"{out} is a file. Name a folder.")
    if out.is_dir() and not _written(out) and any(not each.name.startswith(".") for each in out.iterdir()):
        said = f"{out} holds other things than a built site. Name a new or an empty folder."
        older = f" A site from before builds wrote {MARK} is not replaced: delete it yourself, and build again."
        raise WrongFolder(said + older if (out / ARCHIVE).is_file() else said)


def _written(out: Path) -> frozenset[str]:
    """Give the files of a site that a build wrote there, by the list that it left; none where there is no such list."""
    try:
        names = [*json.loads((out / MARK).read_text(encoding="utf-8"))["files"], MARK]
        inside = all(not PurePosixPath(name).is_absolute() and ".." not in PurePosixPath(name).parts for name in names)
    except (OSError, ValueError, TypeError, KeyError):
        return frozenset()
    return frozenset(names) if inside else frozenset()


def _build(root: Path, guide: CheckedGuide, fresh: Path) -> None:
    with plain_failures(root):
        config = settings(root, guide, fresh)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)


def _finish(fresh: Path) -> None:
    """Leave the list of files, and let a web server read all, whatever its builder keeps from others."""
    _write_list(fresh, _files(fresh))
    for place in (fresh, *fresh.rglob("*")):
        place.chmod(0o755 if place.is_dir() else 0o644)


def _files(site: Path) -> frozenset[str]:
    found = (each for each in site.rglob("*") if each.is_symlink() or not each.is_dir())
    return frozenset(each.relative_to(site).as_posix() for each in found)


def _write_list(site: Path, files: frozenset[str]) -> None:
    said = {"written-by": "python -m build_tools build", "files": sorted(files - {MARK})}
    (site / MARK).write_text(json.dumps(said, indent=1) + "\n", encoding="utf-8")


def _put(fresh: Path, out: Path, old: Path) -> None:
    """Put the new site where the old one was: at once, or file by file where anything else stands there too."""
    written = _written(out)
    others = _files(out) - written
    if not others:
        _exchange(fresh, out, old)
        return
    if clash := sorted(others & _files(fresh)):
        raise WrongFolder(f"{out / clash[0]} was not written by a build, and the site has such a file. Move it away.")
    _put_beside(fresh, out, written)


def _put_beside(fresh: Path, out: Path, written: frozenset[str]) -> None:
    """Replace the files of the old site one by one, and touch no other; a build that is killed here is gone over."""
    new = _files(fresh)
    _write_list(out, written | new)
    for name in sorted(new - {MARK}):
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (fresh / name).replace(out / name)
    for name in written - new:
        (out / name).unlink(missing_ok=True)
    (fresh / MARK).replace(out / MARK)


def _exchange(fresh: Path, out: Path, old: Path) -> None:
    """Put the new folder where the old one was, by renaming only; the old one goes back where that fails."""
    if not out.exists():
        fresh.rename(out)
        return
    out.rename(old)
    try:
        fresh.rename(out)
    except BaseException:
        old.rename(out)
        raise
