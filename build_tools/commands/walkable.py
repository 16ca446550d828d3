"""What an author's command works on: all that is whole, with what it leaves out said once beside its answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from build_tools.commands.command import Refused, T, look_up
from build_tools.model.problems import Problem
from build_tools.proof.report import headline

if TYPE_CHECKING:
    from build_tools.guide.views import GuideView
    from build_tools.model import Remedy
    from build_tools.proof.walk import WalkData
    from build_tools.sources.library import Draft

HAS_ERRORS = "The sources have errors: run `python -m build_tools check` and mend them first."
MOST_TOLD = 10
"""Files that are named with their fault; `check` tells all."""


@dataclass(frozen=True, slots=True)
class Walkable:
    """The trees that are whole, as they are walked, and what was left out."""

    guide: GuideView
    """With stand-ins for what was left out; whatever is listed of it is listed from the walks."""
    draft: Draft
    walks: Mapping[str, WalkData]
    """Of whole trees alone. A hand-over to one that is not leads nowhere: its step has no `goTo`."""
    left_out: Mapping[str, Problem]
    """By path: the first error of each file that has one."""

    @property
    def aside(self) -> str:
        """Say which files are left out, and why; empty where none is."""
        return aside(self.left_out)

    @property
    def lost_trees(self) -> Mapping[str, Problem]:
        """Give the trees that are left out, by id, each with its first error."""
        return _lost(self.left_out, "trees")

    def known_tree(self, name: str) -> WalkData:
        """Give a tree's walk; refuse what is no tree, or one that is left out."""
        return _known(name, self.walks, self.lost_trees, "tree", "trees")

    def known_remedy(self, name: str) -> Remedy:
        """Give a remedy; refuse what is none, or one that is left out."""
        from build_tools.sources.library import remedy_path

        whole = {each: said for each, said in self.draft.remedies.items() if remedy_path(each) in self.draft.files}
        return _known(name, whole, _lost(self.left_out, "trees/remedies"), "remedy", "remedies")


def _known(name: str, whole: Mapping[str, T], lost: Mapping[str, Problem], one: str, many: str) -> T:
    if name in lost:
        said = f'"{name}" has errors: run `python -m build_tools check` and mend it first.'
        raise Refused(f"{said}\n  {headline(lost[name])}", 1)
    return look_up(name, dict(sorted(whole.items())), one, many)


def _lost(left_out: Mapping[str, Problem], folder: str) -> Mapping[str, Problem]:
    return {Path(path).stem: each for path, each in left_out.items() if Path(path).parent.as_posix() == folder}


def walkable(root: Path) -> Walkable:
    """Prove what is whole, and give its walks. Raises Refused where nothing can be walked."""
    from build_tools.guide.pages import guide_view
    from build_tools.guide.walk import walk_data
    from build_tools.proof.checks import check_beside
    from build_tools.sources.library import tree_path

    beside = check_beside(root)
    if beside.guide is None:
        raise Refused(f"{HAS_ERRORS}\n{aside(beside.left_out)}", 1)
    guide, draft = guide_view(beside.guide), beside.guide.draft
    # A stand-in has no file, and is no tree to walk.
    walks = {tree.id: walk_data(guide, tree) for tree in guide.trees if tree_path(tree.id) in draft.files}
    return Walkable(guide, draft, {name: _open_ended(walk, walks) for name, walk in walks.items()}, beside.left_out)


def _open_ended(walk: WalkData, walks: Mapping[str, WalkData]) -> WalkData:
    """Take out where a walk would go on in a tree that is not whole."""
    steps = {
        name: {key: value for key, value in step.items() if key != "goTo" or value["tree"] in walks}
        for name, step in walk["steps"].items()
    }
    return {**walk, "steps": steps}


def aside(left_out: Mapping[str, Problem]) -> str:
    """Say which files are left out, each with its first error; empty where none is."""
    if not left_out:
        return ""
    told = [f"  {headline(each)}" for each in islice(left_out.values(), MOST_TOLD)]
    more = [f"  {len(left_out) - MOST_TOLD} more files."] if len(left_out) > MOST_TOLD else []
    return "\n".join(("Left out, for their errors; `python -m build_tools check` tells all of them:", *told, *more))
