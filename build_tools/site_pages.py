"""The guide's views and diagrams to the files of the site: pages for the theme, and whole files.

A page for the theme is ready HTML with its title; a whole file (walk, checklist, script) is written as
it is. Nothing is read or written here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from build_tools import javascript, qr
from build_tools.formulas import FORMULAS
from build_tools.problems import RULES
from build_tools.render import Renderer
from build_tools.views import GuideView, TreeView
from build_tools.walk import walk_data

Pictures = Mapping[str, Mapping[str, str]]
"""By tree and part: the diagram as inline SVG."""


@dataclass(frozen=True, slots=True)
class ThemePage:
    """A page that the theme frames."""

    address: str
    """Its Markdown address: trees/x.md for trees/x.html."""
    title: str
    html: str


def theme_pages(guide: GuideView, pictures: Pictures, renderer: Renderer) -> Iterator[ThemePage]:
    """Render every generated page that stands in the theme's frame."""
    views = {"guide": guide, "formulas": FORMULAS, "rules": RULES}
    for name, title in _LISTS.items():
        template = name.replace("/", "_")
        root = "../" * name.count("/")
        yield ThemePage(f"{name}.md", title, renderer.page(f"{template}.html", root, **views))
    for tree in guide.trees:
        html = renderer.page("overview.html", "../", guide=guide, tree=tree, pictures=pictures[tree.id])
        yield ThemePage(f"trees/{tree.id}.md", tree.tree.title, html)
    for remedy in guide.remedies:
        html = renderer.page("remedy_page.html", "../", guide=guide, remedy=remedy)
        yield ThemePage(f"remedies/{remedy.id}.md", remedy.remedy.title, html)
    for formula in FORMULAS.values():
        html = renderer.page("reckon_page.html", "../", guide=guide, formula=formula)
        yield ThemePage(f"reckon/{formula.id}.md", formula.title, html)


_LISTS = {
    "trees/index": "Walks",
    "remedies/index": "Remedies",
    "reckon/index": "Reckoning",
    "cautions": "Cautions and gates",
    "terms": "Terms",
    "sources": "Sources",
    "rules": "Rules that every tree is held to",
}


def whole_files(guide: GuideView, renderer: Renderer, site_url: str) -> Iterator[tuple[str, str]]:
    """Render every file that stands without the theme: address and text."""
    yield "scripts/reckoning.js", javascript.program(FORMULAS)
    yield "scripts/worker-frame.html", renderer.page("worker_frame.html", "../")
    for tree in guide.trees:
        data = walk_data(guide, tree)
        yield f"walk/{tree.id}.html", renderer.page("walk.html", "../", guide=guide, tree=tree, data=data)
        address = walk_address(site_url, tree)
        views = {"guide": guide, "tree": tree, "address": address, "qr": qr.code(address)}
        yield f"paper/{tree.id}.html", renderer.page("paper.html", "../", **views)


def walk_address(site_url: str, tree: TreeView) -> str:
    """Give the published address of a tree's walk with its version; empty where none is set."""
    return f"{site_url.rstrip('/')}/walk/{tree.id}.html?v={tree.tree.version}" if site_url else ""
