"""What the search shows of a page: the words of the page, none run together. Read by the search's own parser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

import pytest
from guides import ROOT, the_guide
from material.plugins.search.plugin import Parser

from build_tools.guide.views import TreeView
from build_tools.site.pages import ThemePage, theme_pages
from build_tools.site.render import Renderer


def _pages() -> Iterator[ThemePage]:
    guide = the_guide()
    drawings = {each.stem: each.read_text(encoding="utf-8") for each in (ROOT / "guide" / "drawings").glob("*.svg")}
    renderer = Renderer(ROOT / "site_overrides", drawings, dict(guide.sources))
    # The words of a diagram stand in the long text below it.
    return theme_pages(guide, _pictures, renderer)


def _pictures(tree: TreeView) -> dict[str, str]:
    return {part.id: "<svg><text>Only here</text></svg>" for part in tree.parts}


PAGES = list(_pages())


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", unescape(re.sub(r"<[^>]*>", " ", text)))


def _found(page: ThemePage) -> str:
    parser = Parser()
    parser.feed(page.html())
    parser.close()
    return " ".join("".join(section.text) for section in parser.data)


@pytest.mark.parametrize("page", PAGES, ids=[page.address for page in PAGES])
def test_words_that_stand_apart_on_the_page_stand_apart_in_the_search(page: ThemePage) -> None:
    found = _words(_found(page))
    assert found
    assert set(found) - set(_words(page.html())) == set()


def test_a_diagram_is_found_by_the_text_below_it_alone() -> None:
    tree = next(page for page in PAGES if page.address == f"trees/{the_guide().first_tree.id}.md")
    assert "Only here" in tree.html()
    assert "Only here" not in _found(tree)
