"""A phone whose browser is killed: it has a folder of its own, and is opened again on what was written there."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, BrowserType


class Mortal:
    """A browser with a folder on disk."""

    def __init__(self, chromium: BrowserType, folder: Path, **options: Any) -> None:
        self.chromium = chromium
        self.folder = folder
        self.options = options
        self.context = self._opened()

    def _opened(self) -> BrowserContext:
        return self.chromium.launch_persistent_context(self.folder, **self.options)

    def kill(self) -> BrowserContext:
        """Kill the browser before it can write anything more, and open it again on the same folder."""
        with self.context.expect_event("close"):
            for process in self._processes():
                os.kill(process, signal.SIGKILL)
        (self.folder / "SingletonLock").unlink(missing_ok=True)
        self.context = self._opened()
        return self.context

    def _processes(self) -> list[int]:
        """Find the browser by its folder, and the script that started it; its parts say of which type they are."""
        folder = f"--user-data-dir={self.folder}".encode()
        words = {int(each.parent.name): _words(each) for each in Path("/proc").glob("[0-9]*/cmdline")}
        found = [each for each, said in words.items() if folder in said and not any(b"--type=" in one for one in said)]
        assert found, "the browser runs no more"
        return found


def _words(told: Path) -> list[bytes]:
    """Give the words that a process was started with; none where it has just ended."""
    try:
        return told.read_bytes().split(b"\0")
    except OSError:
        return []
