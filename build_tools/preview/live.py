"""What the open pages are shown: the last sources that were right, and the mistake that stands in front of them."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

from build_tools.preview import site
from build_tools.preview.message import failure_page, missing_page
from build_tools.preview.program import fault_text, taken_in


@dataclass(frozen=True, slots=True)
class Moment:
    """The sources as they stood after a change."""

    name: str
    """Another one at every change, after a new start too."""
    site: site.Site | None
    """The last that was right; nothing before there was one."""
    mistake: str | None
    """The message, as a page, where these sources have a mistake."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What is shown at an address."""

    moment: str
    """The name of the moment that it shows; empty where that is past."""
    html: str
    found: bool = True
    is_message: bool = False


class Live:
    """The sources of a project folder, renewed after each change; pages are asked for from any thread."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._program: ModuleType = site
        self._program_fault: str | None = None
        self._moment = Moment("", None, None)
        self._last: dict[str, Shown] = {}

    def renew(self, program_changed: bool = False) -> bool:
        """Read the sources anew, and the program first where that changed. Tells whether they can be shown."""
        if program_changed:
            self._take_in_program()
        last, mistake = self._moment.site, self._program_fault
        try:
            last = self._program.Site(self._root)
        except Exception as error:
            mistake = _page_of(error)
        self._moment = Moment(str(time.time_ns()), last, mistake)
        return mistake is None

    def state(self, address: str) -> tuple[str, bool]:
        """Name the moment, and tell whether a mistake stands in front of the page at an address."""
        now = self._moment
        return now.name, bool(now.mistake) or self._at(now, address).is_message

    def page(self, address: str) -> Shown:
        """Give the page at an address: as it was last while a mistake stands, the message where it never was."""
        now = self._moment
        shown = self._at(now, address)
        if shown.is_message:
            return self._last.get(address, shown)
        return Shown("", shown.html) if now.mistake else shown

    def message(self, address: str) -> Shown:
        """Give the message that stands in front of the page at an address; the page itself where none does."""
        now = self._moment
        return Shown(now.name, now.mistake, is_message=True) if now.mistake else self._at(now, address)

    def file(self, address: str) -> bytes | None:
        """Give a file that is no page; nothing where there is none or it cannot be made."""
        try:
            return self._moment.site.file(address) if self._moment.site else None
        except Exception:
            return None

    def _at(self, now: Moment, address: str) -> Shown:
        if now.site is None:
            return Shown(now.name, now.mistake or "", is_message=True)
        try:
            html = now.site.page(address)
        except Exception as error:
            return Shown(now.name, _page_of(error), is_message=True)
        if html is None:
            return Shown(now.name, missing_page(f"/{address}"), found=False, is_message=True)
        self._last[address] = Shown("", html)
        return Shown(now.name, html)

    def _take_in_program(self) -> None:
        try:
            self._program = taken_in(site.__name__)
            self._program_fault = None
        except Exception as error:
            self._program_fault = _page_of(error)


def _page_of(error: Exception) -> str:
    """Give the page that a Stopped carries, of this program or of an earlier one; else tell a fault of the program."""
    page = getattr(error, "page", None)
    if isinstance(page, str):
        return page
    return failure_page(f"{fault_text(error)}\nThis is a fault of the program, not of the trees.")
