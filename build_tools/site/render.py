"""Views to HTML through the templates in site_overrides/pages. The only user of Jinja.

Prose is escaped; [[term]] links become links to the terms page. Every page is given `root`, the way
from it to the root of the site, since the site also opens from a folder.
"""

from __future__ import annotations

import json
import traceback
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup, escape

import build_tools.guide.words as words
from build_tools.model import Source, Where
from build_tools.sources.term_links import TERM_LINK, words_of


def prose(text: str, root: str) -> Markup:
    """Escape prose and turn its term links into links."""
    done = Markup("")
    end = 0
    for link in TERM_LINK.finditer(text):
        done += escape(text[end : link.start()])
        done += Markup('<a class="term" href="{}terms.html#{}">{}</a>').format(root, link[1], words_of(link))
        end = link.end()
    return done + escape(text[end:])


def as_json(value: Any) -> Markup:
    """Write JSON that may stand inside a script element."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return Markup(text.replace("<", "\\u003c").replace("&", "\\u0026"))


class Renderer:
    """Renders pages; made once for a build."""

    def __init__(self, overrides: Path, drawings: Mapping[str, str], sources: Mapping[str, Source]) -> None:
        """Take the folder that holds pages/ and styles/, each drawing's SVG by its name, and the table of sources."""
        self._environment = jinja2.Environment(
            # Styles can be included in a page that must be whole by itself.
            loader=jinja2.FileSystemLoader([overrides / "pages", overrides / "styles"]),
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            undefined=jinja2.StrictUndefined,
        )
        self._environment.filters.update(json=as_json, prose=prose)
        svgs = {name: Markup(text[text.index("<svg") :]) for name, text in drawings.items()}
        self._environment.globals.update(words=words, Where=Where, drawings=svgs, sources=sources)

    def page(self, template: str, root: str, **views: Any) -> str:
        """Render one page from its template; `root` is the way from it to the root of the site."""
        return self._environment.get_template(template).render(root=root, **views)


def broken_template(error: Exception, root: Path) -> str | None:
    """Say which template of a project failed, where and why; nothing where the fault lies elsewhere."""
    places = [(frame.f_code.co_filename, line) for frame, line in traceback.walk_tb(error.__traceback__)]
    if isinstance(error, jinja2.TemplateSyntaxError):
        places.append((error.filename or "", error.lineno))
    templates = (root / "site_overrides").resolve()
    inside = [(path, line) for name, line in places if (path := Path(name).resolve()).is_relative_to(templates)]
    if not inside:
        return None
    path, line = inside[-1]
    why = f"there is no template {error}" if isinstance(error, jinja2.TemplateNotFound) else str(error)
    return f"{path.relative_to(root.resolve()).as_posix()}:{line}: the template is broken: {why.rstrip('.')}."
