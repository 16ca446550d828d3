"""Trees that lead elsewhere: the hash by which a request agrees to that, and whether it does.

An entry of trees/tables/agreed.yaml counts in the request that writes it, and for that very change only: a short
hash over the tree's walk as it was and as it is.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping

from build_tools.model import Agreed, Tree
from build_tools.proof.graph import exits_of
from build_tools.review.differences.proposal import step_of
from build_tools.review.record.changes import Agreement, Row
from build_tools.review.versions.matching import Match

LETTERS = 16


def agreements(match: Match, rows: Iterable[Row], elsewhere: Iterable[str]) -> tuple[Agreement, ...]:
    """Give the trees to whose change the request has to agree, each with its reason where it does.

    rows: what differs in steps. elsewhere: trees some of whose paths end elsewhere, or could not be compared.
    """
    named = {tree for row in rows if step_of("steps", row) == "major" for tree in row.trees}
    wanted = sorted(each for each in named.union(elsewhere) if each in match.before.trees)
    written = _written(match)
    return tuple(_agreement(match, name, written.get(name)) for name in wanted)


def agreed_idly(match: Match, wanted: Iterable[Agreement]) -> tuple[str, ...]:
    """Name the trees for which the request agrees to what it does not change, or not so."""
    agreed = {each.tree for each in wanted if each.since}
    return tuple(sorted(set(_written(match)) - agreed))


def _written(match: Match) -> Mapping[str, Agreed]:
    """Give the entries that the request itself writes."""
    before, after = match.before.agreed, match.after.agreed
    return {name: each for name, each in after.items() if before.get(name) != each}


def _agreement(match: Match, name: str, entry: Agreed | None) -> Agreement:
    change = change_hash(match.before.trees.get(name), match.after.trees.get(name))
    since = " ".join(entry.since.split()) if entry and entry.change == change else ""
    return Agreement(tree=name, change=change, since=since)


def change_hash(before: Tree | None, after: Tree | None) -> str:
    """Give the short hash of a tree's walk before and after, None where a version does not have it."""
    text = json.dumps([walked(before), walked(after)], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:LETTERS]


def walked(tree: Tree | None) -> object:
    """Give what of a tree's walk says where it goes and how long it is, whatever its words, as plain data."""
    if tree is None:
        return None
    told = ("minutes", "measure", "remedy", "go_to", "gate")
    steps = {
        name: [type(step).__name__, dict(exits_of(step)), [getattr(step, key, None) for key in told]]
        for name, step in tree.steps.items()
    }
    return [tree.starts_at, steps]
