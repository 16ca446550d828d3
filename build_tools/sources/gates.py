"""Gates as an author writes them to whole gates: a joined gate gets the conditions of those that it joins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from build_tools.model import Condition, Gate, JoinedGate

T = TypeVar("T")


def whole(written: Mapping[str, Gate | JoinedGate]) -> Mapping[str, Gate]:
    """Make every gate a whole one.

    Gates that a joined one names wrongly are passed over: the rules of reference report them. One without a
    gate to join is left out, as a gate that could not be read is.
    """
    return {name: made for name, gate in written.items() if (made := _whole(gate, written))}


def parts(gate: Gate | JoinedGate, written: Mapping[str, Gate | JoinedGate]) -> Mapping[str, Gate]:
    """Give the gates that a gate joins, by id; none for a gate that stands by itself."""
    joins = gate.joins if isinstance(gate, JoinedGate) else ()
    return {name: part for name in joins if isinstance(part := written.get(name), Gate)}


def _whole(gate: Gate | JoinedGate, written: Mapping[str, Gate | JoinedGate]) -> Gate | None:
    if isinstance(gate, Gate):
        return gate
    joined = tuple(parts(gate, written).values())
    if not joined:
        return None
    minutes = [each.minutes for each in joined if each.minutes is not None]
    return Gate.model_construct(
        title=gate.title,
        opens=_once(item for each in joined for item in each.opens),
        roofs=_once(item for each in joined for item in each.roofs),
        all_of=_conditions(joined),
        ends_when=_once(item for each in joined for item in each.ends_when),
        minutes=min(minutes, default=None),
        if_not=gate.if_not,
        cautions=_once(item for each in joined for item in each.cautions),
    )


def _conditions(joined: tuple[Gate, ...]) -> tuple[Condition, ...]:
    """Put what all the gates ask first, then what each asks on its own roofs only."""
    shared = [each for each in joined[0].all_of if all(each in gate.all_of for gate in joined)]
    own = (
        each.model_copy(update={"on": each.on or gate.roofs})
        for gate in joined
        for each in gate.all_of
        if each not in shared
    )
    return (*shared, *own)


def _once(items: Iterable[T]) -> tuple[T, ...]:
    return tuple(dict.fromkeys(items))
