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
        lock = self.folder / "SingletonLock"
        process = int(str(lock.readlink()).rsplit("-", 1)[1])
        with self.context.expect_event("close"):
            os.kill(process, signal.SIGKILL)
        lock.unlink()
        self.context = self._opened()
        return self.context
