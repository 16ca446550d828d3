"""MkDocs plugin: gives MkDocs the generated pages of a proved guide, and finishes the built folder."""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

from markupsafe import Markup
from mkdocs.config import base
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc
from mkdocs.utils.templates import TemplateContext

from build_tools.guide import words
from build_tools.guide.pages import guide_view
from build_tools.guide.views import PartView, TreeView
from build_tools.proof.checks import CheckedGuide
from build_tools.site import diagram, draw, picture
from build_tools.site.finish import finish
from build_tools.site.headings import headings
from build_tools.site.licences import Unlicensed
from build_tools.site.pages import Make, ThemePage, theme_pages, whole_files
from build_tools.site.render import Renderer

LONGEST_SITE_URL = 300
"""A QR code of an address twice as long is as wide as half a sheet."""


class TreesConfig(base.Config):  # type: ignore[no-untyped-call]
    """The plugin takes no options: the folders are where the design has them."""


class TreesPlugin(BasePlugin[TreesConfig]):  # type: ignore[no-untyped-call]
    """Adds the trees, remedies and tables to the site."""

    proved: CheckedGuide | None = None
    """The guide, from whoever runs MkDocs."""
    at_once: bool = True
    """A build makes all pages, and draws their diagrams in one process; a preview makes those that are asked for."""

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Make the views."""
        if self.proved is None:
            raise PluginError("MkDocs alone proves nothing. Run `python -m build_tools build`, or `serve` to look.")
        if len(config.site_url or "") > LONGEST_SITE_URL:
            raise PluginError(
                f"SITE_URL has {len(config.site_url or ''):,} letters; a QR code takes {LONGEST_SITE_URL}."
            )
        self.root = Path(config.config_file_path).parent
        self.guide = guide_view(self.proved)
        self.made: dict[str, Make] = {}
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add every generated page and file."""
        renderer = Renderer(self.root / "site_overrides", _drawings(self.root), dict(self.guide.sources))
        drawn = self._drawn(self.guide.trees) if self.at_once else {}
        pages = theme_pages(self.guide, lambda tree: drawn.get(tree.id) or self._drawn((tree,))[tree.id], renderer)
        for page in pages:
            self._add(files, config, page.address, page.html, _head(page))
        for address, make in whole_files(self.guide, renderer, config.site_url or ""):
            self._add(files, config, address, make, make() if self.at_once else "")
        return files

    def _drawn(self, trees: tuple[TreeView, ...]) -> Mapping[str, Mapping[str, str]]:
        return _pictures(trees, self.root / ".cache" / "diagrams")

    def _add(self, files: Files, config: MkDocsConfig, address: str, make: Make, content: str) -> None:
        if files.get_file_from_path(address):
            raise PluginError(f"{address} stands in guide/ and is generated from trees/ too; rename one.")
        self.made[address] = make
        files.append(File.generated(config, address, content=content, inclusion=InclusionLevel.NOT_IN_NAV))

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Keep MkDocs from judging links into a generated page, which it sees empty; `built_site` proves them."""
        if page.file.src_uri in self.made:
            page.present_anchor_ids = None
        return html

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Files) -> Any:
        """Give the theme's frame the words that stand on every page."""
        env.globals["words"] = words
        return env

    @event_priority(100)  # before the search reads the page
    def on_page_context(self, context: TemplateContext, *, page: Page, config: MkDocsConfig, nav: Navigation) -> None:
        """Give a generated page its ready HTML; Markdown never sees it."""
        make = self.made.get(page.file.src_uri)
        if make:
            page.content = make()
            page.toc = get_toc(headings(page.content))

    @event_priority(-100)  # when every other plugin has written its files
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the folder: prune, licences, policy, worker, archive."""
        try:
            finish(self.root, Path(config.site_dir), self.guide.revised)
        except Unlicensed as unlicensed:
            raise PluginError(str(unlicensed)) from None


def _head(page: ThemePage) -> str:
    """Write the title as quoted YAML, which a colon cannot break, and as HTML, which the theme does not escape."""
    return f"---\ntitle: {json.dumps(escape(page.title, quote=False), ensure_ascii=False)}\n---\n"


def _drawings(root: Path) -> dict[str, str]:
    found = sorted((root / "guide" / "drawings").glob("[!.]*.svg"))
    return {each.stem: each.read_text(encoding="utf-8") for each in found}


def _pictures(trees: tuple[TreeView, ...], cache: Path) -> Mapping[str, Mapping[str, str]]:
    """Give each tree's diagrams by part, those that are new drawn in one process."""
    dots = {f"{tree.id}/{part}": dot for tree in trees for part, dot in diagram.diagrams(tree, "../").items()}
    try:
        drawn = draw.draw(dots, cache)
    except (draw.EngineMissing, draw.DrawingFailed) as fault:
        raise PluginError(str(fault)) from None
    return {tree.id: {part.id: _dressed(drawn, tree, part) for part in tree.parts} for tree in trees}


def _dressed(drawn: Mapping[str, str], tree: TreeView, part: PartView) -> Markup:
    description = "Every step and exit of this diagram stands in words below it."
    svg = drawn[f"{tree.id}/{part.id}"]
    return Markup(picture.inline(svg, f"Diagram: {part.title}", description, f"{tree.id}-{part.id}"))
