"""MkDocs plugin: proves the sources, gives MkDocs the generated pages, finishes the built folder.

A failed check stops the build before MkDocs cleans the old site.
"""

from __future__ import annotations

import json
import re
from html import escape
from pathlib import Path
from typing import Literal

from markupsafe import Markup
from mkdocs.config import base
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc

from build_tools import diagram, draw, picture
from build_tools.checks import Checked, CheckedGuide, check
from build_tools.finish import finish
from build_tools.headings import headings
from build_tools.pages import guide_view
from build_tools.problems import has_errors
from build_tools.render import Renderer
from build_tools.report import as_text
from build_tools.site_pages import Pictures, ThemePage, theme_pages, whole_files
from build_tools.views import GuideView


class TreesConfig(base.Config):  # type: ignore[no-untyped-call]
    """The plugin takes no options: the folders are where the design has them."""


class TreesPlugin(BasePlugin[TreesConfig]):  # type: ignore[no-untyped-call]
    """Adds the trees, remedies and tables to the site."""

    proved: CheckedGuide | None = None
    """What the builder has proved already; `serve` leaves it out and proves at each rebuild."""

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Keep the plugin between rebuilds of `serve`."""
        self.html: dict[str, str] = {}

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Prove the sources and make the views, before anything of the old site is touched."""
        self.root = Path(config.config_file_path).parent
        config.watch.append(str(self.root / "trees"))
        self.guide = guide_view(self.proved or _guide_of(check(self.root)))
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add every generated page and file."""
        renderer = Renderer(self.root / "site_overrides", _drawings(self.root), dict(self.guide.sources))
        pictures = _pictures(self.guide, self.root / ".cache" / "diagrams")
        for page in theme_pages(self.guide, pictures, renderer):
            self.html[page.address] = page.html
            _add(files, File.generated(config, page.address, content=_head(page), inclusion=InclusionLevel.NOT_IN_NAV))
        for address, text in whole_files(self.guide, renderer, config.site_url or ""):
            _add(files, File.generated(config, address, content=text, inclusion=InclusionLevel.NOT_IN_NAV))
        return files

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Give a generated page its ready HTML; Markdown never sees it."""
        ready = self.html.get(page.file.src_uri)
        if ready is None:
            return html
        page.toc = get_toc(headings(ready))
        return ready

    @event_priority(-100)  # when every other plugin has written its files
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the folder: prune, policy, worker, archive."""
        finish(Path(config.site_dir), self.guide.revised)


def _head(page: ThemePage) -> str:
    """Write the title as quoted YAML, which a colon cannot break, and as HTML, which the theme does not escape."""
    return f"---\ntitle: {json.dumps(escape(page.title, quote=False), ensure_ascii=False)}\n---\n"


def _guide_of(checked: Checked) -> CheckedGuide:
    if checked.guide is None:
        errors = tuple(each for each in checked.problems if has_errors((each,)))
        raise PluginError(f"the sources do not pass the check\n\n{as_text(errors, checked.sources)}")
    return checked.guide


def _drawings(root: Path) -> dict[str, str]:
    return {each.stem: _drawing(root, each) for each in sorted((root / "guide" / "drawings").glob("[!.]*.svg"))}


_OF_A_DRAWING = (
    (r"<svg\b", "is no SVG in UTF-8. Save it as plain SVG."),
    (r'<svg\b[^>]*\sviewBox="[-\d.]+( [-\d.]+){3}"', 'has no size. Give its svg element viewBox="0 0 width height".'),
    (r'<title\b[^>]*>[^<]|aria-label="[^"]', "says nothing to who cannot see it. Give it a title and a desc element."),
)
"""What the templates need of every drawing, and what to say of one that lacks it."""


def _drawing(root: Path, file: Path) -> str:
    text = file.read_text(encoding="utf-8", errors="replace")
    said = _OF_A_DRAWING[0][1] if "\N{REPLACEMENT CHARACTER}" in text else None
    said = said or next((lack for needed, lack in _OF_A_DRAWING if not re.search(needed, text)), None)
    if said:
        raise PluginError(f"{file.relative_to(root).as_posix()} {said}")
    return text


def _pictures(guide: GuideView, cache: Path) -> Pictures:
    dots = {f"{tree.id}/{part}": dot for tree in guide.trees for part, dot in diagram.diagrams(tree, "../").items()}
    try:
        drawn = draw.draw(dots, cache)
    except (draw.EngineMissing, draw.DrawingFailed) as fault:
        raise PluginError(str(fault)) from None
    pictures: dict[str, dict[str, str]] = {tree.id: {} for tree in guide.trees}
    for tree in guide.trees:
        for part in tree.parts:
            title = f"Diagram: {part.title}"
            description = "Every step and exit of this diagram stands in words below it."
            svg = picture.inline(drawn[f"{tree.id}/{part.id}"], title, description, f"{tree.id}-{part.id}")
            pictures[tree.id][part.id] = Markup(svg)
    return pictures


def _add(files: Files, file: File) -> None:
    if files.get_file_from_path(file.src_uri):
        raise PluginError(f"{file.src_uri} stands in guide/ and is generated from trees/ too; rename one.")
    files.append(file)
