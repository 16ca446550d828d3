"""The sources of one moment, proved: each page is made when somebody looks at it, and nothing is written.

A build makes every page, which takes seconds; an author looks at one. The steps are those of MkDocs' own
build, without its search, whose list needs every page.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mkdocs.commands.build import get_context
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files, InclusionLevel, get_files, set_exclusions
from mkdocs.structure.nav import get_navigation
from mkdocs.structure.pages import Page

from build_tools.preview.message import failure_page, problems_page
from build_tools.proof.checks import CheckedGuide, check
from build_tools.site.mkdocs_run import BuildFailed, plain_failures, plugin_of, settings
from build_tools.site.policy import with_policy


class Stopped(Exception):
    """A mistake stands in the way; `page` tells it as a page of its own."""

    def __init__(self, page: str) -> None:
        super().__init__("a mistake in the sources")
        self.page = page


class Site:
    """Every page and file of the guide, by its address."""

    def __init__(self, root: Path) -> None:
        """Prove the sources of a project folder and read its chapters; Stopped where a mistake stands in the way."""
        self._root = root
        self._lock = threading.Lock()
        guide = _proved(root)
        with _told(root) as warned:
            self._config = _settings(root, guide)
            self._environment = self._config.theme.get_env()
            self._files = get_files(self._config)
            self._files.add_files_from_theme(self._environment, self._config)
            self._files = self._config.plugins.on_files(self._files, config=self._config)
            set_exclusions(self._files, self._config)
            navigation = get_navigation(self._files, self._config)
            self._navigation = self._config.plugins.on_nav(navigation, config=self._config, files=self._files)
            self._read_pages()
            events = self._config.plugins
            self._environment = events.on_env(self._environment, config=self._config, files=self._files)
            if warned and self._config.strict:
                raise BuildFailed("\n".join(warned))
        self._by_address = {
            file.dest_uri: file
            for file in self._files
            if file.inclusion.is_included()  # type: ignore[no-untyped-call]
        }
        self._made = plugin_of(self._config).made
        self._pages: dict[str, str] = {}

    def page(self, address: str) -> str | None:
        """Make a page, once; nothing where there is none. Stopped where a mistake shows only now."""
        if address not in self._by_address or not address.endswith(".html"):
            return None
        with self._lock, _told(self._root):
            if address not in self._pages:
                self._pages[address] = with_policy(self._html(address))
            return self._pages[address]

    def file(self, address: str) -> bytes | None:
        """Give a file that is no page; nothing where there is none."""
        file = self._by_address.get(address)
        if file is None:
            return None
        with self._lock, _told(self._root):
            make = self._made.get(file.src_uri)
            return make().encode() if make else file.content_bytes

    def _html(self, address: str) -> str:
        file = self._by_address[address]
        if file.page is None:
            make = self._made.get(file.src_uri)
            return make() if make else file.content_string
        return self._framed(file.page)

    def _framed(self, page: Page) -> str:
        """Put a page into the theme's frame."""
        events, config, navigation = self._config.plugins, self._config, self._navigation
        page.active = True
        try:
            context = get_context(navigation, self._documents(), config, page)
            context = events.on_page_context(context, page=page, config=config, nav=navigation)
            html = self._environment.get_template(page.meta.get("template", "main.html")).render(context)
            return events.on_post_page(html, page=page, config=config)
        finally:
            page.active = False

    def _read_pages(self) -> None:
        """Read every chapter as MkDocs does, and prove its links."""
        for file in self._documents():
            page = file.page or Page(None, file, self._config)
            _read(page, self._config, self._files)
        for file in self._documents():
            assert file.page is not None
            level = self._config.validation.links.anchors
            file.page.validate_anchor_links(files=self._files, log_level=level)

    def _documents(self) -> list[File]:
        return list(self._files.documentation_pages(inclusion=InclusionLevel.is_included))


def _proved(root: Path) -> CheckedGuide:
    checked = check(root)
    if checked.guide is None:
        raise Stopped(problems_page(checked.problems, checked.sources))
    return checked.guide


def _settings(root: Path, guide: CheckedGuide) -> MkDocsConfig:
    config = settings(root, guide)
    plugin_of(config).at_once = False
    search = config.plugins.get("material/search")
    if search:
        search.config.enabled = False
    config.plugins.on_startup(command="serve", dirty=False)
    return config.plugins.on_config(config)


def _read(page: Page, config: MkDocsConfig, files: Files) -> None:
    page.read_source(config)
    text = page.markdown or ""
    page.markdown = config.plugins.on_page_markdown(text, page=page, config=config, files=files)
    page.render(config, files)
    html = page.content or ""
    page.content = config.plugins.on_page_content(html, page=page, config=config, files=files)


@contextmanager
def _told(root: Path) -> Iterator[list[str]]:
    """Tell as a page what fails inside through a mistake of the author's."""
    try:
        with plain_failures(root) as warned:
            yield warned
    except BuildFailed as failed:
        raise Stopped(failure_page(str(failed))) from None
