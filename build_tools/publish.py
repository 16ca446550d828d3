"""The whole build: MkDocs into a fresh folder, proof of what it wrote, and only then the exchange.

Until the last step the site that was there stays as it was.
"""

from __future__ import annotations

import logging
import shutil
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import MkDocsException

from build_tools.built_site import prove
from build_tools.checks import CheckedGuide
from build_tools.mkdocs_plugin import TreesPlugin


class BuildFailed(Exception):
    """The site could not be built or proved; the message says why."""


def publish(root: Path, guide: CheckedGuide, out: Path) -> int:
    """Build the site of a project folder, whose sources are proved, into `out`. Returns the number of pages.

    Raises: BuildFailed, with `out` untouched.
    """
    fresh = out.parent / f".{out.name}-fresh"
    shutil.rmtree(fresh, ignore_errors=True)
    try:
        _build(root, guide, fresh)
        faults = prove(fresh)
        if faults:
            raise BuildFailed("\n".join(f"{each.page}: {each.what}" for each in faults))
        _exchange(fresh, out)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return sum(1 for _ in out.rglob("*.html"))


class _Said(logging.Handler):
    """Keeps what MkDocs says of a failure; its exception often says only that it gave up."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


def _build(root: Path, guide: CheckedGuide, fresh: Path) -> None:
    log = logging.getLogger("mkdocs")
    said = _Said()
    log.addHandler(said)
    log.setLevel(logging.WARNING)
    try:
        config = load_config(str(root / "mkdocs.yml"), site_dir=str(fresh))
        plugin = config.plugins["trees"]
        assert isinstance(plugin, TreesPlugin)
        plugin.proved = guide
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
    except MkDocsException as error:
        raise BuildFailed("\n".join(said.lines) or str(error)) from None
    finally:
        log.removeHandler(said)


def _exchange(fresh: Path, out: Path) -> None:
    """Put the new folder where the old one was, by renaming only."""
    old = out.parent / f".{out.name}-old"
    shutil.rmtree(old, ignore_errors=True)
    if out.exists():
        out.rename(old)
    fresh.rename(out)
    shutil.rmtree(old, ignore_errors=True)
