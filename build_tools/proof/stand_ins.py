"""A draft without the trees and remedies that have errors, and what stands where another names one of them."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date

from build_tools.model import DATA_TABLES, GoTo, Remedy, RemedyStep, Settings, Source, Tree
from build_tools.model.remedies import Suits
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path

WARNING_TABLES = ("cautions", "gates", "hazards", "vocabulary", *DATA_TABLES)
"""Without any of these a walk would warn of less than it should, or could not measure, so nothing is walked."""


class _AnySource(dict[str, Source]):
    """The table of sources where it cannot be read: every source is called by its id."""

    def __missing__(self, name: str) -> Source:
        return Source.model_construct(title=name, publisher="", kind="practice", seen="memory", states="")


def without(draft: Draft, paths: Collection[str]) -> Draft:
    """Leave out the trees and remedies of these files; their names stay known, so nobody is blamed for naming one."""
    return replace(
        draft,
        trees={name: each for name, each in draft.trees.items() if tree_path(name) not in paths},
        remedies={name: each for name, each in draft.remedies.items() if remedy_path(name) not in paths},
        files={path: each for path, each in draft.files.items() if path not in paths},
    )


def with_stand_ins(draft: Draft) -> Draft:
    """Put a tree or remedy of one step wherever one is named that was left out, so that everything named is there.

    A stand-in tree ends in a remedy that is called by the tree's file: what that would lead to.
    """
    settings = draft.settings
    steps = [step for tree in draft.trees.values() for step in tree.steps.values()]
    targets = [step.go_to for step in steps if isinstance(step, GoTo)]
    targets += [each.after_failed_proof for each in draft.remedies.values()]
    remedies = [step.remedy for step in steps if isinstance(step, RemedyStep)]
    remedies += [name for each in draft.remedies.values() for name in each.followed_by]
    trees = {**draft.trees, **_stand_in_trees(draft, (*targets, settings.first_tree))}
    files = [_file_of(name) for name in trees if name not in draft.trees]
    wanted = [name for name in (*remedies, settings.make_safe) if name not in draft.remedies]
    stand_ins = {name: _remedy(settings, remedy_path(name) if name else table_path("settings")) for name in wanted}
    stand_ins |= {path: _remedy(settings, path) for path in files}
    sources = _AnySource() if "sources" in draft.unread else draft.sources
    return replace(draft, trees=trees, remedies={**draft.remedies, **stand_ins}, sources=sources)


def _stand_in_trees(draft: Draft, targets: Iterable[str]) -> dict[str, Tree]:
    """Make a tree for each that is named and not there, with the steps that are named of it."""
    steps: dict[str, set[str]] = {}
    for tree, _, step in (target.partition("/") for target in targets):
        if tree not in draft.trees:
            steps.setdefault(tree, {"start"}).add(step or "start")
    return {name: _tree(name, sorted(named)) for name, named in steps.items()}


def _file_of(name: str) -> str:
    """Give the file of a tree; without settings the first tree has no name."""
    return tree_path(name) if name else table_path("settings")


def _tree(name: str, steps: Iterable[str]) -> Tree:
    path = _file_of(name)
    end = RemedyStep.model_construct(remedy=path, accept={})
    return Tree.model_construct(
        title=left_out(path),
        version="0.0.0",
        revised=date.min,
        about="",
        starts_at="start",
        steps=dict.fromkeys(steps, end),
        accept={},
    )


def _remedy(settings: Settings, path: str) -> Remedy:
    """Make a remedy without work, which says where the fault is."""
    return Remedy.model_construct(
        title=left_out(path),
        cures=f"{path} has errors: mend it, and it is shown here.",
        suits=Suits(covering=("any",), light=("any",)),
        lasts="lasting",
        who="",
        glass="not-touched",
        steps=(),
        water_leaves="",
        cautions=(),
        prove="",
        after_failed_proof=settings.first_tree,
        look_again="",
        record="",
        sources=(),
        accept={},
    )


def left_out(path: str) -> str:
    """Call a tree or remedy that was left out."""
    return f"{path}, which has errors and is left out"
