"""The order of checks as pure reckoning: what an order costs on average, and which costs least.

Nothing here knows of trees. A check finds its cause with a certain chance and takes minutes; it stands in
a place that may first have to be got ready. Gates are no part of the reckoning: only checks whose gates
are already open are compared. With causes that hang together, or minutes that depend on what came before,
the best order is a hard problem, and what stands here is only a rule of thumb.
"""

from __future__ import annotations

import math
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
    """One check: the chance (0 to 1) that its cause is there, its minutes (above 0), and its place."""

    id: str
    chance: float
    minutes: float
    place: str = ""
    missed: float = 0.0
    """The chance (0 to 1) that it overlooks the cause, though it is there."""

    @property
    def finds(self) -> float:
        """Give the chance (0 to 1) that it ends the search, where nothing before it did."""
        return self.chance * (1 - self.missed)


def average_minutes(
    order: Sequence[Check], causes: Causes = Causes.ONE, access: Mapping[str, float] = NO_ACCESS
) -> float:
    """Reckon the minutes that checks take on average, when they are made in this order until one finds its cause.

    The minutes of each check times the chance that it is reached, added up. With one cause that chance is
    what the checks before leave of 1; with several, each by itself, the chance that they all find nothing.
    A check that can miss counts for p (1 - a): the cause is there, and is not overlooked.

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
        Each check is made once, and its minutes do not depend on what came before. With one cause the chances
        make at most 1, and what they leave of 1 is the chance of another cause. The minutes of mending are left
        out: with one cause they are the same on average in every order.

    Example:
        >>> looks = [Check("b", 0.3, 2), Check("a", 0.4, 4), Check("d", 0.1, 1), Check("c", 0.2, 10)]
        >>> round(average_minutes(looks), 9)
        7.1
    """
    reached = _reached(order, causes)
    return math.fsum(chance * spent for chance, spent in zip(reached, _spent(order, access), strict=True))


def _reached(order: Iterable[Check], causes: Causes) -> Iterator[float]:
    """Give the chance with which each check comes to be made."""
    left = 1.0
    for check in order:
        yield left
        left = left - check.finds if causes is Causes.ONE else left * (1 - check.finds)


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

    Chance over minutes, the greatest first: p (1 - a) / c, where p is the chance that the cause is there, a that
    it is overlooked, and c the minutes. Where a place has to be got ready first, it is ranked by those of its
    checks that are worth most together, with the minutes of getting it ready.

    Args:
        checks: [minutes, chances from 0 to 1] the checks, in any order; equals keep theirs.
        causes: whether exactly one cause is there, or each by itself.
        access: [minutes] what it takes to get a place ready, once.

    Returns:
        the same checks, first to last.

    Source:
        P-over-C as for the average; with looks that can miss, Blackwell's rule, as the Annals of Mathematical
        Statistics (10.1214/aoms/1177698965) treats it; shared access in the bottom-up form of Ottosen and
        Jensen (arXiv 1203.3502); no public source seen for its index, which tests compare with every order.

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
        minutes = math.fsum((access_minutes, *(each.minutes for each in run)))
        return math.fsum(each.finds for each in run) / minutes
    nothing = math.prod(1 - each.finds for each in run)
    return (1 - nothing) / (access_minutes + average_minutes(run, causes))


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
    ranked = sorted(checks, key=lambda each: -each.finds / each.minutes)
    runs = [tuple(ranked[:length]) for length in range(1, len(ranked) + 1)]
    return max(runs, key=lambda run: worth(run, causes, access_minutes))
