"""Proof of the finished site: no outside request, no dead link or anchor, no id twice, no script inline, a policy each.

MkDocs proves links in Markdown only; here the built files themselves are read.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

_LOADING = {"src", "href", "action", "data", "poster", "srcset", "xlink:href", "formaction"}
_CSS_ADDRESS = re.compile(r"url\(\s*['\"]?([^'\")]+)|@import\s+['\"]([^'\"]+)")
_HARMLESS = ("data:", "blob:", "mailto:", "tel:", "sms:")


@dataclass(frozen=True, slots=True, order=True)
class SiteFault:
    """What is wrong in one file of the site."""

    page: str
    what: str


@dataclass
class _Page(HTMLParser):
    """What a page links to and what can be linked to in it."""

    links: list[str] = field(default_factory=list)
    ids: Counter[str] = field(default_factory=Counter)
    policies: int = 0
    inline: list[str] = field(default_factory=list)
    """What would run and stands in the page itself."""

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attributes}
        if "id" in values:
            self.ids[values["id"]] += 1
        if tag == "a" and "name" in values:
            self.ids.setdefault(values["name"], 1)
        self.policies += tag == "meta" and values.get("http-equiv", "").lower() == "content-security-policy"
        # A canonical address says where the page is published, and nothing loads it.
        if tag != "meta" and values.get("rel") != "canonical":
            self.links += [value for name, value in values.items() if name in _LOADING]
        self.inline += [f'handler "{name}"' for name in values if name.startswith("on")]
        if tag == "script" and "src" not in values and values.get("type") != "application/json":
            self.inline.append("script")


def prove(site: Path) -> tuple[SiteFault, ...]:
    """Read every file of a finished site and give all its faults, in order."""
    files = {each.relative_to(site).as_posix() for each in site.rglob("*") if each.is_file()}
    pages = {name: _read(site / name) for name in sorted(files) if name.endswith(".html")}
    faults = [fault for name, page in pages.items() for fault in _page_faults(name, page, pages, files)]
    faults += [fault for name in sorted(files) if name.endswith(".css") for fault in _style_faults(site, name, files)]
    return tuple(sorted(faults))


def _read(file: Path) -> _Page:
    page = _Page()
    page.feed(file.read_text(encoding="utf-8"))
    return page


def _page_faults(name: str, page: _Page, pages: Mapping[str, _Page], files: set[str]) -> Iterator[SiteFault]:
    for each, count in page.ids.items():
        if count > 1:
            yield SiteFault(name, f'the id "{each}" stands {count} times')
    if page.policies != 1:
        yield SiteFault(name, f"it has {page.policies} content-security policies, not one")
    for each in page.inline:
        yield SiteFault(name, f"an inline {each} would be blocked")
    # The error page is served from any depth, so the theme links it from the root of the host.
    if name == "404.html":
        return
    for link in dict.fromkeys(page.links):
        fault = _link_fault(name, link, pages, files)
        if fault:
            yield SiteFault(name, fault)


def _link_fault(name: str, link: str, pages: Mapping[str, _Page], files: set[str]) -> str | None:
    if link.startswith(_HARMLESS):
        return None
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        return f'"{link}" leads outside the site'
    path = unquote(parts.path)
    target = normpath(join(dirname(name), path)) if path else name
    if path.endswith("/") or target == ".":
        target = normpath(join(target, "index.html"))
    if target not in files:
        return f'"{link}" leads to a file that does not exist'
    anchor = unquote(parts.fragment)
    if anchor and target in pages and anchor not in pages[target].ids:
        return f'"{link}" leads to an anchor that does not exist'
    return None


def _style_faults(site: Path, name: str, files: set[str]) -> Iterator[SiteFault]:
    for found in _CSS_ADDRESS.finditer((site / name).read_text(encoding="utf-8")):
        address = found[1] or found[2]
        if address.startswith((*_HARMLESS, "#")):
            continue
        if urlsplit(address).netloc:
            yield SiteFault(name, f'"{address}" leads outside the site')
        elif normpath(join(dirname(name), urlsplit(address).path)) not in files:
            yield SiteFault(name, f'"{address}" leads to a file that does not exist')
