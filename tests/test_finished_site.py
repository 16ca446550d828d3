"""The finished site as a reader meets it: what stands on every page, and whose work stands in it."""

from __future__ import annotations

import hashlib
import json
import re
from functools import cache
from html.parser import HTMLParser
from importlib.metadata import distribution
from pathlib import Path
from zipfile import ZipFile

import pytest
from guides import ROOT

from build_tools.guide.words import SCOPE
from build_tools.site.licences import WORKS, Unlicensed, licences

MADE = re.compile(
    r"(.*\.html|sw\.js|manifest\.webmanifest|guide\.zip|built-site\.json|licences\.txt|sitemap\.xml(\.gz)?"
    r"|scripts/reckoning\.js|search/search_index\.json)"
)
"""What the builder writes itself. The theme frames some of these pages; the licences name it for that."""
STOCK = ("Table of contents", "Back to top", "Skip to content", "Initializing search", "Made with", "squidfunk")
"""The theme's own labels, and its maker."""
MAKERS = re.compile(
    r"\b(iPhone|iPad|iOS|Android|Safari|Chrome|Chromium|Firefox|WebKit|Samsung|Windows (10|11|phone)|macOS)\b", re.I
)
"""Names of phones, browsers and systems."""


class _Shown(HTMLParser):
    """The words of a page, as somebody reads them."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self._within = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "style"):
            self._within = tag

    def handle_endtag(self, tag: str) -> None:
        if tag == self._within:
            self._within = ""

    def handle_data(self, data: str) -> None:
        if not self._within:
            self.words += data.split()


@cache
def shown(page: Path) -> str:
    """Give the words of a page."""
    parser = _Shown()
    parser.feed(page.read_text(encoding="utf-8"))
    return " ".join(parser.words)


def pages(site: Path) -> list[Path]:
    """Give every page, and be sure that there are some."""
    found = sorted(site.rglob("*.html"))
    assert len(found) > 200
    return found


def test_every_page_says_where_its_numbers_and_law_hold(site: Path) -> None:
    assert [page.name for page in pages(site) if SCOPE not in shown(page)] == []


def test_every_sheet_of_a_checklist_says_so_at_its_foot(site: Path) -> None:
    sheets = [page for page in pages(site) if page.parent.name == "paper"]
    foot = f'@bottom-left {{ content: "{SCOPE}"; }}'
    assert [page.name for page in sheets if foot not in page.read_text(encoding="utf-8")] == []


def test_no_page_holds_the_themes_labels_its_maker_or_a_script(site: Path) -> None:
    for page in pages(site):
        html = page.read_text(encoding="utf-8")
        assert [each for each in STOCK if each in html] == [], page.name
        assert 'name="generator"' not in html, page.name
        assert re.findall(r"<script>|<script (?!src=|defer src=|type=\"application/json\"|id=\"__config\")", html) == []
    assert list(site.glob("assets/images/*")) == []


def test_frame_has_words_of_its_own(site: Path) -> None:
    words = shown(site / "cautions.html")
    assert [each for each in ("On this page", "To the top", "Dark", "Light", "Licences") if each not in words] == []


def test_no_page_or_script_names_a_phone_a_browser_or_a_system(site: Path) -> None:
    told = {page.name: shown(page) for page in pages(site)}
    told |= {
        each.name: each.read_text(encoding="utf-8") for each in (ROOT / "site_overrides/scripts").rglob("[!i]*.js")
    }
    assert {name: found[0] for name, text in told.items() if (found := MAKERS.search(text))} == {}


def test_every_file_from_elsewhere_is_named_with_its_licence(site: Path) -> None:
    text = (site / "licences.txt").read_text(encoding="utf-8")
    addresses = sorted(each.relative_to(site).as_posix() for each in site.rglob("*") if each.is_file())
    theirs = [each for each in addresses if not MADE.fullmatch(each) and not _is_ours(site, each)]
    assert len(theirs) > 4
    assert [each for each in theirs if f"\n  {each}\n" not in text] == []
    headings = set(re.findall(r"^=== (.+) ===$", text, flags=re.M))
    wanted = {each for line in re.findall(r"^  words: (.+)$", text, flags=re.M) for each in line.split(", ")}
    assert wanted == headings
    assert (ROOT / "LICENSE").read_text(encoding="utf-8").strip() in text
    with ZipFile(site / "guide.zip") as archive:
        assert archive.read("rooflight-leak-guide/licences.txt").decode() == text


def _is_ours(site: Path, address: str) -> bool:
    content = (site / address).read_bytes()
    found = [ROOT / folder / address for folder in ("guide", "site_overrides")]
    return "vendor" not in address and any(each.is_file() and each.read_bytes() == content for each in found)


def test_every_library_in_the_themes_files_is_named() -> None:
    # The maps that the theme ships say which libraries each of its files was bundled from.
    maps = [
        each
        for each in distribution("mkdocs-material").files or ()
        if "/assets/" in f"/{each}" and each.suffix == ".map"
    ]
    assert len(maps) == 4
    sources = {source for each in maps for source in json.loads(each.read_text(encoding="utf-8"))["sources"]}
    bundled = {found[1] for each in sources if (found := re.search(r"node_modules/((?:@[^/]+/)?[^/]+)/", each))}
    assert len(bundled) > 5
    assert bundled - {work.name.split(",")[0] for work in WORKS} == set()


def test_every_sign_in_the_themes_styles_is_of_a_named_set() -> None:
    theme = distribution("mkdocs-material")
    icons = {
        re.sub(r"^.*?\bd=\"([^\"]+)\".*$", r"\1", each.read_text(encoding="utf-8"), flags=re.S): each.parts[-3:]
        for each in theme.files or ()
        if each.suffix == ".svg" and ".icons" in each.parts
    }
    (style,) = (each for each in theme.files or () if re.fullmatch(r"main\.\w+\.min\.css", each.name))
    drawn = re.findall(r'url\("data:image/svg[^"]*?\bd=.([^"]+?)[\'\\\\]', style.read_text(encoding="utf-8"))
    sets = {next(part for part in icons[each] if part in ("material", "octicons", "fontawesome")) for each in drawn}
    assert sets == {"material", "octicons", "fontawesome"}


def test_a_file_that_nobody_named_stops_the_build() -> None:
    with pytest.raises(Unlicensed, match=r"assets/javascripts/more\.js comes from elsewhere"):
        licences(ROOT, ["index.html", "assets/javascripts/more.js"])


@pytest.mark.parametrize("folder", ["site_overrides/licences", "site_overrides/scripts/vendor", "tests/browser/vendor"])
def test_vendored_files_are_those_that_were_taken(folder: str) -> None:
    rows = re.findall(
        r"^\| `(.+?)` \|.*`([0-9a-f]{64})` \|$", (ROOT / folder / "README.md").read_text("utf-8"), flags=re.M
    )
    assert rows != []
    found = {name: hashlib.sha256((ROOT / folder / name).read_bytes()).hexdigest() for name, _ in rows}
    assert found == dict(rows)
