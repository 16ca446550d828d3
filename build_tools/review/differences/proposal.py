"""The version step that a change asks for, as SemVer 2.0.0 clauses 6 to 8 have it; the author confirms.

Major where a recorded path now ends elsewhere or a caution or gate fell, minor where a reader would do
something else on the way, patch where only words differ.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from build_tools.review.record.changes import Moved, Proposal, Row, Step, greatest
from build_tools.review.versions.matching import Match

FALLEN = ("removed", "weakened", "moved-later")


def step_of(section: str, row: Row) -> Step:
    """Give the version step that one row asks for by itself."""
    if section == "text":
        return "patch"
    if section == "safety" and row.change in FALLEN:
        return "major"
    if row.detail == "kind" or (row.subject.startswith("tree ") and row.change == "removed"):
        return "major"  # an id that stands for something else, or for nothing: records that name it mislead
    return "minor"


def proposals(
    match: Match, rows: Mapping[str, Iterable[Row]], moved: Sequence[Moved], elsewhere: Iterable[str]
) -> tuple[Step, tuple[Proposal, ...]]:
    """Give the greatest step of all, and for each tree in both versions the version it should have.

    rows: by section. moved: formulas whose results move. elsewhere: trees some of whose paths end elsewhere, or
    could not be compared.
    """
    asked: dict[str, list[Step]] = defaultdict(list)
    every: list[Step] = []
    for section, found in rows.items():
        for row in found:
            every.append(step_of(section, row))
            for tree in row.trees:
                asked[tree].append(every[-1])
    for each in moved:
        every.append("minor")
        for tree in each.trees:
            asked[tree].append("minor")
    for tree in (*elsewhere, *_judged_otherwise(moved)):
        # Nobody has recorded a path in a tree that is new.
        every.append("major" if tree in match.before.trees else "minor")
        asked[tree].append(every[-1])
    told = (_proposal(match, name, greatest(asked[name])) for name in sorted(asked) if _in_both(match, name))
    return greatest(every), tuple(told)


def _judged_otherwise(moved: Iterable[Moved]) -> Iterator[str]:
    """Name the trees that take a verdict from a formula whose verdicts move: a recorded path takes another exit."""
    for each in moved:
        if each.verdicts:
            yield from (place.partition("/")[0] for place in each.used_by if not place.startswith("remedies/"))


def _in_both(match: Match, name: str) -> bool:
    return name in match.before.trees and name in match.after.trees


def _proposal(match: Match, name: str, step: Step) -> Proposal:
    before, after = match.before.trees[name].version, match.after.trees[name].version
    return Proposal(tree=name, step=step, before=before, after=after, proposed=raised(before, step))


def raised(version: str, step: Step) -> str:
    """Raise a version by a step."""
    major, minor, patch = (int(each) for each in version.split("."))
    numbers = {"major": (major + 1, 0, 0), "minor": (major, minor + 1, 0), "patch": (major, minor, patch + 1)}
    return ".".join(str(each) for each in numbers.get(step, (major, minor, patch)))


def is_enough(proposal: Proposal) -> bool:
    """Tell whether the version that is stated is at least the proposed one."""
    stated, proposed = ([int(each) for each in text.split(".")] for text in (proposal.after, proposal.proposed))
    return stated >= proposed
