"""A review as one HTML file that stands alone: no script, nothing fetched, both versions of a tree in one picture."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from html import escape

from build_tools.review.words.entries import VERSIONS, Entry, Note, Outline, Section
from build_tools.review.words.links import Links
from build_tools.review.words.sentences import Placed
from build_tools.site.picture import PATTERNS

_DASHES = "\n".join(f".edge.{line} path {{ stroke-dasharray: {dashes}; }}" for line, dashes in PATTERNS.items())
STYLE = f"""
:root {{ color-scheme: light dark; --ink: #111111; --paper: #ffffff; --line: #4a5560; --quiet: #4a5560;
  --link: #0b5c8a; --gone: #8a3c00; --come: #0b3d91; --other: #5b2a86; }}
@media (prefers-color-scheme: dark) {{ :root {{ --ink: #f0f0f0; --paper: #16191c; --line: #8b97a3; --quiet: #b0bac4;
  --link: #7cc4f0; --gone: #ffb380; --come: #9dc1ff; --other: #d3a8f5; }} }}
body {{ margin: 1rem auto; max-width: 60rem; padding: 0 1rem; color: var(--ink); background: var(--paper);
  font: 1rem/1.5 system-ui, sans-serif; }}
a {{ color: var(--link); }}
h1, h2, h3, li, summary {{ overflow-wrap: anywhere; line-height: 1.3; }}
h1 {{ font-size: 1.6rem; }} h2 {{ font-size: 1.25rem; margin-top: 2rem; }} h3 {{ font-size: 1rem; }}
ul {{ padding-left: 1.2rem; }}
li {{ margin: 0.5rem 0; }}
.note {{ margin: 0.2rem 0 0; line-height: 1.4; }}
.places {{ color: var(--quiet); font-size: 0.85rem; }}
.fallen {{ border: 4px solid var(--ink); padding: 0.5rem 1rem; font-weight: bold; }}
summary {{ font-size: 1.25rem; font-weight: bold; margin-top: 2rem; padding: 0.6rem 0; cursor: pointer; }}
.inner summary {{ font-size: 1rem; margin-top: 0; }}
.note b {{ font-weight: 600; }}
del {{ color: var(--gone); text-decoration-thickness: 2px; }}
ins {{ color: var(--come); font-weight: bold; text-decoration: underline; text-decoration-thickness: 2px; }}
figure {{ margin: 1rem 0; overflow-x: auto; border: 1px solid var(--line); padding: 0.5rem; }}
figure svg {{ display: block; }}
svg text {{ font-family: Arial, Helvetica, sans-serif; fill: var(--ink); }}
svg polygon, svg path {{ stroke: var(--ink); stroke-width: 1.5; stroke-linecap: round; }}
svg .edge polygon {{ fill: var(--ink); stroke-dasharray: none; }}
svg .added polygon, svg .added path {{ stroke: var(--come); stroke-width: 4; }}
svg .edge.added polygon {{ fill: var(--come); stroke-width: 1; }}
svg .added text {{ fill: var(--come); }}
svg .removed polygon, svg .removed path {{ stroke: var(--gone); stroke-width: 1; }}
svg .node.removed polygon {{ stroke-dasharray: 7 4; }}
svg .edge.removed polygon {{ fill: var(--paper); }}
svg .removed text {{ fill: var(--gone); }}
svg .node.removed text + text {{ text-decoration: line-through; }}
svg .node text:first-of-type {{ font-weight: bold; }}
svg .changed polygon {{ stroke: var(--other); }}
svg .changed text {{ fill: var(--other); }}
{_DASHES}
"""
KEY = (
    "Thin outline: kept.",
    "Thick outline, ADDED: only after.",
    "Dashed outline and struck-out words, REMOVED: only before.",
    "Double outline, CHANGED: other words or values.",
    "A thick line is an added exit, a thin one with an open head a removed one.",
    "Solid is yes, long dashes no, dots can't tell; a measure's verdicts have lines of their own.",
    "A wide picture is moved sideways.",
)
MARKS = {"was": "del", "now": "ins"}
MOST_OPEN = 12
"""Entries of a section that is not folded."""


def as_html(outline: Outline, links: Links, drawings: Mapping[str, str]) -> str:
    """Write a review as a page; `drawings` are the engine's SVG texts by the id of their tree."""
    title = escape(outline.title)
    head = f'<meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{title}</title>'
    policy = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
    body = "\n".join(_body(outline, links, drawings))
    return (
        f'<!doctype html>\n<html lang="en-GB">\n<head>{head}{policy}<style>{STYLE}</style></head>\n'
        f"<body>\n<h1>{title}</h1>\n{body}\n</body>\n</html>"
    )


def _body(outline: Outline, links: Links, drawings: Mapping[str, str]) -> Iterator[str]:
    if outline.warning:
        yield f'<p class="fallen">{outline.warning}</p>'
    yield from _list(map(escape, outline.agreed))
    yield f"<p>{outline.lead}</p>"
    for section in outline.sections:
        yield from _section(section, links)
    yield from _figures(drawings)
    if outline.compared:
        yield f"<p>{escape(outline.compared)}</p>"
    if outline.proposals:
        head = f"<summary>{VERSIONS} ({len(outline.proposals)})</summary>"
        yield from (f"<details>{head}", *_list(map(escape, outline.proposals)), "</details>")


def _section(section: Section, links: Links) -> Iterator[str]:
    entries = _list(_entry(each, links) for each in section.entries)
    if not section.is_open and len(section.entries) > MOST_OPEN:
        yield from (f"<details><summary>{section.title} ({section.findings})</summary>", *entries, "</details>")
    else:
        yield from (f"<h2>{section.title}</h2>", *entries)


def _list(items: Iterable[str]) -> Iterator[str]:
    held = [f"<li>{item}</li>" for item in items]
    return iter(("<ul>", *held, "</ul>") if held else ())


def _entry(entry: Entry, links: Links, mark: str = "strong") -> str:
    places = "; ".join(_place(each, links) for each in entry.places)
    places = f' <span class="places">{places}</span>' if places else ""
    notes = "".join(f'<div class="note">{_note(each)}</div>' for each in entry.notes)
    inner = "".join(_list(_entry(each, links, "span") for each in entry.inner))
    if entry.folded:
        inner = f'<details class="inner"><summary>{escape(entry.folded)}</summary>{inner}</details>'
    return f"<{mark}>{escape(entry.words)}</{mark}>{places}{notes}{inner}"


def _note(note: Note) -> str:
    mark = MARKS.get(note.word, "span")
    said = (f"<{mark}>{escape(part.words)}</{mark}>" if part.differs else escape(part.words) for part in note.parts)
    return f"<b>{escape(note.word)}:</b> {' '.join(said)}"


def _place(placed: Placed, links: Links) -> str:
    address, words = links(placed), escape(placed.label)
    return f'{placed.words} <a href="{escape(address)}">{words}</a>' if address else f"{placed.words} {words}"


def _figures(drawings: Mapping[str, str]) -> Iterator[str]:
    if drawings:
        yield from ("<h2>Both versions in one picture</h2>", *_list(KEY))
    for tree, svg in drawings.items():
        yield f"<h3>{escape(tree)}</h3>"
        yield f'<figure tabindex="0" aria-label="Picture of {escape(tree)}">{_inline(tree, svg)}</figure>'


def _inline(tree: str, svg: str) -> str:
    """Take what the engine drew without its prolog, its colours and its ids, and name it."""
    drawn = svg[svg.index("<svg") :]
    bare = re.sub(r' (?:id|fill|stroke|stroke-width|stroke-dasharray|font-family)="[^"]*"', "", drawn)
    bare = re.sub(r"<!--.*?-->|<title>.*?</title>", "", bare, flags=re.DOTALL)
    named = f'<svg role="img" aria-label="Both versions of {escape(tree)}; the lists say what the picture shows"'
    return (
        bare.replace("<svg", named, 1)
        .replace("<polygon ", '<polygon fill="none" ')
        .replace("<path ", '<path fill="none" ')
    )
