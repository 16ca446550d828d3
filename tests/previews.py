"""A preview in a process of its own, as an author runs it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from html import unescape
from http.client import HTTPException
from pathlib import Path
from urllib.parse import quote

from guides import ROOT

LONG_SECONDS = 300
"""Far more than any change takes, so that a busy machine fails no test."""


class Preview:
    """The preview of a project folder on a free port; `program` is the folder of the program that shows it."""

    def __init__(self, root: Path, program: Path = ROOT, port: int = 0) -> None:
        call = [sys.executable, "-m", "build_tools", "--root", str(root), "serve", "--port", str(port)]
        environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
        self.ended: tuple[int, str, str] | None = None
        self.process = subprocess.Popen(call, cwd=program, env=environment, **pipes)  # type: ignore[call-overload]
        assert self.process.stdout is not None
        first = self.process.stdout.readline()
        self.address = next((word for word in first.split() if word.startswith("http://")), "")

    def __enter__(self) -> Preview:
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def get(self, address: str) -> str:
        """Give what stands at an address, a message of a missing page too."""
        try:
            with urllib.request.urlopen(self.address + address, timeout=LONG_SECONDS) as answer:
                return str(answer.read().decode("utf-8"))
        except urllib.error.HTTPError as error:
            return str(error.read().decode("utf-8"))

    def message(self, page: str) -> str:
        """Give the message that stands in front of a page, or the page."""
        return unescape(self.raw_message(page))

    def raw_message(self, page: str) -> str:
        """Give the same as it is sent, its letters escaped."""
        return self.get(f"-live/message?page={quote('/' + page)}")

    def until(self, text: str, look: Callable[[str], str], address: str) -> str:
        """Look until a text is there; gives all that is there. One that starts anew is silent for a while."""
        end = time.monotonic() + LONG_SECONDS
        while text not in (seen := _answer(look, address)):
            assert time.monotonic() < end, f"{text!r} did not come:\n{seen}"
            time.sleep(0.1)
        return seen

    def stop(self) -> tuple[int, str, str]:
        """End it as Ctrl-C does; gives its exit code and what else it said on both streams."""
        if self.ended is None:
            self.process.send_signal(signal.SIGINT)
            said, complained = self.process.communicate(timeout=LONG_SECONDS)
            self.ended = self.process.returncode, said, complained
        return self.ended


def _answer(look: Callable[[str], str], address: str) -> str:
    try:
        return look(address)
    except (ConnectionError, urllib.error.URLError, HTTPException) as silent:
        return str(silent)
