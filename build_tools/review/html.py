"""A review as one HTML file that stands alone: no script, nothing fetched, both versions of a tree in one picture."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from html import escape

from build_tools.picture import PATTERNS
from build_tools.review.changes import Review, Row, Spot, TreePaths
from build_tools.review.sentences import (
    FALLEN,
    NOTHING,
    TITLES,
    change_words,
    example_words,
    length_words,
    paths_words,
    proposal_words,
    row_words,
    side_words,
    spot_words,
    spots_of,
    step_words,
    title_of,
    values_of,
)

_DASHES = "\n".join(f".edge.{line} path {{ stroke-dasharray: {dashes}; }}" for line, dashes in PATTERNS.items())
STYLE = f"""
body {{ margin: 1rem auto; max-width: 60rem; padding: 0 1rem; color: #111111; background: #ffffff;
  font: 1rem/1.5 system-ui, sans-serif; }}
a {{ color: #0b5c8a; }}
h1, h2, h3 {{ line-height: 1.2; overflow-wrap: anywhere; }}
li {{ margin: 0.4rem 0; overflow-wrap: anywhere; }}
.fallen {{ border: 4px solid #111111; padding: 0.5rem 1rem; font-weight: bold; }}
del {{ color: #8a3c00; }}
ins {{ color: #0b3d91; text-decoration: underline; text-decoration-thickness: 2px; }}
figure {{ margin: 1rem 0; overflow-x: auto; border: 1px solid #4a5560; padding: 0.5rem; }}
svg text {{ font-family: Arial, Helvetica, sans-serif; fill: #111111; }}
svg polygon, svg path {{ stroke: #111111; stroke-width: 1.5; stroke-linecap: round; }}
svg .edge polygon {{ fill: #111111; stroke-dasharray: none; }}
svg .added polygon, svg .added path {{ stroke: #0b3d91; stroke-width: 4; }}
svg .edge.added polygon {{ fill: #0b3d91; stroke-width: 1; }}
svg .added text {{ fill: #0b3d91; font-weight: bold; }}
svg .removed polygon, svg .removed path {{ stroke: #8a3c00; stroke-width: 1; }}
svg .node.removed polygon {{ stroke-dasharray: 7 4; }}
svg .edge.removed polygon {{ fill: #ffffff; }}
svg .removed text {{ fill: #8a3c00; }}
svg .node.removed text + text {{ text-decoration: line-through; }}
svg .node text:first-of-type {{ font-weight: bold; }}
svg .changed polygon {{ stroke: #5b2a86; }}
svg .changed text {{ fill: #5b2a86; }}
{_DASHES}
"""
KEY = (
    "Thin outline: kept. Thick outline, ADDED: only after. Dashed outline and struck-out words, REMOVED: only before. "
    "Double outline, CHANGED: other words or values. A thick line is an added exit, a thin one with an open head a "
    "removed one. Solid is yes, long dashes no, dots can't tell."
)


def as_html(review: Review, drawings: Mapping[str, str]) -> str:
    """Write a review as a page; `drawings` are the engine's SVG texts by the id of their tree."""
    title = escape(title_of(review))
    head = f'<meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{title}</title>'
    policy = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
    body = "\n".join(_body(review, drawings))
    return (
        f'<!doctype html>\n<html lang="en-GB">\n<head>{head}{policy}<style>{STYLE}</style></head>\n'
        f"<body>\n<h1>{title}</h1>\n{body}\n</body>\n</html>"
    )


def _body(review: Review, drawings: Mapping[str, str]) -> Iterator[str]:
    yield from (f"<p><strong>{escape(each)}</strong></p>" for each in _sides(review))
    if review.empty:
        yield f"<p>{NOTHING}</p>"
        return
    if review.grave:
        yield f'<p class="fallen">{FALLEN}</p>'
    yield f"<p>{step_words(review)}</p>"
    yield from _list(escape(proposal_words(each)) for each in review.proposals)
    blocks: dict[str, list[str]] = {
        "safety": list(_rows(review.safety)),
        "paths": [
            *_paths(review.paths),
            *(f"{escape(each)}; its paths are not compared." for each in review.uncounted),
        ],
        "remedies": list(_rows(review.remedies)),
        "steps": list(_rows(review.steps)),
        "values": list(_rows(review.values)),
        "lengths": [escape(length_words(each)) for each in review.lengths],
        "text": list(_rows(review.text)),
    }
    for name, title in TITLES.items():
        yield f"<h2>{title}</h2>"
        yield from _list(blocks[name]) if blocks[name] else ("<p>None.</p>",)
        if name == "paths":
            yield from _figures(drawings)


def _sides(review: Review) -> tuple[str, ...]:
    return (*side_words(review.before), *side_words(review.after))


def _list(items: Iterable[str]) -> Iterator[str]:
    yield "<ul>"
    yield from (f"<li>{item}</li>" for item in items)
    yield "</ul>"


def _rows(rows: Iterable[Row]) -> Iterator[str]:
    marks = {"was": "del", "now": "ins"}
    for row in rows:
        values = "".join(
            f"<br>{word}: <{marks[word]}>{escape(value)}</{marks[word]}>" for word, value in values_of(row)
        )
        yield f"<strong>{escape(row_words(row))}</strong>{_links(row.spot_before, row.spot_after)}{values}"


def _links(before: Spot | None, after: Spot | None) -> str:
    return "".join(
        f' <small>{words} <a href="{escape(spot.path)}#L{spot.line}">{escape(spot_words(spot))}</a></small>'
        for words, spot in spots_of(before, after)
    )


def _paths(trees: Iterable[TreePaths]) -> Iterator[str]:
    for tree in trees:
        ends = (
            f"{escape(change_words(each))}{_links(each.spot_before, each.spot_after)}"
            f"<br>for example: {escape(example_words(each.example))}"
            for each in tree.endings
        )
        told = paths_words(tree.changed, tree.total)
        yield f"<strong>{escape(tree.tree)}: {told}</strong>{''.join(_list(ends))}"


def _figures(drawings: Mapping[str, str]) -> Iterator[str]:
    for tree, svg in drawings.items():
        yield f"<h3>Both versions of {escape(tree)} in one picture</h3>\n<p>{KEY}</p>"
        yield f"<figure>{_inline(tree, svg)}</figure>"


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
