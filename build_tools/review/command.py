"""The command `review`: two names of versions go in, the text to print and the exit code come out."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

from build_tools.progress import Tell, silent
from build_tools.review.compare import Unreadable, Version, read_version, review
from build_tools.review.record.changes import Review, Side
from build_tools.review.versions.listing import listed
from build_tools.review.versions.matching import Match
from build_tools.review.versions.revisions import CannotOpen, main_branch, opened, working_tree
from build_tools.review.words.as_json import as_json
from build_tools.review.words.html import as_html
from build_tools.review.words.links import Links, WrongLink, links
from build_tools.review.words.markdown import as_markdown
from build_tools.review.words.naming import names_of
from build_tools.review.words.outline import outline
from build_tools.review.words.pictures import pictures
from build_tools.review.words.text import as_text
from build_tools.site.draw import DrawingFailed, EngineMissing, draw

WORKING_TREE = "working tree"
CACHE = Path(".cache/diagrams")
"""Where the diagrams of the site are kept too."""
AT_ONCE = 16
"""So many pictures are drawn before progress is told again."""


def review_text(
    root: Path,
    base: str | None,
    head: str | None,
    form: str,
    link_to: str = "",
    tell: Tell = silent,
    running: bool = True,
) -> tuple[str, int]:
    """Review two versions: 0 good, 1 where somebody has to look, 2 with one sentence where there is no such version.

    base: a git revision or a folder; the main branch if left out. head: the same; the working tree if left out.
    link_to: a pattern that makes a link of each place, as `links` takes it. tell: hears of progress.
    running: whether code of the versions may be run, which is that of their formulas.
    """
    try:
        with ExitStack() as stack:
            before, after = _versions(stack, root, base, head, tell)
            found = review(before, after, tell, running)
        where = links(found, link_to, in_project=head is None)
        return _written(root, found, form, where, Match(before.draft, after.draft), tell), int(found.is_red)
    except (CannotOpen, Unreadable, WrongLink, EngineMissing, DrawingFailed) as cannot:
        return str(cannot), 2


def _versions(stack: ExitStack, root: Path, base: str | None, head: str | None, tell: Tell) -> tuple[Version, Version]:
    name = base or main_branch(root)
    tell(f"Reading {name}")
    folder, revision = stack.enter_context(opened(root, name))
    before = read_version(folder, Side(name=name, revision=revision))
    before = replace(before, files=listed(root, folder, revision))
    tell(f"Reading {head or WORKING_TREE}")
    folder, revision = working_tree(root, WORKING_TREE) if head is None else stack.enter_context(opened(root, head))
    after = read_version(folder, Side(name=head or WORKING_TREE, revision=revision), before.draft.files)
    return before, replace(after, files=listed(root, folder, revision))


def _written(root: Path, found: Review, form: str, where: Links, match: Match, tell: Tell) -> str:
    if form == "json":
        return as_json(found)
    names = names_of(match)
    laid_out = outline(found, names)
    if form == "text":
        return as_text(laid_out)
    if form == "markdown":
        return as_markdown(laid_out, where)
    drawn = _drawn(pictures(match), root / CACHE, tell)
    return as_html(laid_out, where, {f"{names.of('tree', tree)} ({tree})": svg for tree, svg in drawn.items()})


def _drawn(dots: Mapping[str, str], cache: Path, tell: Tell) -> Mapping[str, str]:
    names = list(dots)
    drawn: dict[str, str] = {}
    for first in range(0, len(names), AT_ONCE):
        tell(f"Drawing picture {first + 1} of {len(names)}")
        drawn |= draw({name: dots[name] for name in names[first : first + AT_ONCE]}, cache)
    return drawn
