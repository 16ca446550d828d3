"""Waits until files change, by looking at their times and sizes; works on every system and over every mount."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

LOOK_SECONDS = 0.1
Stamp = tuple[int, int]
"""When a file was changed last, in nanoseconds, and its size in bytes."""


class Watch:
    """Watches files and folders from the moment when it is made."""

    def __init__(self, places: tuple[Path, ...]) -> None:
        self._places = places
        self._seen = self._look()

    def wait(self) -> frozenset[Path]:
        """Wait for a change and until it is over: an editor may write in several goes. Gives the changed files."""
        before, now = self._seen, self._look()
        while now == before or now != self._seen:
            self._seen = now
            time.sleep(LOOK_SECONDS)
            now = self._look()
        return frozenset(file for file in {*before, *now} if before.get(file) != now.get(file))

    def _look(self) -> Mapping[Path, Stamp]:
        return dict(stamped for place in self._places for stamped in _stamps(place))


def _stamps(place: Path) -> Iterator[tuple[Path, Stamp]]:
    for file in _files(place):
        try:
            stat = file.stat()
        except OSError:  # gone between two looks
            continue
        yield file, (stat.st_mtime_ns, stat.st_size)


def _files(place: Path) -> Iterator[Path]:
    """Give a file, or all files below a folder; what editors and Python keep beside them is left out."""
    if not place.is_dir():
        yield place
    for folder, folders, names in os.walk(place):
        folders[:] = [name for name in folders if _ours(name)]
        yield from (Path(folder, name) for name in names if _ours(name))


def _ours(name: str) -> bool:
    return not name.startswith((".", "#", "__pycache__")) and not name.endswith("~")
