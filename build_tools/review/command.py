"""The command `review`: two names of versions go in, the text to print and the exit code come out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import ExitStack
from pathlib import Path

from build_tools.draw import DrawingFailed, EngineMissing, draw
from build_tools.review.as_json import as_json
from build_tools.review.changes import Review
from build_tools.review.compare import read_version, review
from build_tools.review.html import as_html
from build_tools.review.markdown import as_markdown
from build_tools.review.matching import Match
from build_tools.review.pictures import pictures
from build_tools.review.revisions import NoSuchVersion, main_branch, opened
from build_tools.review.text import as_text

WITHOUT_PICTURES: Mapping[str, Callable[[Review], str]] = {"text": as_text, "markdown": as_markdown, "json": as_json}
WORKING_TREE = "working tree"
CACHE = Path(".cache/diagrams")
"""Where the diagrams of the site are kept too."""


def review_text(root: Path, base: str | None, head: str | None, form: str) -> tuple[str, int]:
    """Review two versions: 0 good, 1 where a caution or gate fell, 2 with one sentence where there is no such version.

    base: a git revision or a folder; the main branch if left out. head: the same; the working tree if left out.
    """
    try:
        with ExitStack() as stack:
            name = base or main_branch(root)
            folders = (
                stack.enter_context(opened(root, name)),
                root if head is None else stack.enter_context(opened(root, head)),
            )
            before, after = read_version(folders[0], name), read_version(folders[1], head or WORKING_TREE)
        found = review(before, after)
        if form == "html":
            drawings = draw(pictures(Match(before.draft, after.draft)), root / CACHE)
            return as_html(found, drawings), int(found.grave)
    except (NoSuchVersion, EngineMissing, DrawingFailed) as cannot:
        return str(cannot), 2
    return WITHOUT_PICTURES[form](found), int(found.grave)
