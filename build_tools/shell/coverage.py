"""Which exits the stated cases take and which they never take, tree by tree."""

from __future__ import annotations

import json
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass

from build_tools.model import Case
from build_tools.proof.case_walks import walked
from build_tools.proof.walk import WalkData
from build_tools.sources.parse import Parsed

Exit = tuple[str, str, str]
"""Tree, step and answer."""


@dataclass(frozen=True, slots=True)
class TreeCoverage:
    """The exits of one tree, and how many of the cases take each."""

    tree: str
    taken: Mapping[Exit, int]

    @property
    def never(self) -> tuple[Exit, ...]:
        """Give the exits that no case takes, in walk order."""
        return tuple(each for each, count in self.taken.items() if not count)


@dataclass(frozen=True, slots=True)
class Coverage:
    """The exits of trees, and how many cases could not be walked to their end."""

    trees: tuple[TreeCoverage, ...]
    cut_short: int = 0
    """Cases that begin in a tree that was left out for its errors, or lead into one."""


class WrongCase(ValueError):
    """Cases that do not walk as they state; the message says which, where and why, a line each."""


def coverage(
    walks: Mapping[str, WalkData],
    cases: Iterable[Parsed[Case]],
    lost: Container[str] = (),
    only: str | None = None,
) -> Coverage:
    """Walk every case and count the exits it takes. Raises WrongCase where any does not walk as it states.

    The yes of a gate that is still open counts as taken, though it is not asked again.

    lost: the trees that are not among the walks for their errors; only: the one tree to tell of.
    """
    taken = {
        tree: {(tree, name, answer): 0 for name, step in walk["steps"].items() for answer in step["exits"]}
        for tree, walk in walks.items()
    }
    wrong: list[str] = []
    cut_short = 0
    for case in cases:
        if case.record.tree not in walks and case.record.tree in lost:
            cut_short += 1
            continue
        course, stray = walked(walks, case.record)
        if stray:
            place = case.composed.value_places[stray.keys]
            wrong.append(f"{place.path}:{place.line}:{place.column}: error: {stray.what}.")
            continue
        cut_short += course[-1].kind == "go-to"
        for stop in course:
            if stop.answer is not None:
                taken[stop.tree][stop.tree, stop.step, stop.answer] += 1
    if wrong:
        raise WrongCase("\n".join(wrong))
    trees = (TreeCoverage(tree, counts) for tree, counts in taken.items() if only in (None, tree))
    return Coverage(tuple(trees), cut_short)


def coverage_text(covered: Coverage) -> str:
    """Show for each tree how many exits are taken, and those that never are."""
    lines: list[str] = []
    for each in covered.trees:
        lines.append(f"{each.tree}: {len(each.taken) - len(each.never)} of {len(each.taken)} exits taken")
        lines += [f"   never: {step} -> {answer}" for _, step, answer in each.never]
    never = sum(len(each.never) for each in covered.trees)
    total = sum(len(each.taken) for each in covered.trees)
    lines += ["", f"{total - never} of {total} exits taken; {never} never."]
    if covered.cut_short:
        lines.append(f"Cases that come to a tree that is left out, and are not walked further: {covered.cut_short}.")
    return "\n".join(lines)


def coverage_json(covered: Coverage) -> str:
    """Give the same as JSON, with how many cases take each exit."""
    rows = [
        {
            "tree": each.tree,
            "exits": [
                {"step": step, "answer": answer, "cases": count} for (_, step, answer), count in each.taken.items()
            ],
        }
        for each in covered.trees
    ]
    return json.dumps({"trees": rows, "cutShort": covered.cut_short}, indent=2, ensure_ascii=False)
