"""The guide's views and diagrams to the files of the site: pages for the theme, and whole files.

A page for the theme is ready HTML with its title; a whole file (walk, checklist, script) is written as
it is. Each is made when it is wanted: a build wants all, a preview the one that is looked at. Nothing is
read or written here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from build_tools import javascript
from build_tools.formulas import Formula, by_subject
from build_tools.guide.formula_views import formula_view
from build_tools.guide.views import GuideView, TreeView
from build_tools.guide.walk import walk_data
from build_tools.guide.what_covers import cover_views
from build_tools.model.problems import RULES
from build_tools.site import qr
from build_tools.site.render import Renderer

Pictures = Callable[[TreeView], Mapping[str, str]]
"""Gives a tree's diagrams as inline SVG, by part."""
Make = Callable[[], str]
"""Makes the text of one page or file, when it is wanted."""


@dataclass(frozen=True, slots=True)
class ThemePage:
    """A page that the theme frames."""

    address: str
    """Its Markdown address: trees/x.md for trees/x.html."""
    title: str
    html: Make


def theme_pages(guide: GuideView, pictures: Pictures, renderer: Renderer) -> Iterator[ThemePage]:
    """Give every generated page that stands in the theme's frame."""
    views = {"guide": guide, "formulas": by_subject(guide.formulas), "rules": RULES}
    for name, title in _LISTS.items():
        template = f"{name.replace('/', '_')}.html"
        html = partial(renderer.page, template, "../" * name.count("/"), **views)
        yield ThemePage(f"{name}.md", title, html)
    yield ThemePage("what-covers-what.md", "What covers what", partial(_covers, guide, renderer))
    for tree in guide.trees:
        yield ThemePage(f"trees/{tree.id}.md", tree.tree.title, partial(_overview, guide, tree, pictures, renderer))
    for remedy in guide.remedies:
        html = partial(renderer.page, "remedy_page.html", "../", guide=guide, remedy=remedy)
        yield ThemePage(f"remedies/{remedy.id}.md", remedy.remedy.title, html)
    for formula in guide.formulas.values():
        yield ThemePage(f"reckon/{formula.id}.md", formula.title, partial(_reckon, guide, formula, renderer))


def _overview(guide: GuideView, tree: TreeView, pictures: Pictures, renderer: Renderer) -> str:
    return renderer.page("overview.html", "../", guide=guide, tree=tree, pictures=pictures(tree))


def _covers(guide: GuideView, renderer: Renderer) -> str:
    return renderer.page("what_covers_what.html", "", views=cover_views(guide))


def _reckon(guide: GuideView, formula: Formula, renderer: Renderer) -> str:
    return renderer.page("reckon_page.html", "../", guide=guide, view=formula_view(guide, formula))


_LISTS = {
    "trees/index": "Walks",
    "remedies/index": "Remedies",
    "reckon/index": "Reckoning",
    "cautions": "Cautions and gates",
    "terms": "Terms",
    "sources": "Sources",
    "rules": "Rules that every tree is held to",
}


def whole_files(guide: GuideView, renderer: Renderer, site_url: str) -> Iterator[tuple[str, Make]]:
    """Give every file that stands without the theme, by its address."""
    yield "scripts/reckoning.js", partial(javascript.program, guide.formulas)
    for tree in guide.trees:
        yield f"walk/{tree.id}.html", partial(_walk, guide, tree, renderer)
        yield f"paper/{tree.id}.html", partial(_paper, guide, tree, renderer, walk_address(site_url, tree))


def _walk(guide: GuideView, tree: TreeView, renderer: Renderer) -> str:
    return renderer.page("walk.html", "../", guide=guide, tree=tree, data=walk_data(guide, tree))


def _paper(guide: GuideView, tree: TreeView, renderer: Renderer, address: str) -> str:
    return renderer.page("paper.html", "../", guide=guide, tree=tree, address=address, qr=qr.code(address))


def walk_address(site_url: str, tree: TreeView) -> str:
    """Give the published address of a tree's walk with its version; empty where none is set."""
    return f"{site_url.rstrip('/')}/walk/{tree.id}.html?v={tree.tree.version}" if site_url else ""
