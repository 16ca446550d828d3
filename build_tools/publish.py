"""The whole build: MkDocs into a fresh folder, proof of what it wrote, and only then the exchange.

Until the last step the site that was there stays as it was.
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from mkdocs.commands.build import build

from build_tools.built_site import prove
from build_tools.checks import CheckedGuide
from build_tools.finish import ARCHIVE
from build_tools.mkdocs_run import BuildFailed, plain_failures, settings


class WrongFolder(Exception):
    """The site cannot go where it was asked to go; the message says why."""


def publish(root: Path, guide: CheckedGuide, out: Path) -> int:
    """Build the site of a project folder, whose sources are proved, into `out`. Returns the number of pages.

    Raises WrongFolder, and BuildFailed where the site could not be built, proved or written; `out` is untouched then.
    """
    _refuse_to_replace(out)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        # Beside the site, so that it can be exchanged by renaming; of its own name, so that two builds never meet.
        with tempfile.TemporaryDirectory(prefix=f".{out.name}-", dir=out.parent, ignore_cleanup_errors=True) as scratch:
            fresh = Path(scratch, "new")
            _build(root, guide, fresh)
            faults = prove(fresh)
            if faults:
                raise BuildFailed("\n".join(f"{each.page}: {each.what}" for each in faults))
            pages = sum(1 for _ in fresh.rglob("*.html"))
            _exchange(fresh, out, Path(scratch, "old"))
    except OSError as error:
        raise BuildFailed(f"{error.filename or out}: {error.strerror or error}.") from None
    return pages


def bring_back(out: Path) -> None:
    """Put back the site of a build that was killed between its two renames, and drop what else that build left."""
    for old in out.parent.glob(f".{out.name}-*/old"):
        if not out.exists() and (old / ARCHIVE).is_file():
            old.rename(out)
            shutil.rmtree(old.parent, ignore_errors=True)


def _refuse_to_replace(out: Path) -> None:
    """Guard every folder that no build has written: it would be exchanged for the site and lost."""
    if out.is_dir() and any(out.iterdir()) and not (out / ARCHIVE).is_file():
        raise WrongFolder(f"{out} holds other things than a built site. Name a new or an empty folder.")
    if out.exists() and not out.is_dir():
        raise WrongFolder(f"{out} is a file. Name a folder.")


def _build(root: Path, guide: CheckedGuide, fresh: Path) -> None:
    with plain_failures(root):
        config = settings(root, guide, fresh)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)


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
