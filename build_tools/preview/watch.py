"""Waits until files change, as the system tells it; it may not tell of edits on the far side of a network mount."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path
from queue import Empty, SimpleQueue

from watchdog import events
from watchdog.observers import Observer

QUIET_SECONDS = 0.1
"""A change is over when so long nothing more is written: an editor may write in several goes."""
_BESIDE = re.compile(r"[.#]|__pycache__|.*~$")
"""What editors and Python keep beside the files."""
_CHANGES = [
    *(events.FileCreatedEvent, events.FileModifiedEvent, events.FileMovedEvent, events.FileDeletedEvent),
    *(events.DirCreatedEvent, events.DirMovedEvent, events.DirDeletedEvent),
]


class Watch(events.FileSystemEventHandler):
    """Watches files and folders from the moment when it is made; they may come later, or anew."""

    def __init__(self, places: tuple[Path, ...]) -> None:
        self._places = places
        self._changed: SimpleQueue[Path] = SimpleQueue()
        self._observer = Observer()
        self._observe()
        self._observer.start()

    def wait(self) -> frozenset[Path]:
        """Wait for a change and until it is over. Gives what changed: files, and folders that came or went."""
        changed = {self._changed.get()}
        with suppress(Empty):
            while True:
                changed.add(self._changed.get(timeout=QUIET_SECONDS))
        self._observe()
        return frozenset(changed)

    def on_any_event(self, event: events.FileSystemEvent) -> None:
        """Note what changed."""
        for path in (Path(os.fsdecode(each)) for each in (event.src_path, event.dest_path) if each):
            inside = next((path.relative_to(each).parts for each in self._places if path.is_relative_to(each)), None)
            if inside is not None and not any(map(_BESIDE.match, inside)):
                self._changed.put(path)

    def _observe(self) -> None:
        """Observe what is there now. Done before it is read, so whatever changes meanwhile is read or told next."""
        self._observer.unschedule_all()
        # The folder around a place tells of a single file, and of a folder that comes later.
        around = {place.parent for place in self._places}
        for folder in (*around, *filter(Path.is_dir, self._places)):
            self._observer.schedule(self, folder, recursive=folder in self._places, event_filter=_CHANGES)
