"""The words of a review, the same in text, Markdown and HTML."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from build_tools.review.changes import Answered, Change, Ending, Length, PathChange, Proposal, Review, Row, Side, Spot
from build_tools.review.proposal import is_enough

TITLES: Mapping[str, str] = {
    "safety": "1. Cautions and gates",
    "paths": "2. Answer paths that end differently",
    "remedies": "3. Remedies",
    "steps": "4. Questions and exits",
    "values": "5. Formulas and table values",
    "lengths": "6. Length of the paths",
    "text": "7. Text only",
}
"""The sections in the order in which they are read."""
NOTHING = "Nothing that a reader would notice has changed."
FALLEN = "A caution or gate was removed, weakened, reworded or moved later. A second person has to look at each."
WORDS: Mapping[Change, str] = {
    "removed": "removed",
    "weakened": "weakened",
    "moved-later": "moved later",
    "added": "added",
    "strengthened": "made stricter",
    "moved-earlier": "moved earlier",
    "changed": "changed",
}
GAINED = ("added", "strengthened", "moved-earlier")
UNITS: Mapping[str, str] = {"paths": "", "longest path": " questions", "mean path": " questions"}


def title_of(review: Review) -> str:
    """Say what is compared."""
    return f"Review: {review.before.name} → {review.after.name}"


def row_words(row: Row) -> str:
    """Say what happened to what, without the values."""
    subject = f"{row.subject}, {row.detail}" if row.detail else row.subject
    said = f"{subject}: {WORDS[row.change]}"
    if row.steps:
        said += f", {'now' if row.change in GAINED else 'no longer'} before {', '.join(row.steps)}"
    if row.same_as:
        said += f" (same content as “{row.same_as}”)"
    return said


def values_of(row: Row) -> tuple[tuple[str, str], ...]:
    """Give what stood there and what stands there, each with its word."""
    values = (("was", row.before), ("now", row.after))
    return tuple((word, value) for word, value in values if value is not None)


def spots_of(before: Spot | None, after: Spot | None) -> tuple[tuple[str, Spot], ...]:
    """Give the places of a finding, the one after first, each with the words for its side; once where they agree."""
    if before == after:
        return (("at", before),) if before else ()
    found = (("after: at", after), ("before: at", before))
    return tuple((words, spot) for words, spot in found if spot is not None)


def spot_words(spot: Spot) -> str:
    """Write a place as editors read it."""
    return f"{spot.path}:{spot.line}"


def ending_words(end: Ending) -> str:
    """Say where a path ends."""
    if end.kind == "remedy":
        return f"“{end.title}” ({end.name})"
    if end.kind == "go-to":
        return f"go to “{end.title}” ({end.name})"
    return f"no step “{end.name}”" if end.kind == "missing" else "no such tree"


def paths_words(changed: int, total: int) -> str:
    """Count paths that end differently."""
    return f"{changed} of {_paths(total)} {'ends' if changed == 1 else 'end'} differently"


def change_words(change: PathChange) -> str:
    """Say how many paths ended where, and end where."""
    return f"{_paths(change.count)}: {ending_words(change.before)} → {ending_words(change.after)}"


def _paths(count: int) -> str:
    return "1 path" if count == 1 else f"{count:,} paths"


def example_words(example: tuple[Answered, ...]) -> str:
    """Give the answers of an example in their order, those that one version alone asks for told apart."""
    only = {"both": "", "before": "asked before only: ", "after": "asked after only: "}
    runs = groupby(example, key=lambda each: each.asked)
    said = [only[asked] + ", ".join(f"{each.step} {each.answer}" for each in run) for asked, run in runs]
    return "; ".join(said) or "at the start"


def length_words(length: Length) -> str:
    """Say how a length differs."""
    unit = UNITS.get(length.measure, " minutes")
    return f"{length.tree}, {length.measure}: {length.before:,g} → {length.after:,g}{unit}"


def side_words(side: Side) -> tuple[str, ...]:
    """Say what could not be reviewed of one version; nothing where it passes the check."""
    if not side.errors:
        return ()
    count = "1 error" if side.errors == 1 else f"{side.errors} errors"
    said = f"{side.name} does not pass the check ({count}). It is reviewed as far as it could be read"
    left_out = f", without {', '.join(side.unread)}" if side.unread else ""
    return (f"{said}{left_out}.",)


def step_words(review: Review) -> str:
    """Propose a version step for the whole."""
    return f"Proposed version step: {review.step}. The author confirms it."


def proposal_words(proposal: Proposal) -> str:
    """Propose a tree's version, beside the one it states."""
    stated = "as it states" if is_enough(proposal) else f"it states {proposal.after}: raise it"
    if is_enough(proposal) and proposal.after != proposal.proposed:
        stated = f"it states {proposal.after}, which is enough"
    return f"{proposal.tree}: {proposal.step}, {proposal.before} → {proposal.proposed} ({stated})"
