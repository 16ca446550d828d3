"""Two versions to their review: everything that changed for a reader, in the order in which it is read."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from build_tools.checks import check
from build_tools.library import Draft, read_library, tree_path
from build_tools.review.changes import Ending, PathChange, Review, Row, Side, TreePaths
from build_tools.review.formula_content import Code, formula_content, read_formulas
from build_tools.review.lengths import lengths
from build_tools.review.matching import Match
from build_tools.review.paths import Tally, Uncounted, Walk, parting, walk_in_step, walk_of
from build_tools.review.places import spot
from build_tools.review.proposal import proposals
from build_tools.review.remedy_content import remedy_content
from build_tools.review.safety import safety
from build_tools.review.table_content import table_content
from build_tools.review.tree_content import tree_content


@dataclass(frozen=True, slots=True)
class Version:
    """One version of the guide, as far as it can be read."""

    side: Side
    draft: Draft
    formulas: Code


def read_version(root: Path, name: str) -> Version:
    """Read and check a project folder; where the check fails, take what could be read."""
    checked = check(root)
    errors = [each for each in checked.problems if each.severity == "error"]
    draft = checked.guide.draft if checked.guide else read_library(root)[0]
    unread = {path for path in checked.sources if path not in draft.files}
    unread |= {each.place.path for each in errors if each.code == "not-text"}
    return Version(Side(name=name, errors=len(errors), unread=tuple(sorted(unread))), draft, read_formulas(root))


def review(before: Version, after: Version) -> Review:
    """Compare two versions for a reader."""
    match = Match(before.draft, after.draft)
    paths, uncounted = _paths(match)
    content: dict[str, list[Row]] = defaultdict(list)
    formulas = formula_content(match, before.formulas, after.formulas)
    for section, row in (*tree_content(match), *remedy_content(match), *table_content(match), *formulas):
        content[section].append(row)
    rows = {"safety": safety(match), **{name: tuple(content[name]) for name in ("remedies", "steps", "values", "text")}}
    counted = frozenset(before.draft.trees) - {name for name, _ in uncounted}
    step, proposed = proposals(match, rows, [*(each.tree for each in paths), *(name for name, _ in uncounted)])
    return Review(
        before=before.side,
        after=after.side,
        paths=paths,
        uncounted=tuple(f"{name}: {reason}" for name, reason in uncounted),
        lengths=tuple(lengths(match, counted)),
        step=step,
        proposals=proposed,
        **rows,
    )


def _paths(match: Match) -> tuple[tuple[TreePaths, ...], list[tuple[str, str]]]:
    back = {new: old for old, new in match.nodes.items()}
    remedies = {new: old for old, new in match.remedies.items()}
    found: list[TreePaths] = []
    uncounted: list[tuple[str, str]] = []
    for name in dict.fromkeys((*match.before.trees, *match.after.trees)):
        if match.before.trees.get(name) == match.after.trees.get(name):
            continue
        try:
            walks = walk_of(match.before, name, {}, {}), walk_of(match.after, name, back, remedies)
            told = _tree_paths(match, name, *walks)
        except Uncounted as cannot:
            uncounted.append((name, str(cannot)))
            continue
        found += [told] if told else []
    return tuple(found), uncounted


def _tree_paths(match: Match, name: str, before: Walk, after: Walk) -> TreePaths | None:
    tallies = walk_in_step(before, after)
    apart = {ends: tally for ends, tally in tallies.items() if _id(ends[0]) != _id(ends[1])}
    if not apart:
        return None
    changes = [_change(match, name, (before, after), ends, tally) for ends, tally in apart.items()]
    changes.sort(key=lambda each: (-each.count, len(each.example), each.before.name, each.after.name))
    total = sum(tally.ways for tally in tallies.values())
    return TreePaths(tree=name, changed=sum(each.count for each in changes), total=total, endings=tuple(changes))


def _id(end: Ending) -> tuple[str, str]:
    """A title that was reworded is no other end."""
    return end.kind, end.name


def _change(match: Match, name: str, walks: tuple[Walk, Walk], ends: tuple[Ending, Ending], tally: Tally) -> PathChange:
    keys = parting(*walks, tally.shortest)
    return PathChange(
        before=ends[0],
        after=ends[1],
        count=tally.ways,
        example=tally.shortest,
        spot_before=spot(match.before, tree_path(name), keys[0]),
        spot_after=spot(match.after, tree_path(name), keys[1]),
    )
