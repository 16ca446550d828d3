"""MkDocs as this project runs it: its settings with the proved guide, and what fails in it as one plain message."""

from __future__ import annotations

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError, MkDocsException

from build_tools.proof.checks import CheckedGuide
from build_tools.site.mkdocs_plugin import TreesPlugin
from build_tools.site.render import broken_template


class BuildFailed(Exception):
    """The site could not be built or proved; the message says why."""


def settings(root: Path, guide: CheckedGuide, site: Path | None = None) -> MkDocsConfig:
    """Read mkdocs.yml and hand the plugin the guide; `site` is where the pages go, where they are written."""
    config = load_config(str(root / "mkdocs.yml"), site_dir=str(site) if site else None)
    plugin_of(config).proved = guide
    return config


def plugin_of(config: MkDocsConfig) -> TreesPlugin:
    """Give the plugin that makes the trees' pages."""
    plugin = config.plugins.get("trees")
    if not isinstance(plugin, TreesPlugin):
        raise ConfigurationError('mkdocs.yml: the plugin "trees" makes the pages. Put it back under plugins.')
    return plugin


@contextmanager
def plain_failures(root: Path) -> Iterator[list[str]]:
    """Collect what MkDocs warns of, and turn what fails in it into BuildFailed.

    A mistake in what an author writes is told; a fault of the program goes on as it came.
    """
    log = logging.getLogger("mkdocs")
    said = _Said()
    log.addHandler(said)
    log.setLevel(logging.WARNING)
    try:
        yield said.lines
    except Exception as error:
        told = broken_template(error, root) or _told(error, said.lines)
        if told is None:
            raise
        raise BuildFailed(told) from None
    finally:
        log.removeHandler(said)


class _Said(logging.Handler):
    """Keeps what MkDocs says of a failure; its exception often says only that it gave up."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []
        self._thread = threading.get_ident()

    def emit(self, record: logging.LogRecord) -> None:
        if record.thread == self._thread:
            self.lines.append(record.getMessage())


def _told(error: Exception, lines: list[str]) -> str | None:
    if isinstance(error, (Abort, UnicodeDecodeError)):
        return "\n".join(lines) or str(error)
    return "\n".join(dict.fromkeys((*lines, str(error)))) if isinstance(error, MkDocsException) else None
