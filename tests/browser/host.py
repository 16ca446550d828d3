"""A host of the guide whose folder, answers and life a test controls, and what a phone says that it has saved of it."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path

from playwright.sync_api import Page, expect

from build_tools.site.offline import digest

Alter = Callable[[str, bytes], bytes | None]
"""What a host makes of a file on its way: other bytes, or nothing at all."""


class Host:
    """Serves a folder, as it is or altered, and remembers what it was asked for."""

    def __init__(self, folder: Path) -> None:
        self.alter: Alter = lambda _, content: content
        self.asked: list[str] = []
        host = self

        class Handler(SimpleHTTPRequestHandler):
            def log_message(self, *_: object) -> None:
                """Say nothing."""

            def send_head(self):  # type: ignore[no-untyped-def]
                path = self.path.lstrip("/").split("?")[0]
                host.asked.append(path)
                file = folder / path
                content = host.alter(path, file.read_bytes()) if file.is_file() else None
                if content is None:
                    self.send_error(503)
                    return None
                self.send_response(200)
                self.send_header("Content-Type", self.guess_type(path))
                self.send_header("Content-Length", str(len(content)))
                self.end_headers()
                return BytesIO(content)

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder)))
        self.address = f"http://127.0.0.1:{self.server.server_port}/"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def stop(self) -> None:
        """Take the host off the network."""
        self.server.shutdown()
        self.server.server_close()


def listed(folder: Path) -> dict[str, str]:
    """Give the worker's list of a built site: each file that a phone keeps, with its hash."""
    return dict(_guide(folder)["files"])


def _guide(folder: Path) -> dict:  # type: ignore[type-arg]
    found = re.search(r"^const GUIDE = (.*);$", (folder / "sw.js").read_text(), re.MULTILINE)
    assert found
    return dict(json.loads(found[1]))


def thin(folder: Path, *heads: str) -> None:
    """Leave out of the worker's list what lies under these folders, so that saving takes no longer than it must."""
    guide = _guide(folder)
    _relist(folder, {path: hash for path, hash in guide["files"].items() if not path.startswith(heads)})


def publish_again(folder: Path, path: str, content: bytes) -> None:
    """Change one file of a built site, and its worker's list with it."""
    (folder / path).write_bytes(content)
    _relist(folder, {**listed(folder), path: digest(content)})


def _relist(folder: Path, files: dict[str, str]) -> None:
    guide = {**_guide(folder), "files": files, "hash": digest(json.dumps(files).encode())}
    line = f"const GUIDE = {json.dumps(guide)};"
    worker = folder / "sw.js"
    worker.write_text(re.sub(r"^const GUIDE = .*;$", lambda _: line, worker.read_text(), flags=re.MULTILINE))


def says(page: Page, text: str) -> None:
    """Wait until the page says this of the saved guide."""
    expect(page.locator("[data-offline-text]").first).to_contain_text(text)


def saved(page: Page) -> None:
    """Wait until the page says that the whole guide is saved."""
    says(page, "The whole guide is saved on this phone")
