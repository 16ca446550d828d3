"""The built folder to the finished site: pruned, each page with its policy, a worker, an archive.

The order matters: policies change pages, the worker hashes the changed pages, the archive holds all.
"""

from __future__ import annotations

import zipfile
from datetime import date
from importlib.metadata import version
from pathlib import Path

from build_tools.offline import kept, manifest, worker
from build_tools.policy import with_policy

ARCHIVE = "guide.zip"
"""Only a finished site has it at its top."""
_UNWANTED = ("*.map", "assets/javascripts/lunr/**/*")
"""Maps of the theme's scripts, and word stems of languages that the guide is not in."""


def finish(site: Path, revised: date) -> None:
    """Finish a site folder that MkDocs has just written."""
    _prune(site)
    for page in sorted(site.rglob("*.html")):
        page.write_text(with_policy(page.read_text(encoding="utf-8")), encoding="utf-8")
    (site / "manifest.webmanifest").write_text(manifest("Rooflight leak guide"), encoding="utf-8")
    template = (site / "sw.js").read_text(encoding="utf-8")
    files = {address: (site / address).read_bytes() for address in _addresses(site)}
    (site / "sw.js").write_text(worker(template, files, version("rooflight-leaks"), revised), encoding="utf-8")
    _archive(site)


def _prune(site: Path) -> None:
    for pattern in _UNWANTED:
        for file in site.rglob(pattern) if "/" not in pattern else site.glob(pattern):
            if file.is_file():
                file.unlink()


def _addresses(site: Path) -> list[str]:
    return sorted(each.relative_to(site).as_posix() for each in site.rglob("*") if each.is_file())


def _archive(site: Path) -> None:
    """Pack the site so that it opens from a folder; same files, same bytes."""
    addresses = [each for each in _addresses(site) if kept(each)]
    with zipfile.ZipFile(site / ARCHIVE, "w", zipfile.ZIP_DEFLATED) as archive:
        for address in addresses:
            entry = zipfile.ZipInfo(f"rooflight-leak-guide/{address}", date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, (site / address).read_bytes())
