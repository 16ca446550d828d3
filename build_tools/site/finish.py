"""The built folder to the finished site: pruned, with search for a folder, licences, policies, a worker, an archive.

The order matters: policies change pages, the worker hashes the changed pages, the archive holds all.
"""

from __future__ import annotations

import json
import zipfile
from datetime import date
from importlib.metadata import version
from pathlib import Path

from build_tools.site.licences import ADDRESS, licences
from build_tools.site.offline import kept, manifest, worker
from build_tools.site.policy import with_policy

ARCHIVE = "guide.zip"
"""Only a finished site has it at its top."""
_UNWANTED = ("*.map", "assets/javascripts/lunr/**/*", "assets/images/*", "licences/*")
"""Maps of the theme's scripts, word stems of languages that the guide is not in, its maker's mark, and the single
licences, which stand in one text."""


def finish(root: Path, site: Path, revised: date) -> None:
    """Finish a site folder that MkDocs has just written for a project folder."""
    _prune(site)
    _let_folders_search(site)
    (site / ADDRESS).write_text(licences(root, _addresses(site)), encoding="utf-8")
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


def _let_folders_search(site: Path) -> None:
    """Give a page that was opened from a folder its search as one script: there it can read no other file.

    The theme's script asks for this address and for `__index`; `search_from_a_folder.js` takes the rest.
    """
    index = (site / "search" / "search_index.json").read_text(encoding="utf-8")
    (worker,) = site.glob("assets/javascripts/workers/search.*.js")
    script = f"var __index = {index};\nvar searchScript = {json.dumps(worker.read_text(encoding='utf-8'))};\n"
    (site / "search" / "search_index.js").write_text(script, encoding="utf-8")


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
