"""A review as Markdown that reads well as a comment on a pull request; only what is text alone is folded."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

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

MARKS = re.compile(r"([\\`*_{}\[\]<>#|~&@])")
"""What Markdown, or a code host, would read as more than a letter."""


def as_markdown(review: Review) -> str:
    """Write a review as Markdown; links are relative to the root of the project."""
    return "\n".join(_lines(review))


def _plain(text: str) -> str:
    """Write a text so that it is shown as it is."""
    return MARKS.sub(r"\\\1", text)


def _lines(review: Review) -> Iterator[str]:
    yield f"## {_plain(title_of(review))}"
    for said in (*side_words(review.before), *side_words(review.after)):
        yield from ("", f"**{_plain(said)}**")
    if review.empty:
        yield from ("", NOTHING)
        return
    if review.grave:
        yield from ("", f"> **{FALLEN}**")
    yield from ("", step_words(review), "", *(f"- {_plain(proposal_words(each))}" for each in review.proposals))
    blocks: dict[str, list[str]] = {
        "safety": list(_rows(review.safety)),
        "paths": [
            *_paths(review.paths),
            *(f"- {_plain(each)}; its paths are not compared." for each in review.uncounted),
        ],
        "remedies": list(_rows(review.remedies)),
        "steps": list(_rows(review.steps)),
        "values": list(_rows(review.values)),
        "lengths": [f"- {_plain(length_words(each))}" for each in review.lengths],
    }
    for name, lines in blocks.items():
        yield from ("", f"### {TITLES[name]}", "", *(lines or ["None."]))
    yield from _folded(TITLES["text"], list(_rows(review.text)))


def _folded(title: str, lines: list[str]) -> Iterator[str]:
    if not lines:
        yield from ("", f"### {title}", "", "None.")
        return
    yield from ("", f"<details><summary>{title}</summary>", "", *lines, "", "</details>")


def _rows(rows: Iterable[Row]) -> Iterator[str]:
    for row in rows:
        yield f"- **{_plain(row_words(row))}** {_links(row.spot_before, row.spot_after)}".rstrip()
        yield from (f"  - {word}: {_plain(value)}" for word, value in values_of(row))


def _links(before: Spot | None, after: Spot | None) -> str:
    links = (f"{words} [{spot_words(spot)}]({_address(spot)})" for words, spot in spots_of(before, after))
    return f"({'; '.join(links)})" if before or after else ""


def _address(spot: Spot) -> str:
    return f"{spot.path}#L{spot.line}"


def _paths(trees: Iterable[TreePaths]) -> Iterator[str]:
    for tree in trees:
        yield f"- **{_plain(tree.tree)}: {paths_words(tree.changed, tree.total)}**"
        for change in tree.endings:
            yield f"  - {_plain(change_words(change))} {_links(change.spot_before, change.spot_after)}".rstrip()
            yield f"    - for example: {_plain(example_words(change.example))}"
