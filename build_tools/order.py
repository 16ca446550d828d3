"""The order of checks as pure reckoning: what an order costs on average, and which costs least.

Nothing here knows of trees. A check finds its cause with a certain chance and takes minutes; it stands in
a place that may first have to be got ready. Gates are no part of the reckoning: only checks whose gates
are already open are compared. With causes that hang together, or minutes that depend on what came before,
the best order is a hard problem, and what stands here is only a rule of thumb.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

NO_ACCESS: Mapping[str, float] = MappingProxyType({})


class Causes(StrEnum):
    """How the causes behind a run of checks hang together."""

    ONE = "one"
    SEVERAL = "several"


@dataclass(frozen=True, slots=True)
class Check:
    """One check: the chance (0 to 1) that it ends the search, its minutes (above 0), and its place."""

    id: str
    chance: float
    minutes: float
    place: str = ""


def average_minutes(
    order: Sequence[Check], causes: Causes = Causes.ONE, access: Mapping[str, float] = NO_ACCESS
) -> float:
    """Reckon the minutes that checks take on average, when they are made in this order until one finds its cause.

    With one cause check i is reached with the chance 1 - (p_1 + … + p_(i-1)); with several that arise
    apart from each other, with the chance (1 - p_1) × … × (1 - p_(i-1)).

    Args:
        order: [minutes, chances from 0 to 1] the checks, first to last.
        causes: whether exactly one cause is there, or each by itself.
        access: [minutes] what it takes to get a place ready, paid with the first check there.

    Returns:
        [minutes] the average.

    Source:
        Kadane and Simon's P-over-C, as Ottosen and Jensen (arXiv 1203.3502) report it; with several causes
        the same exchange of neighbours, reckoned and compared with every order.

    Limits:
        A check never misses; its minutes do not depend on what came before. With one cause the chances make
        at most 1; what is missing from 1 is the chance that no check finds it.

    Example:
        >>> looks = [Check("b", 0.3, 2), Check("a", 0.4, 4), Check("d", 0.1, 1), Check("c", 0.2, 10)]
        >>> round(average_minutes(looks), 9)
        7.1
    """
    reached = _reached(order, causes)
    return sum(chance * spent for chance, spent in zip(reached, _spent(order, access), strict=True))


def _reached(order: Iterable[Check], causes: Causes) -> Iterator[float]:
    """Give the chance with which each check comes to be made."""
    left = 1.0
    for check in order:
        yield left
        left = left - check.chance if causes is Causes.ONE else left * (1 - check.chance)


def _spent(order: Iterable[Check], access: Mapping[str, float]) -> Iterator[float]:
    """Give each check's minutes, with those that get its place ready where it is the first there."""
    ready: set[str] = set()
    for check in order:
        yield check.minutes + (0.0 if check.place in ready else access.get(check.place, 0.0))
        ready.add(check.place)


def best_order(
    checks: Iterable[Check], causes: Causes = Causes.ONE, access: Mapping[str, float] = NO_ACCESS
) -> tuple[Check, ...]:
    """Put checks into the order that takes the fewest minutes on average.

    Where nothing has to be got ready this is chance over minutes, greatest first. Where a place costs
    something to get ready, the place is ranked by the run of its checks that is worth most together.

    Args:
        checks: [minutes, chances from 0 to 1] the checks, in any order; equals keep theirs.
        causes: whether exactly one cause is there, or each by itself.
        access: [minutes] what it takes to get a place ready, once.

    Returns:
        the same checks, first to last.

    Source:
        P-over-C as under `average_minutes`; shared access in the bottom-up form of Ottosen and Jensen
        (arXiv 1203.3502), its index from memory and compared with every order.

    Limits:
        As for `average_minutes`; a place stays ready once it is.

    Example:
        >>> roof = [Check("lap", 0.3, 2, "roof"), Check("gutter", 0.3, 2, "roof"), Check("reveal", 0.2, 2)]
        >>> [each.id for each in best_order(roof, access={"roof": 10})]
        ['reveal', 'lap', 'gutter']
    """
    left = list(checks)
    waiting = dict(access)
    order: list[Check] = []
    while left:
        places = dict.fromkeys(each.place for each in left)
        runs = (
            best_run([each for each in left if each.place == place], causes, waiting.get(place, 0.0))
            for place in places
        )
        run = max(runs, key=lambda each: worth(each, causes, waiting.get(each[0].place, 0.0)))
        order += run
        waiting.pop(run[0].place, None)
        left = [each for each in left if each not in run]
    return tuple(order)


def worth(run: Sequence[Check], causes: Causes = Causes.ONE, access_minutes: float = 0.0) -> float:
    """Weigh a run of checks: the chance that it ends the search, over the minutes it takes.

    Args:
        run: [minutes, chances from 0 to 1] the checks in their order.
        causes: whether exactly one cause is there, or each by itself.
        access_minutes: [minutes] what it takes to get their place ready.

    Returns:
        [1/minute] the greater, the sooner it should be made.

    Source:
        As for `best_order`.

    Limits:
        With one cause the minutes are those of the whole run; with several, those spent on average.

    Example:
        >>> worth([Check("lap", 0.25, 2), Check("gutter", 0.25, 2)], access_minutes=6)
        0.05
    """
    if causes is Causes.ONE:
        return sum(each.chance for each in run) / (access_minutes + sum(each.minutes for each in run))
    missed = 1.0
    for each in run:
        missed *= 1 - each.chance
    return (1 - missed) / (access_minutes + average_minutes(run, causes))


def best_run(checks: Sequence[Check], causes: Causes = Causes.ONE, access_minutes: float = 0.0) -> tuple[Check, ...]:
    """Find the checks of one place that are worth most together, once it has been got ready.

    Args:
        checks: [minutes, chances from 0 to 1] checks of one place, at least one.
        causes: whether exactly one cause is there, or each by itself.
        access_minutes: [minutes] what it takes to get the place ready; 0 where it is.

    Returns:
        the first few of them in the order chance over minutes.

    Source:
        As for `best_order`.

    Limits:
        As for `best_order`.

    Example:
        >>> [each.id for each in best_run([Check("lap", 0.3, 2), Check("dust", 0.01, 9)], access_minutes=8)]
        ['lap']
    """
    ranked = sorted(checks, key=lambda each: -each.chance / each.minutes)
    runs = [tuple(ranked[:length]) for length in range(1, len(ranked) + 1)]
    return max(runs, key=lambda run: worth(run, causes, access_minutes))
