"""What the open pages are shown: the last sources that were right, and the mistake that stands in front of them."""

from __future__ import annotations

import time
import traceback
from dataclasses import dataclass
from pathlib import Path

from build_tools.preview import site
from build_tools.preview.message import failure_page, missing_page
from build_tools.preview.program import fault_text


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
        self._moment = Moment("", None, None)
        self._last: dict[str, Shown] = {}

    def renew(self, fault: str | None = None) -> bool:
        """Read the sources anew; tell whether they can be shown.

        fault: what is wrong with the edited program, which is told while this one shows the sources as it can.
        """
        last, mistake = self._moment.site, _fault_page(fault) if fault else None
        try:
            last = site.Site(self._root)
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


def _page_of(error: Exception) -> str:
    """Give the page that a Stopped carries; else tell a fault of the program."""
    if isinstance(error, site.Stopped):
        return error.page
    return _fault_page(fault_text("".join(traceback.format_exception(error))))


def _fault_page(fault: str) -> str:
    return failure_page(f"{fault}\nThis is a fault of the program, not of the trees.")
