"""Two versions to their review: everything that changed for a reader, in the order in which it is read."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from build_tools.model.problems import in_order
from build_tools.progress import Tell, silent
from build_tools.review.differences.agreements import agreed_idly, agreements, walked
from build_tools.review.differences.gravity import left_safety, with_reason
from build_tools.review.differences.lengths import lengths
from build_tools.review.differences.paths import Tally, Uncounted, Walk, parting, walk_in_step, walk_of
from build_tools.review.differences.proposal import proposals
from build_tools.review.differences.remedy_content import remedy_content
from build_tools.review.differences.safety import safety
from build_tools.review.differences.stories import stories
from build_tools.review.differences.table_content import table_content
from build_tools.review.differences.tree_content import tree_content
from build_tools.review.differences.unread import Texts, read_texts, unread
from build_tools.review.differences.whole import new_things
from build_tools.review.formula_code.formula_content import Code, formula_content, programs_differ, read_formulas
from build_tools.review.formula_code.formula_facts import formula_facts
from build_tools.review.formula_code.moved import Ran, run_both
from build_tools.review.record.changes import Ending, PathChange, Review, Row, Side, TreePaths
from build_tools.review.versions.listing import Listing
from build_tools.review.versions.matching import Match
from build_tools.review.versions.places import spot
from build_tools.sources.library import Draft, Files, read_library, tree_path

NOT_RUN = Ran({}, {}, (), ())
UNTOLD = (
    "Formulas were not run: their program or their tables differ, and which of their results, ranges and verdicts "
    "move is not told here."
)
"""What a review without running any code does not know."""


class Unreadable(Exception):
    """A version has sources that cannot be read; the message is one sentence that says what to do."""


@dataclass(frozen=True, slots=True)
class Version:
    """One version of the guide: read, and not proved, for that is the affair of `check`."""

    side: Side
    draft: Draft
    formulas: Code
    root: Path | None = None
    """Its project folder, where its formulas can be run."""
    texts: Texts = field(default_factory=dict)
    files: Listing = field(default_factory=dict)
    """All of its files; none where it was not read from any."""

    @property
    def compared(self) -> tuple[str, ...]:
        """Name what of it can be compared."""
        rest = (("formulas", self.formulas), ("stated cases", self.draft.cases))
        return ("trees", "remedies", "tables", *(name for name, held in rest if held))


def read_version(root: Path, side: Side, known: Files | None = None) -> Version:
    """Read a project folder; what stands in it as in `known` is not read again.

    Raises Unreadable: a review without one of the files would say that all in it is gone.
    """
    draft, _, problems = read_library(root, known, renewing=True)
    faults = in_order(each for each in problems if each.severity == "error" and each.code != "missing-file")
    if faults:
        place = f"{faults[0].place.path}, line {faults[0].place.line}"
        more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
        raise Unreadable(
            f"{side.name} cannot be reviewed, for it cannot be read: {place}: {faults[0].what}{more}. "
            "Mend it (`python -m build_tools check` tells how), or name another version."
        )
    return Version(
        side, draft, read_formulas(root), root, read_texts(root, (each.source for each in draft.files.values()))
    )


def review(before: Version, after: Version, tell: Tell = silent, running: bool = True) -> Review:
    """Compare two versions for a reader.

    running: whether the formulas of both may be run, which is done where their program or their tables differ.
    """
    match = Match(before.draft, after.draft)
    tell("Walking the stated cases in both versions")
    told = _told(match, before, after)
    tell("Comparing cautions and gates")
    guarded = safety(match)
    walks = [name for name in _names(match) if not _same_walk(match, name)]
    paths, uncounted = _paths(match, walks, tell)
    tell("Comparing trees, remedies and tables")
    code = tuple(formula_content(match, before.formulas, after.formulas))
    ran = _ran(match, before, after, tell, running)
    content: dict[str, list[Row]] = defaultdict(list)
    facts = formula_facts(match, ran.before, ran.after)
    for section, row in (*tree_content(match), *remedy_content(match), *facts, *table_content(match), *code):
        content[section].append(row)
    content["safety"] = list(guarded)
    rows = {
        name: tuple(with_reason(name, row, ran=bool(ran.before)) for row in content[name])
        for name in ("safety", "remedies", "steps", "values", "text")
    }
    elsewhere = [*(each.tree for each in paths), *(name for name, _ in uncounted)]
    step, proposed = proposals(match, rows, ran.moved, elsewhere)
    wanted = agreements(match, rows["steps"], elsewhere)
    return Review(
        before=before.side,
        after=after.side,
        paths=paths,
        uncounted=tuple(f"{name}: {reason}" for name, reason in uncounted),
        moved=ran.moved,
        runs=ran.said,
        lengths=tuple(lengths(match, (name for name in walks if name not in dict(uncounted)))),
        step=step,
        proposals=proposed,
        agreements=wanted,
        agreed_idly=agreed_idly(match, wanted),
        **rows,
        **told,
    )


def _told(match: Match, before: Version, after: Version) -> Mapping[str, Any]:
    """Tell what is no difference of two things: stories, what is new in full, what is compared and what is not."""
    told, unwalked = stories(match)
    compared = tuple(each for each in before.compared if each in after.compared)
    return {
        "stories": told,
        "unwalked": unwalked,
        "whole": new_things(match),
        "unread": unread((before.files, after.files), (before.texts, after.texts), "formulas" in compared),
        "compared": compared,
    }


def _ran(match: Match, before: Version, after: Version, tell: Tell, running: bool) -> Ran:
    """Run the formulas of both versions, where anything that they reckon with differs."""
    if not (before.formulas and after.formulas and before.root and after.root):
        return NOT_RUN
    if match.before.data == match.after.data and not programs_differ(before.root, after.root):
        return NOT_RUN
    if not running:
        return replace(NOT_RUN, said=(UNTOLD,))
    tell("Running the formulas of both versions")
    return run_both(match, (before.root, after.root), (before.side.name, after.side.name))


def _names(match: Match) -> Iterable[str]:
    return dict.fromkeys((*match.before.trees, *match.after.trees))


def _same_walk(match: Match, name: str) -> bool:
    """Tell whether a tree asks and ends as before, whatever its words: then no path and no length differs."""
    before, after = match.before.trees.get(name), match.after.trees.get(name)
    return before is after or (before is not None and after is not None and walked(before) == walked(after))


def _paths(match: Match, names: Sequence[str], tell: Tell) -> tuple[tuple[TreePaths, ...], list[tuple[str, str]]]:
    """Walk trees in step. Gives what ends differently, and what could not be counted."""
    back = {new: old for old, new in match.nodes.items()}
    remedies = {new: old for old, new in match.remedies.items()}
    safe = _makes_safe(match, remedies)
    found: list[TreePaths] = []
    uncounted: list[tuple[str, str]] = []
    for number, name in enumerate(names, start=1):
        tell(f"Walking both versions of tree {number} of {len(names)}")
        try:
            walks = (
                walk_of(match.before, name, {}, {}, frozenset(safe)),
                walk_of(match.after, name, back, remedies, frozenset(safe)),
            )
            told = _tree_paths(match, name, *walks, safe)
        except Uncounted as cannot:
            uncounted.append((name, str(cannot)))
            continue
        found += [told] if told else []
    return tuple(found), uncounted


def _makes_safe(match: Match, old_ids: Mapping[str, str]) -> Mapping[str, str]:
    """Give the titles of the remedies that make safe in either version, by their ids before."""
    return {
        old_ids.get(name, name): remedy.title
        for draft in (match.after, match.before)
        for name, remedy in draft.remedies.items()
        if remedy.urgent or name == draft.settings.make_safe
    }


def _tree_paths(match: Match, name: str, before: Walk, after: Walk, safe: Mapping[str, str]) -> TreePaths | None:
    tallies = walk_in_step(before, after)
    apart = {ends: tally for ends, tally in tallies.items() if _id(ends[0]) != _id(ends[1])}
    if not apart:
        return None
    changes = [_change(match, name, (before, after), ends, tally, safe) for ends, tally in apart.items()]
    changes.sort(key=lambda each: (not each.grave, -each.count, len(each.example), each.before.name, each.after.name))
    total = sum(tally.ways for tally in tallies.values())
    return TreePaths(tree=name, changed=sum(each.count for each in changes), total=total, endings=tuple(changes))


def _id(end: Ending) -> tuple[str, ...]:
    """A title that was reworded is no other end."""
    return end.kind, end.name, *end.past


def _change(
    match: Match,
    name: str,
    walks: tuple[Walk, Walk],
    ends: tuple[Ending, Ending],
    tally: Tally,
    safe: Mapping[str, str],
) -> PathChange:
    keys = parting(*walks, tally.shortest)
    return PathChange(
        grave=left_safety(*ends, str(keys[0][-1]), safe),
        before=ends[0],
        after=ends[1],
        count=tally.ways,
        example=tally.shortest,
        spot_before=spot(match.before, tree_path(name), keys[0]),
        spot_after=spot(match.after, tree_path(name), keys[1]),
    )
