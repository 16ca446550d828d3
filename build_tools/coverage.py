"""Which exits the stated cases take and which they never take, tree by tree."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from build_tools.cases import Case
from build_tools.problems import did_you_mean
from build_tools.walk import Stop, WalkData, WrongAnswer, follow

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


class WrongCase(ValueError):
    """A case that cannot be walked; the message says which and why."""


def coverage(walks: Mapping[str, WalkData], cases: Iterable[Case]) -> tuple[TreeCoverage, ...]:
    """Walk every case and count the exits it takes. Raises WrongCase for a case that cannot be walked.

    The yes of a gate that is still open counts as taken, though it is not asked again.
    """
    taken = {
        tree: {(tree, name, answer): 0 for name, step in walk["steps"].items() for answer in step["exits"]}
        for tree, walk in walks.items()
    }
    for case in cases:
        for stop in _course(walks, case):
            if stop.answer is not None:
                taken[stop.tree][stop.tree, stop.step, stop.answer] += 1
    return tuple(TreeCoverage(tree, counts) for tree, counts in taken.items())


def _course(walks: Mapping[str, WalkData], case: Case) -> tuple[Stop, ...]:
    if case.tree not in walks:
        raise WrongCase(did_you_mean(case.tree, walks, f'{case.path}: "{case.tree}" is not a tree.'))
    try:
        return follow(walks, case.tree, case.answers)
    except WrongAnswer as wrong:
        raise WrongCase(f"{case.path}: {wrong}") from wrong


def coverage_text(trees: Sequence[TreeCoverage]) -> str:
    """Show for each tree how many exits are taken, and those that never are."""
    lines: list[str] = []
    for each in trees:
        lines.append(f"{each.tree}: {len(each.taken) - len(each.never)} of {len(each.taken)} exits taken")
        lines += [f"   never: {step} -> {answer}" for _, step, answer in each.never]
    never = sum(len(each.never) for each in trees)
    total = sum(len(each.taken) for each in trees)
    return "\n".join((*lines, "", f"{total - never} of {total} exits taken; {never} never."))


def coverage_json(trees: Sequence[TreeCoverage]) -> str:
    """Give the same as JSON, with how many cases take each exit."""
    rows = [
        {
            "tree": each.tree,
            "exits": [
                {"step": step, "answer": answer, "cases": count} for (_, step, answer), count in each.taken.items()
            ],
        }
        for each in trees
    ]
    return json.dumps({"trees": rows}, indent=2, ensure_ascii=False)
