"""What a look that found nothing, or a question put first, tells of the checks that are left.

Pure reckoning, like `order`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from build_tools.proof.order import Check


def after_a_miss(checks: Sequence[Check], looked: str) -> tuple[Check, ...]:
    """Work out the chances after a look that found nothing.

    Where one looked p becomes p a / (1 - p (1 - a)), elsewhere p / (1 - p (1 - a)); a is the chance that a look
    overlooks what is there. The next look is again the first of the best order, so the same may come up again.

    Args:
        checks: [minutes, chances from 0 to 1] the checks of one cause.
        looked: the id of the check that was made.

    Returns:
        [chances from 0 to 1] the same checks.

    Source:
        Bayes' rule.

    Limits:
        One cause. The look was not certain to find it: p (1 - a) is below 1. Repeated looks at one place miss
        apart from each other.

    Example:
        >>> looks = [Check("gutter", 0.6, 1, missed=0.5), Check("lap", 0.4, 1)]
        >>> round(after_a_miss(looks, "gutter")[0].chance, 6)
        0.428571
    """
    unfound = 1 - math.fsum(each.finds for each in checks if each.id == looked)
    return tuple(
        replace(each, chance=each.chance * (each.missed if each.id == looked else 1) / unfound) for each in checks
    )


def asked_first_minutes(price_minutes: float, results: Iterable[tuple[float, float]]) -> float:
    """Reckon the minutes on average when a question is put before the checks.

    The minutes of asking, and for each answer its chance times the minutes that then remain, added up. It pays
    where this is below the average without it.

    Args:
        price_minutes: [minutes] what it takes to ask.
        results: [chance from 0 to 1, minutes] for each answer, how likely it is and what then remains.

    Returns:
        [minutes] C_o + the sum of P(r) E(r).

    Source:
        Heckerman, Breese and Rommelse, Communications of the ACM 38(3), 1995; no public source seen for the formula.

    Limits:
        The chances of the answers make 1; the question is never answered wrongly.

    Example:
        >>> round(asked_first_minutes(1, [(0.7, 2 + 4 / 7 * 4), (0.3, 1 + 2 / 3 * 10)]), 9)
        6.3
    """
    return math.fsum((price_minutes, *(chance * remaining for chance, remaining in results)))


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
    chance = math.fsum(each.chance for each in kept)
    return chance, tuple(replace(each, chance=each.chance / chance) for each in kept)
