"""Rules of the ladder: one hand holds on, so work there is done with the other, and a question moves nothing."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.model import Action, Effort, Looked, Where
from build_tools.model.problems import Finding
from build_tools.sources.library import Draft, remedy_path, tree_path

CODE = "two-hands-on-a-ladder"
EFFORTS = (Effort.LOOK, Effort.TOUCH)
"""What a question at a ladder may take."""


def ladders(draft: Draft) -> Iterator[Finding]:
    """Find what would take both hands on a ladder, or does not say how one hand does it."""
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            if isinstance(step, Looked) and step.where is Where.LADDER and step.effort not in EFFORTS:
                what = f'"{step.effort}" takes both hands, and on a ladder one holds on'
                mend = 'Ask only for a look or a touch there, or do it "where: scaffold" or "where: roof".'
                yield Finding(CODE, tree_path(tree_id), ("steps", name, "effort"), what, mend)
    for name, remedy in draft.remedies.items():
        for number, work in enumerate(remedy.steps):
            if isinstance(work, Action):
                yield from _work(remedy_path(name), number, work)


def _work(path: str, number: int, work: Action) -> Iterator[Finding]:
    on_a_ladder = work.where is Where.LADDER
    if on_a_ladder and work.one_hand is None:
        what = "this is done on a ladder, and nothing says how one hand does it while the other holds on"
        mend = 'Add "one-hand:". What takes two hands is done "where: scaffold".'
        yield Finding(CODE, path, ("steps", number, "where"), what, mend)
    if work.one_hand is not None and not on_a_ladder:
        what = f'"one-hand" is for a ladder, and this is done at "{work.where}"'
        yield Finding(CODE, path, ("steps", number, "one-hand"), what, "Take it out.")
