"""What in the site comes from elsewhere: each work, the files it stands in, and the words of its licence, as one text.

Words that an installed package ships are read there; the others stand in site_overrides/licences/.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib.metadata import distribution, version
from pathlib import Path

ADDRESS = "licences.txt"
_THEME = "mkdocs-material"
_BUNDLE = ("assets/javascripts/bundle.*.js",)
# Opened from a folder the search reads its script out of its list.
_SEARCH = ("assets/javascripts/workers/search.*.js", "search/search_index.js")
_STYLES = ("assets/stylesheets/*.css",)
_FROM_ELSEWHERE = ("assets/", "scripts/vendor/")
"""Nothing of ours stands in these folders, and nothing of others stands unchanged anywhere else."""


@dataclass(frozen=True, slots=True)
class Work:
    """Somebody else's work."""

    name: str
    licence: str
    """By its short name on the SPDX list."""
    words: tuple[str, ...]
    """Files in site_overrides/licences/; after `theme:`, files of the installed theme."""
    stands_in: tuple[str, ...]
    """Patterns of addresses."""


WORKS = (
    Work(_THEME, "MIT", ("theme:licenses/LICENSE",), (*_BUNDLE, *_SEARCH, *_STYLES)),
    Work("clipboard, with good-listener, delegate and select", "MIT", ("clipboard.txt",), _BUNDLE),
    Work("tiny-emitter, in clipboard", "MIT", ("tiny-emitter.txt",), _BUNDLE),
    Work("escape-html", "MIT", ("escape-html.txt",), _BUNDLE),
    Work("focus-visible", "W3C-20150513", ("focus-visible.txt", "W3C-20150513.txt"), _BUNDLE),
    Work("rxjs", "Apache-2.0", ("rxjs.txt",), _BUNDLE),
    Work("tslib", "0BSD", ("tslib.txt",), _BUNDLE),
    Work("lunr", "MIT", ("lunr.txt",), _SEARCH),
    Work("material-design-color", "MIT", ("material-design-color.txt",), _STYLES),
    Work("Material Design Icons", "Apache-2.0", ("theme:.icons/material/LICENSE", "Apache-2.0.txt"), _STYLES),
    Work("Octicons", "MIT", ("theme:.icons/octicons/LICENSE",), _STYLES),
    Work("Font Awesome Free", "CC-BY-4.0", ("theme:.icons/fontawesome/LICENSE.txt", "CC-BY-4.0.txt"), _STYLES),
    Work("idb-keyval", "Apache-2.0", ("idb-keyval.txt", "Apache-2.0.txt"), ("scripts/vendor/idb-keyval.js",)),
)


class Unlicensed(Exception):
    """A file from elsewhere that no work owns; the message says which and what to do."""


def licences(root: Path, addresses: Iterable[str]) -> str:
    """Write the licences of a project folder's site, which has these addresses.

    Raises Unlicensed for a file from elsewhere that no work stands in.
    """
    known = sorted(addresses)
    for address in known:
        if address.startswith(_FROM_ELSEWHERE) and not any(_stands_in(work, address) for work in WORKS):
            raise Unlicensed(f"{address} comes from elsewhere. Name its work in build_tools/site/licences.py.")
    return "\n".join((*_ours(root), *_works(known), *_words(root))) + "\n"


def _stands_in(work: Work, address: str) -> bool:
    return any(fnmatchcase(address, pattern) for pattern in work.stands_in)


def _ours(root: Path) -> Iterator[str]:
    yield "The guide: its words, drawings and program."
    yield ""
    yield (root / "LICENSE").read_text(encoding="utf-8").strip()


def _works(addresses: list[str]) -> Iterator[str]:
    yield "\n\nWhat comes from elsewhere. The words of each licence stand below, under the names given here."
    yield f"The frame of the reading pages is made from the templates of {_THEME} {version(_THEME)}."
    for work in WORKS:
        yield f"\n{work.name}: {work.licence}"
        yield f"  words: {', '.join(_heading(each) for each in work.words)}"
        yield from (f"  {address}" for address in addresses if _stands_in(work, address))


def _words(root: Path) -> Iterator[str]:
    for name in dict.fromkeys(each for work in WORKS for each in work.words):
        yield f"\n\n=== {_heading(name)} ===\n"
        yield _text(root, name).strip()


def _heading(name: str) -> str:
    return name.replace("theme:", f"{_THEME}/").removesuffix(".txt")


def _text(root: Path, name: str) -> str:
    if not name.startswith("theme:"):
        return (root / "site_overrides" / "licences" / name).read_text(encoding="utf-8")
    shipped = next(each for each in _shipped() if each.endswith(f"/{name.removeprefix('theme:')}"))
    return Path(str(distribution(_THEME).locate_file(shipped))).read_text(encoding="utf-8")


@cache
def _shipped() -> tuple[str, ...]:
    """Name the files of the installed theme as they are listed: a path object for each of 15,000 takes far longer."""
    return tuple(row[0] for row in csv.reader((distribution(_THEME).read_text("RECORD") or "").splitlines()))
