"""Remedies, field by field: work, materials, numbers; what is text only is told as that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from pydantic import BaseModel

from build_tools.model import Action, Remedy, WorkGate
from build_tools.review.differences.fields import Difference, Rename
from build_tools.review.differences.findings import At, Found, Thing, come_and_gone
from build_tools.review.versions.matching import Match, Pairs, aligned, plain, work_pairs
from build_tools.sources.library import remedy_path

T = TypeVar("T", bound=BaseModel)
ON_THEIR_OWN = frozenset(("steps", "materials", "cautions"))
"""Lists whose items are paired; cautions are the affair of `safety`."""
GATE_GONE = "a gate of the work is gone"


def remedy_content(match: Match) -> Iterator[Found]:
    """Find what differs in remedies, but for their cautions and gates."""
    before, after = match.before.remedies, match.after.remedies
    every = {name: _thing(match, name, name) for name in before.keys() ^ after.keys()}
    titles = {n: plain(r.title) for n, r in before.items()}, {n: plain(r.title) for n, r in after.items()}
    yield from (("remedies", row) for row in come_and_gone(every, *titles, match.remedies))
    for old, new in match.kept_remedies.items():
        if before[old] != after[new]:
            yield from _one(_thing(match, old, new), before[old], after[new])


def _thing(match: Match, old: str, new: str) -> Thing:
    name = old if old == new else " = ".join(sorted((old, new)))
    paths = At(remedy_path(old)), At(remedy_path(new))
    trees = match.trees("remedy", old) if old in match.before.remedies else match.mirrored().trees("remedy", new)
    return Thing(match, "remedies", f'remedy "{name}"', *paths, trees)


def _rename(match: Match) -> Rename:
    def new_id(field: str, value: str) -> str:
        if field == "after_failed_proof":
            home, sign, step = value.partition("/")
            return f"{home}{sign}{match.steps.get(home, {}).get(step, step)}"
        return {"followed_by": match.remedies, "gate": match.gates}.get(field, {}).get(value, value)

    return new_id


def _one(thing: Thing, before: Remedy, after: Remedy) -> Iterator[Found]:
    rename = _rename(thing.match)
    yield from thing.fields(before, after, ON_THEIR_OWN, rename)
    work = work_pairs(before, after)
    yield from _items(thing, ("steps", "work step"), (before.steps, after.steps), work, rename)
    yield from _order(thing, before, after, work)
    goods = aligned(before.materials, after.materials, lambda each: plain(each.item))
    yield from _items(thing, ("materials", "material"), (before.materials, after.materials), goods, rename)


def _items(
    thing: Thing, names: tuple[str, str], lists: tuple[Sequence[T], Sequence[T]], pairs: Pairs, rename: Rename
) -> Iterator[Found]:
    """Compare two lists item by item; `names` are the key of the list and the word for one of its items."""
    key, word = names
    for here, there in pairs:
        keys = (key,) if here is None else (key, here), (key,) if there is None else (key, there)
        item = Thing(
            thing.match,
            thing.section,
            f"{thing.subject}, {word}",
            At(thing.before.path, keys[0]),
            At(thing.after.path, keys[1]),
            thing.trees,
        )
        if here is None and there is not None:
            yield thing.section, item.row(Difference(key, (), None, _said(lists[1][there])))
        elif here is not None and there is None:
            row = item.row(Difference(key, (), _said(lists[0][here]), None))
            is_gate = isinstance(lists[0][here], WorkGate)
            yield thing.section, row.model_copy(update={"grave": GATE_GONE}) if is_gate else row
        elif here is not None and there is not None:
            yield from item.fields(lists[0][here], lists[1][there], rename=rename)


def _said(item: BaseModel) -> str:
    if isinstance(item, Action):
        return plain(item.do)
    if isinstance(item, WorkGate):
        return f"gate {item.gate}"
    return plain(str(getattr(item, "item", "")) + ": " + str(getattr(item, "quantity", "")))


def _order(thing: Thing, before: Remedy, after: Remedy, work: Pairs) -> Iterator[Found]:
    kept = sorted((here, there) for here, there in work if here is not None and there is not None)
    theirs = [there for _, there in kept]
    if theirs != sorted(theirs):
        said = [_said(before.steps[here]) for here, _ in kept], [_said(after.steps[there]) for there in sorted(theirs)]
        what = Difference("order", ("steps",), " / ".join(said[0]), " / ".join(said[1]))
        yield thing.section, thing.row(what)
