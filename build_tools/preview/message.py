"""A message to the author as a page of its own: it stands where the page would stand, and leans on no template."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from html import escape

from build_tools.model.problems import Problem
from build_tools.proof.report import headline, quotation, summary
from build_tools.sources.source import SourceFile

STYLE = """
:root { color-scheme: light dark; --ink: #111111; --paper: #ffffff; --slate: #4a5560; --wash: #f1f3f5; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #f2f4f6; --paper: #1b1f24; --slate: #b8c2cc; --wash: #262c33; }
}
* { box-sizing: border-box; }
body { background: var(--paper); border-top: 8px solid var(--ink); color: var(--ink); margin: 0;
  font: 1.125rem/1.45 system-ui, sans-serif; overflow-wrap: anywhere; padding: 1rem 1rem 3rem; }
main { margin: 0 auto; max-width: 46rem; }
h1 { font-size: 1.5rem; line-height: 1.2; margin: 0.5rem 0; }
h2 { font-size: 1.125rem; line-height: 1.35; margin: 0 0 0.5rem; }
ol { list-style: none; margin: 1.5rem 0 0; padding: 0; }
li { border-left: 4px solid var(--ink); margin: 0 0 2rem; padding: 0 0 0 0.75rem; }
details li { border-left-color: var(--slate); }
p { margin: 0.5rem 0; }
pre { background: var(--wash); font: 1rem/1.5 ui-monospace, monospace; margin: 0.5rem 0; padding: 0.5rem 0.6rem;
  white-space: pre-wrap; }
mark { background: var(--ink); color: var(--paper); }
.place { display: block; font-family: ui-monospace, monospace; font-weight: 400; }
.quiet { color: var(--slate); }
summary, button { cursor: pointer; font: inherit; min-height: 3rem; }
summary { align-content: center; font-weight: 700; }
button { background: var(--paper); border: 2px solid var(--ink); color: var(--ink); padding: 0.5rem 1rem; }
:focus-visible { outline: 3px solid var(--ink); outline-offset: 3px; }
"""


def problems_page(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    """Show what `check` found: every error with its place, its line and its mend; the warnings are folded."""
    errors = tuple(each for each in problems if each.severity == "error")
    warnings = tuple(each for each in problems if each.severity != "error")
    rows = [_list(errors, sources)]
    if warnings:
        rows += [f"<details><summary>{summary(warnings)}</summary>", _list(warnings, sources), "</details>"]
    return _page("The sources do not pass the check", (f"<p>{summary(problems)}</p>", *rows))


def failure_page(text: str) -> str:
    """Show what else stands in the way of a page: a template, a drawing, a chapter, the settings, the program."""
    return _page("This page cannot be made", (f"<pre>{escape(text)}</pre>",))


def missing_page(address: str) -> str:
    """Say that there is no such page."""
    words = f"<p>Nothing stands at <code>{escape(address)}</code>.</p>"
    built = "<p>What only a finished guide has, as its archive, comes from <code>make site</code>.</p>"
    return _page("No such page", (words, built, '<p><a href="/" target="_top">The first page</a></p>'))


def with_script(html: str, script: str, moment: str) -> str:
    """Put the script that keeps a page in step with the sources at its end, with the name of the page's moment."""
    before, end, after = html.rpartition("</body>")
    return f'{before}<script src="{script}" data-moment="{moment}" defer></script>{end}{after}'


def _page(title: str, rows: Iterable[str]) -> str:
    head = '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
    body = "\n".join(rows)
    return (
        f'<!doctype html>\n<html lang="en-GB" data-message>\n'
        f"<head>{head}<title>{title}</title><style>{STYLE}</style></head>\n"
        f"<body>\n<main>\n<h1>{title}</h1>\n"
        f'<p class="quiet">The page comes back by itself as soon as this is mended.</p>\n{body}\n'
        f"<p><button type=button data-behind hidden>Look at the page as it was last</button></p>\n"
        f"</main>\n</body>\n</html>\n"
    )


def _list(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    items = "\n".join(f"<li>{''.join(_item(each, sources.get(each.place.path)))}</li>" for each in problems)
    return f"<ol>\n{items}\n</ol>"


def _item(problem: Problem, source: SourceFile | None) -> Iterator[str]:
    """Write a problem in the words of the shell; the letter at its column is marked in its line."""
    place, _, said = headline(problem).partition(": ")
    yield f'<h2><span class="place">{escape(place)}:</span> {escape(said)}</h2>'
    line = quotation(problem, source)
    if line:
        at = problem.place.column - 1
        marked = escape(line[at : at + 1] or " ")
        yield f"<pre>{escape(line[:at])}<mark>{marked}</mark>{escape(line[at + 1 :])}</pre>"
    yield f'<p>Mend: {escape(problem.mend)}</p><p class="quiet">Rule: {problem.code}</p>'
