"""Cautions, gates and hazards in their tables: what one version no longer says, and what it says otherwise.

A gate is weaker where it opens more, or is for more roofs, under the same conditions. A joined gate that joins
another one lets people on that one's roofs under its own conditions, so it is weaker only where it joins fewer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar

from build_tools.model import MILDEST_FIRST, Caution, Gate, Hazard, JoinedGate, WrittenGate
from build_tools.model.problems import KeyPath
from build_tools.review.record.changes import Row
from build_tools.review.versions.matching import Match, Pairs, aligned, overtaken, plain
from build_tools.review.versions.places import spot
from build_tools.sources.library import table_path

T = TypeVar("T")
CAUTION_WORDS = ("hazard", "consequence", "avoidance", "stop-when", "call")
NO_LIMIT = 10**6
"""Minutes; longer than any gate may stand."""
EVERY_ROOF = "every roof that the gate is for"


@dataclass(frozen=True, slots=True)
class _Fall:
    """What an entry no longer says, or says otherwise, with the keys inside the entry on both sides."""

    change: Literal["removed", "weakened", "moved-later", "changed"]
    key: str
    before: str | None
    after: str | None
    keys_before: KeyPath
    keys_after: KeyPath


def table_losses(match: Match) -> Iterator[Row]:
    """Find what the first version's tables say of safety and the second's do not."""
    yield from _losses(match, "caution", match.before.cautions, match.after.cautions, match.cautions, _caution)
    yield from _losses(match, "gate", match.before.gates, match.after.gates, match.gates, _gate)
    written = match.before.written_gates, match.after.written_gates
    yield from _told(match, "gate", *written, match.gates, _written_gate)
    yield from _losses(match, "hazard", match.before.hazards, match.after.hazards, {}, _hazard)


def other_words(match: Match) -> Iterator[Row]:
    """Find other words in cautions and gates: whether they are milder, only a person can tell."""
    yield from _told(match, "caution", match.before.cautions, match.after.cautions, {}, _caution_words)
    yield from _told(match, "gate", match.before.gates, match.after.gates, {}, _gate_words)
    yield from _told(match, "gate", match.before.written_gates, match.after.written_gates, {}, _gate_kind)


Falls = Callable[[T, T, Match], Iterator[_Fall]]


def _losses(
    match: Match, kind: str, before: Mapping[str, T], after: Mapping[str, T], names: Mapping[str, str], falls: Falls[T]
) -> Iterator[Row]:
    for name, old in before.items():
        if names.get(name, name) not in after:
            title = old.hazard if isinstance(old, Caution) else str(getattr(old, "title", ""))
            place = spot(match.before, table_path(f"{kind}s"), (name,))
            trees = match.trees(kind, name)
            yield Row(change="removed", subject=f'{kind} "{name}"', before=plain(title), spot_before=place, trees=trees)
    yield from _told(match, kind, before, after, names, falls)


def _told(
    match: Match, kind: str, before: Mapping[str, T], after: Mapping[str, T], names: Mapping[str, str], falls: Falls[T]
) -> Iterator[Row]:
    for name, old in before.items():
        new_name = names.get(name, name)
        if new_name not in after:
            continue
        fallen: Iterator[_Fall] = falls(old, after[new_name], match)
        yield from (_row(match, kind, (name, new_name), fall) for fall in fallen)


def _row(match: Match, kind: str, names: tuple[str, str], fall: _Fall) -> Row:
    path = table_path(f"{kind}s")
    return Row(
        change=fall.change,
        subject=f'{kind} "{names[0]}"',
        detail=fall.key,
        before=fall.before,
        after=fall.after,
        spot_before=spot(match.before, path, (names[0], *fall.keys_before)),
        spot_after=spot(match.after, path, (names[1], *fall.keys_after)),
        trees=match.trees(kind, names[0]),
    )


def _milder(key: str, old: str, new: str) -> Iterator[_Fall]:
    mildest = [str(each) for each in MILDEST_FIRST]
    if mildest.index(new) < mildest.index(old):
        yield _Fall("weakened", key, str(old), str(new), (key,), (key,))


def _fewer(key: str, old: tuple[str, ...], new: tuple[str, ...]) -> Iterator[_Fall]:
    for number, each in enumerate(old):
        if each not in new:
            yield _Fall("removed", key, str(each), None, (key, number), (key,))


def _more(key: str, old: tuple[str, ...], new: tuple[str, ...]) -> Iterator[_Fall]:
    for number, each in enumerate(new):
        if each not in old:
            yield _Fall("weakened", key, None, str(each), (key,), (key, number))


def _caution(old: Caution, new: Caution, match: Match) -> Iterator[_Fall]:
    yield from _milder("signal", old.signal, new.signal)
    yield from _fewer("answers", old.answers, new.answers)


def _hazard(old: Hazard, new: Hazard, match: Match) -> Iterator[_Fall]:
    yield from _milder("least-signal", old.least_signal, new.least_signal)
    yield from _fewer("where", old.where, new.where)
    yield from _fewer("acts", old.acts, new.acts)


def _gate(old: Gate, new: Gate, match: Match) -> Iterator[_Fall]:
    yield from _more("opens", old.opens, new.opens)
    yield from _fewer("ends-when", old.ends_when, new.ends_when)
    cautions = tuple(match.cautions.get(each, each) for each in old.cautions)
    yield from _fewer("cautions", cautions, new.cautions)
    for place in overtaken(cautions, new.cautions):
        keys = ("cautions", place), ("cautions", new.cautions.index(cautions[place]))
        yield _Fall("moved-later", "cautions", cautions[place], cautions[place], *keys)
    for here, there in _conditions(old, new):
        if here is not None and there is None:
            holds = plain(old.all_of[here].holds)
            yield _Fall("removed", "condition", holds, None, ("all-of", here), ("all-of",))
    if (new.minutes or NO_LIMIT) > (old.minutes or NO_LIMIT):
        limit = f"{new.minutes} minutes" if new.minutes else None
        yield _Fall("weakened", "minutes", f"{old.minutes} minutes", limit, ("minutes",), ("minutes",))


def _written_gate(old: WrittenGate, new: WrittenGate, match: Match) -> Iterator[_Fall]:
    """Compare what only the gate as it is written tells: which it joins, and on which roofs it asks what."""
    if isinstance(old, JoinedGate) and isinstance(new, JoinedGate):
        yield from _fewer("joins", tuple(match.gates.get(each, each) for each in old.joins), new.joins)
    elif isinstance(old, Gate) and isinstance(new, Gate):
        yield from _more("roofs", old.roofs, new.roofs)
        for here, there in _conditions(old, new):
            if here is not None and there is not None:
                yield from _on_fewer(old.all_of[here].on, new.all_of[there].on, ("all-of", here), ("all-of", there))


def _gate_kind(old: WrittenGate, new: WrittenGate, match: Match) -> Iterator[_Fall]:
    if type(old) is not type(new):
        kinds = ["a joined gate" if isinstance(each, JoinedGate) else "a gate by itself" for each in (old, new)]
        yield _Fall("changed", "kind", kinds[0], kinds[1], (), ())


def _on_fewer(old: tuple[str, ...], new: tuple[str, ...], here: KeyPath, there: KeyPath) -> Iterator[_Fall]:
    """Tell of a condition that holds on fewer roofs; one that names none holds on all."""
    if new and (not old or not set(old) <= set(new)):
        yield _Fall("weakened", "condition on", "; ".join(old) or EVERY_ROOF, "; ".join(new), here, there)


def _conditions(old: Gate, new: Gate) -> Pairs:
    return aligned(old.all_of, new.all_of, lambda each: plain(each.holds))


def _words(key: str, old: str, new: str, keys: tuple[KeyPath, KeyPath]) -> Iterator[_Fall]:
    if plain(old) != plain(new):
        yield _Fall("changed", key, plain(old), plain(new), *keys)


def _caution_words(old: Caution, new: Caution, match: Match) -> Iterator[_Fall]:
    for key in CAUTION_WORDS:
        field = key.replace("-", "_")
        yield from _words(key, getattr(old, field), getattr(new, field), ((key,), (key,)))


def _gate_words(old: Gate, new: Gate, match: Match) -> Iterator[_Fall]:
    yield from _words("title", old.title, new.title, (("title",), ("title",)))
    yield from _words("if-not", old.if_not, new.if_not, (("if-not",), ("if-not",)))
    for here, there in _conditions(old, new):
        if here is not None and there is not None:
            one, other = old.all_of[here], new.all_of[there]
            keys = ("all-of", here), ("all-of", there)
            yield from _words("condition", one.holds, other.holds, keys)
            yield from _words("how to tell", one.tell or "", other.tell or "", keys)
