"""What a look that can miss, a repair or a question put first is worth, as pure reckoning like `order`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from build_tools.order import Check


@dataclass(frozen=True, slots=True)
class Look:
    """A look that can miss: the chance (0 to 1) that the cause is here, that it is overlooked, and minutes."""

    id: str
    chance: float
    missed: float
    minutes: float


@dataclass(frozen=True, slots=True)
class Repair:
    """A suspected cause: its chance (0 to 1), what checking it takes and what mending it takes, in minutes."""

    chance: float
    check_minutes: float
    repair_minutes: float


def next_look(looks: Iterable[Look]) -> Look:
    """Choose where to look next, when a look can miss what is there.

    Args:
        looks: [minutes, chances from 0 to 1] the places to look, at least one.

    Returns:
        the look with the greatest p (1 - a) / c; the same may come up again later.

    Source:
        Blackwell's rule, as the Annals of Mathematical Statistics (10.1214/aoms/1177698965) treats it.

    Limits:
        One cause. Repeated looks at one place miss apart from each other.

    Example:
        >>> next_look([Look("gutter", 0.6, 0.5, 1), Look("lap", 0.4, 0.0, 1)]).id
        'lap'
    """
    return max(looks, key=lambda each: each.chance * (1 - each.missed) / each.minutes)


def after_a_miss(looks: Sequence[Look], looked: str) -> tuple[Look, ...]:
    """Work out the chances after a look that found nothing.

    Args:
        looks: [minutes, chances from 0 to 1] the places to look; their chances make 1.
        looked: the id of the look that was made.

    Returns:
        the same looks; where one looked p becomes p a / (1 - p (1 - a)), elsewhere p / (1 - p (1 - a)).

    Source:
        Bayes' rule; the rest as for `next_look`.

    Limits:
        The look was not certain to find it: p (1 - a) is below 1.

    Example:
        >>> round(after_a_miss([Look("gutter", 0.6, 0.5, 1), Look("lap", 0.4, 0.0, 1)], "gutter")[0].chance, 6)
        0.428571
    """
    unfound = 1 - sum(each.chance * (1 - each.missed) for each in looks if each.id == looked)
    return tuple(
        replace(each, chance=each.chance * (each.missed if each.id == looked else 1) / unfound) for each in looks
    )


def repair_minutes(first: Repair, other: Repair) -> float:
    """Reckon the minutes on average for two causes, one of which is there: check one, mend what is found.

    Args:
        first: [minutes, chance from 0 to 1] the cause that is checked first.
        other: [minutes, chance from 0 to 1] the other; if the first is sound it is checked and mended.

    Returns:
        [minutes] p (C1 + R1) + (1 - p) (C1 + C2 + R2).

    Source:
        A published exercise on two causes of a breakdown (its text seen); the comparison was reckoned.

    Limits:
        The two chances make 1. The minutes of mending do not change which of the two is checked first.

    Example:
        >>> round(repair_minutes(Repair(0.3, 20, 100), Repair(0.7, 60, 40)), 9)
        120.0
    """
    found = first.check_minutes + first.repair_minutes
    passed = first.check_minutes + other.check_minutes + other.repair_minutes
    return first.chance * found + other.chance * passed


def asked_first_minutes(price_minutes: float, results: Iterable[tuple[float, float]]) -> float:
    """Reckon the minutes on average when a question is put before the checks.

    Args:
        price_minutes: [minutes] what it takes to ask.
        results: [chance from 0 to 1, minutes] for each answer, how likely it is and what then remains.

    Returns:
        [minutes] C_o + the sum of P(r) E(r); asking pays where this is below the average without it.

    Source:
        Heckerman, Breese and Rommelse, Communications of the ACM 38(3), 1995; the formula from memory.

    Limits:
        The chances of the answers make 1; the question is never answered wrongly.

    Example:
        >>> round(asked_first_minutes(1, [(0.7, 2 + 4 / 7 * 4), (0.3, 1 + 2 / 3 * 10)]), 9)
        6.3
    """
    return price_minutes + sum(chance * remaining for chance, remaining in results)


def worth_asking_minutes(minutes_now: float, results: Iterable[tuple[float, float]]) -> float:
    """Reckon the most that a question may take before it stops paying.

    Args:
        minutes_now: [minutes] the average of the best order without it.
        results: [chance from 0 to 1, minutes] for each answer, how likely it is and what then remains.

    Returns:
        [minutes] E_now - the sum of P(r) E(r); 0 or less where no question is worth it.

    Source:
        As for `asked_first_minutes`.

    Limits:
        As for `asked_first_minutes`.

    Example:
        >>> round(worth_asking_minutes(7.1, [(0.7, 2 + 4 / 7 * 4), (0.3, 1 + 2 / 3 * 10)]), 9)
        1.8
    """
    return minutes_now - asked_first_minutes(0, results)


def given_answer(checks: Sequence[Check], left: Iterable[str]) -> tuple[float, tuple[Check, ...]]:
    """Take the checks that an answer leaves, with their chances once it is given.

    Args:
        checks: [minutes, chances from 0 to 1] all the checks of one cause.
        left: the ids that the answer leaves.

    Returns:
        [chance from 0 to 1] how likely the answer is, and the checks with chances that make 1.

    Source:
        Bayes' rule.

    Limits:
        One cause, and some check left has a chance above 0.

    Example:
        >>> given_answer([Check("a", 0.25, 4), Check("b", 0.25, 2), Check("c", 0.5, 9)], ["a", "b"])[0]
        0.5
    """
    wanted = set(left)
    kept = [each for each in checks if each.id in wanted]
    chance = sum(each.chance for each in kept)
    return chance, tuple(replace(each, chance=each.chance / chance) for each in kept)
