"""The words of a review, the same in text, Markdown and HTML."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher
from itertools import groupby
from typing import Literal, NamedTuple

from build_tools.review.differences.proposal import is_enough
from build_tools.review.record.changes import (
    SECTIONS,
    Agreement,
    Answered,
    Change,
    Ending,
    Length,
    Moved,
    PathChange,
    Proposal,
    Review,
    Row,
    Spot,
    Tried,
)
from build_tools.review.words.naming import Names
from build_tools.sources.library import table_path

WORDS: Mapping[Change, str] = {
    "removed": "removed",
    "weakened": "weakened",
    "moved-later": "moved later",
    "added": "added",
    "strengthened": "made stricter",
    "moved-earlier": "moved earlier",
    "changed": "changed",
}
AGREED = table_path("agreed")
GAINED = ("added", "strengthened", "moved-earlier")
UNITS: Mapping[str, str] = {"paths": "", "longest path": " questions", "mean path": " questions"}
MOST_NAMED = 6
"""So many trees or steps are named; of more, how many there are."""
MOST_ANSWERS = 8
"""So many answers of an example are shown; the versions part among the first."""
LEAST_SHARED = 0.4
"""The share of words in common from which those that differ are picked out."""


class Placed(NamedTuple):
    """A place in one of the two versions, and the words that lead to it."""

    words: str
    side: Literal["before", "after"]
    spot: Spot
    label: str
    """The place itself; its line alone where the file was just named."""


class Part(NamedTuple):
    """Some words of a value, and whether the other version has others in their place."""

    words: str
    differs: bool


def title_of(review: Review) -> str:
    """Say what is compared."""
    return f"Review: {review.before.name} → {review.after.name}"


def nothing_words(review: Review) -> str:
    """Say of what was compared, and of nothing else, that it has not changed."""
    return f"Nothing has changed in the {_listed(review.compared)}."


def compared_words(review: Review) -> str:
    """Say what was compared."""
    known = "" if review.runs else " Nothing else differs in these."
    return f"Compared: the {_listed(review.compared)}.{known}"


def _listed(names: tuple[str, ...]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def subject_of(row: Row) -> str:
    """Give what a row is of, without what part of it: a remedy, step, gate or caution as a whole."""
    subject, sign, _ = row.subject.partition('", ')
    return f'{subject}"' if sign else subject


def change_of(row: Row) -> str:
    """Say what happened to which part, without the subject as a whole."""
    inner = row.subject.removeprefix(subject_of(row)).removeprefix(", ")
    named = ", ".join(each for each in (inner, row.detail) if each)
    said = f"{named}: {WORDS[row.change]}" if named else WORDS[row.change]
    if row.steps:
        said += f", {'now' if row.change in GAINED else 'no longer'} before {_step_words(row)}"
    if row.same_as:
        said += f" (same content as “{row.same_as}”)"
    return said


def _step_words(row: Row) -> str:
    numbered = all(each.isdigit() for each in row.steps)
    word = ("work step " if len(row.steps) == 1 else "work steps ") if numbered else ""
    return f"{word}{', '.join(row.steps)}"


def row_words(row: Row) -> str:
    """Say what happened to what, without the values."""
    parted = ", " if row.detail or row.subject != subject_of(row) else ": "
    return f"{subject_of(row)}{parted}{change_of(row)}"


def values_of(row: Row) -> tuple[tuple[str, tuple[Part, ...]], ...]:
    """Give what stood there and what stands there, each with its word, and the words that differ told apart."""
    if row.before is not None and row.after is not None:
        before, after = parts_of(row.before, row.after)
        return ("was", before), ("now", after)
    values = (("was", row.before), ("now", row.after))
    return tuple((word, (Part(value, False),)) for word, value in values if value is not None)


def parts_of(before: str, after: str) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Tell the words of two texts that differ from those in common; none where hardly any are."""
    words = before.split(" "), after.split(" ")
    matcher = SequenceMatcher(None, *words, autojunk=False)
    if matcher.ratio() < LEAST_SHARED:
        return (Part(before, False),), (Part(after, False),)
    sides: tuple[list[Part], list[Part]] = ([], [])
    for tag, *bounds in matcher.get_opcodes():
        for side, said, start, end in zip(sides, words, bounds[::2], bounds[1::2], strict=True):
            if start < end:
                side.append(Part(" ".join(said[start:end]), tag != "equal"))
    return tuple(sides[0]), tuple(sides[1])


def places_of(change: Change, before: Spot | None, after: Spot | None) -> tuple[Placed, ...]:
    """Give the places of a finding; of what was added only where it stands now, and once where both are one line."""
    if after is not None and (before is None or change == "added" or before == after):
        return (Placed("at", "after", after, spot_words(after)),)
    if before is None:
        return ()
    was = Placed("was at", "before", before, spot_words(before))
    if after is None:
        return (was,)
    now = Placed("now at", "after", after, spot_words(after))
    in_one = was.spot.path == now.spot.path
    return was, now._replace(label=f"line {now.spot.line}") if in_one else now


def spot_words(spot: Spot) -> str:
    """Write a place as editors read it."""
    return f"{spot.path}:{spot.line}"


def some_of(names: tuple[str, ...]) -> str:
    """Name things, or a few of many."""
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"{', '.join(names[:MOST_NAMED])}{more}"


def ending_words(end: Ending, names: Names) -> str:
    """Say where a path ends."""
    past = f", past {_done(end.past, names)}" if end.past else ""
    if end.kind in ("remedy", "go-to"):
        return f"{'go to ' if end.kind == 'go-to' else ''}“{end.title}” ({end.name}){past}"
    return f"no step “{end.name}”" if end.kind == "missing" else "no such tree"


def _done(remedies: tuple[str, ...], names: Names) -> str:
    return " and ".join(names.of("remedy", each) for each in remedies)


def paths_words(changed: int, total: int) -> str:
    """Count paths that end differently."""
    return f"{changed:,} of {_paths(total)} {'ends' if changed == 1 else 'end'} differently"


def change_words(change: PathChange, names: Names) -> str:
    """Say how many paths ended where, and end where."""
    return f"{_paths(change.count)}: {ending_words(change.before, names)} → {ending_words(change.after, names)}"


def passing_words(changes: Sequence[PathChange], names: Names) -> str:
    """Say of paths that end where they did what they are no longer led past, or are now."""
    before, after = changes[0].before.past, changes[0].after.past
    gone = tuple(each for each in before if each not in after)
    come = tuple(each for each in after if each not in before)
    said = [f"no longer past {_done(gone, names)}"] if gone else []
    said += [f"now past {_done(come, names)}"] if come else []
    return f"{_paths(sum(each.count for each in changes))}: end where they did, {', '.join(said)}"


def _paths(count: int) -> str:
    return "1 path" if count == 1 else f"{count:,} paths"


def example_words(tree: str, example: tuple[Answered, ...], names: Names) -> str:
    """Give the answers of an example in their order, those that one version alone asks for told apart."""
    only = {"both": "", "before": "asked only before: ", "after": "asked only now: "}
    shown, more = example[:MOST_ANSWERS], len(example) - MOST_ANSWERS
    said = [
        only[asked] + ", ".join(f"{names.of('step', f'{tree}/{each.step}')} {each.answer}" for each in run)
        for asked, run in groupby(shown, key=lambda each: each.asked)
    ]
    said += [f"and {more:,} more answers"] if more > 0 else []
    return "; ".join(said) or "at the start"


def moved_words(moved: Moved) -> str:
    """Count the tried inputs for which a formula gives something else."""
    said = (
        f"{moved.results:,} of {moved.tried:,} tried inputs {'gives' if moved.results == 1 else 'give'} another result"
    )
    verdicts = f", {moved.verdicts:,} another verdict" if moved.verdicts else ""
    return f'formula "{moved.formula}": {said}{verdicts}'


def tried_words(tried: Tried) -> str:
    """Say what one set of inputs gave and gives; words at the beginning that both have are said once."""
    before, after = tried.before.split(" "), tried.after.split(" ")
    shared = 0
    while shared < min(len(before), len(after)) - 1 and before[shared] == after[shared]:
        shared += 1
    lead = "".join(f"{each} " for each in before[:shared])
    return f"{tried.inputs or 'nothing given'}: {lead}{' '.join(before[shared:])} → {' '.join(after[shared:])}"


def length_words(length: Length, names: Names) -> str:
    """Say how a length differs."""
    unit = UNITS.get(length.measure, " minutes")
    return f"{names.of('tree', length.tree)}, {length.measure}: {_count(length.before)} → {_count(length.after)}{unit}"


def _count(number: float) -> str:
    return f"{number:,.0f}" if number == int(number) else f"{number:,}"


def warning_words(review: Review) -> str:
    """Say what has to be looked at, or agreed to, and how much of each kind; empty where nothing has."""
    said: list[str] = []
    if count := len(review.reasons):
        kinds = [f"{number:,} {_several(kind) if number > 1 else kind}" for kind, number in _kinds(review).items()]
        who = f"a second person has to look at {'it' if count == 1 else 'each'}"
        said.append(f"{'1 finding is' if count == 1 else f'{count:,} findings are'} grave ({', '.join(kinds)}): {who}.")
    if count := len(review.unagreed):
        said.append(f"{'1 tree leads' if count == 1 else f'{count:,} trees lead'} elsewhere, and nobody has agreed.")
    return " ".join(said)


def _kinds(review: Review) -> Mapping[str, int]:
    """Count the grave findings by what they are of, in the order of reading."""
    found = Counter({"story": sum(bool(each.grave) for each in review.stories)})
    found["pair of endings"] = sum(bool(end.grave) for tree in review.paths for end in tree.endings)
    for name in SECTIONS:
        rows = (row for row in getattr(review, name) if isinstance(row, Row) and row.grave)
        found.update(row.subject.partition(" ")[0] for row in rows)
    found.update("formula" for each in review.moved if each.grave)
    return {kind: number for kind, number in found.items() if number}


def _several(kind: str) -> str:
    return {"story": "stories", "remedy": "remedies", "pair of endings": "pairs of endings"}.get(kind, f"{kind}s")


def agreed_words(agreement: Agreement, names: Names) -> str:
    """Say why a tree leads elsewhere, or how to agree to it."""
    title = names.of("tree", agreement.tree)
    if agreement.since:
        return f"Agreed: {title} leads elsewhere. {agreement.since}"
    return (
        f"Not agreed: {title} leads elsewhere. To agree, write in {AGREED}, "
        f"under {agreement.tree}, the key change with {agreement.change}, and since with the reason."
    )


def idle_words(tree: str) -> str:
    """Say that an entry agrees to nothing."""
    return f"Agreed to nothing: {AGREED} agrees to a change of {tree} that is not made here. Take it out."


def step_words(review: Review) -> str:
    """Propose a version step for the whole."""
    return f"Proposed version step: {review.step}. The author confirms it."


def proposal_words(proposal: Proposal, names: Names) -> str:
    """Propose a tree's version, beside the one it states."""
    stated = "which it states" if is_enough(proposal) else f"and it still states {proposal.after}"
    if is_enough(proposal) and proposal.after != proposal.proposed:
        stated = f"and it states {proposal.after}, which is enough"
    title = names.of("tree", proposal.tree)
    return f"{title}: {proposal.step}, from {proposal.before} to {proposal.proposed}, {stated}"
