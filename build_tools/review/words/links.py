"""Where the places of a review lead: to a code host by a pattern, or into the project folder."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import quote

from build_tools.review import PATTERN
from build_tools.review.record.changes import Review, Spot
from build_tools.review.words.sentences import Placed

BLANKS = ("{revision}", "{path}", "{line}")
Links = Callable[[Placed], str]
"""From a place in one of the versions to an address; empty where no link would lead there."""


class WrongLink(Exception):
    """The pattern is none; the message is one sentence that says how it is written."""


def links(review: Review, pattern: str, *, in_project: bool) -> Links:
    """Make the links of a review.

    pattern: an address with the blanks {revision}, {path} and {line}; without one, places of the version after are
    linked by their paths, if that is the project folder itself (`in_project`). Raises WrongLink.
    """
    if not pattern:
        return lambda placed: _relative(placed.spot) if in_project and placed.side == "after" else ""
    if unknown := sorted(set(re.findall(r"\{[^}]*\}?", pattern)) - set(BLANKS)):
        raise WrongLink(f"The link holds {unknown[0]}; it may hold {', '.join(BLANKS)}, as in {PATTERN}")
    if "{path}" not in pattern or re.search(r"[\s<>\"]", pattern):
        raise WrongLink(f"The link needs {{path}}, and no blanks or brackets, as in {PATTERN}")
    revisions = {"before": review.before.revision, "after": review.after.revision}
    return lambda placed: _filled(pattern, revisions[placed.side], placed)


def _relative(spot: Spot) -> str:
    return f"{quote(spot.path)}#L{spot.line}"


def _filled(pattern: str, revision: str, placed: Placed) -> str:
    """Fill in a pattern: files in no commit are on no code host, and without a revision it leads to the newest."""
    if not revision or ("{revision}" not in pattern and placed.side == "before"):
        return ""
    spot = placed.spot
    blanks = {"{revision}": quote(revision), "{path}": quote(spot.path), "{line}": str(spot.line)}
    return re.sub(r"\{\w+\}", lambda blank: blanks[blank[0]], pattern)
