"""What the answers of a tree say of their ways, and where in its file each value of a step stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.model import ANSWERS
from build_tools.model.problems import KeyPath, Problem, did_you_mean
from build_tools.sources.compose import Composed

ONE_WAY = "Name one step by `then:`, or another answer by `as:` with the reason by `since:`."


Ways = Mapping[str, tuple[KeyPath, Mapping[str, Any]]]
"""The answers of one step that are blocks, each with its keys in the step."""


def steps_at(tree: Any) -> Iterator[tuple[KeyPath, Mapping[str, Any]]]:
    """Give the steps of a tree as it is written, each with its keys; what is no step is passed over."""
    parts = tree.get("parts")
    homes: list[tuple[KeyPath, Any]] = [
        (("parts", name), part) for name, part in (parts.items() if isinstance(parts, Mapping) else ())
    ]
    for keys, home in (*homes, ((), tree)):
        steps = home.get("steps") if isinstance(home, Mapping) else None
        for name, step in steps.items() if isinstance(steps, Mapping) else ():
            if isinstance(step, Mapping):
                yield (*keys, "steps", name), step


def homes_of(tree: Any) -> Mapping[Any, KeyPath]:
    """Give the keys of each step of a tree as it is written, by its id."""
    return {keys[-1]: keys for keys, _ in steps_at(tree)}


def written_keys(homes: Mapping[Any, KeyPath], keys: KeyPath) -> KeyPath:
    """Give the keys by which a value of a record stands in its file: a step's under its part, an exit in its answer."""
    if keys[:1] != ("steps",) or len(keys) < 2 or isinstance(keys[1], int):
        return keys
    return (*homes.get(keys[1], keys[:2]), *_in_step(keys[2:]))


def _in_step(keys: KeyPath) -> KeyPath:
    match keys:
        case ("if-so" | "if-not" as look,):
            return ("yes" if look == "if-so" else "no", "looks")
        case ("exits" | "since" as field, str(answer), *_):
            block = (answer,) if answer in ANSWERS else ("verdicts", answer)
            return (*block, "then" if field == "exits" else field)
    return keys


def answer_problems(composed: Composed) -> Iterator[Problem]:
    """Find a step written twice, and answers that lead nowhere, two ways, or the way of another without the reason."""
    seen: dict[str, KeyPath] = {}
    for keys, step in steps_at(composed.value):
        name = str(keys[-1])
        if name in seen:
            what = f'step "{name}" stands here again; it first stands on line {composed.places[seen[name]].line}'
            yield Problem(composed.places[keys], "duplicate-key", what, "Keep one, or give this one another id.")
        seen.setdefault(name, keys)
        if "part" in step:
            mend = "Stand the step under the heading of its part: `parts:`, the part, `steps:`."
            yield Problem(composed.places[(*keys, "part")], "unknown-key", '"part" is not a key of a step', mend)
        ways = dict(_ways(step))
        yield from _of_step(composed, keys, ways, step)


def _ways(step: Mapping[str, Any]) -> Iterator[tuple[str, tuple[KeyPath, Mapping[str, Any]]]]:
    verdicts = step.get("verdicts") if "measure" in step else None
    for name, way in verdicts.items() if isinstance(verdicts, Mapping) else ():
        if isinstance(way, Mapping):
            yield name, (("verdicts", name), way)
    for name in ANSWERS:
        if isinstance(way := step.get(name), Mapping):
            yield name, ((name,), way)


def _of_step(composed: Composed, keys: KeyPath, ways: Ways, step: Mapping[str, Any]) -> Iterator[Problem]:
    # The verdicts of a measure may have one reason together, which would be the same for most of them.
    explained = "measure" in step and any("since" in way for _, way in ways.values())

    def needs_reason(answer: str, other: str) -> bool:
        # Whoever cannot vouch for a condition has one that does not hold: every page of a gate says so.
        return not explained and ("question" in step or (answer, other) != ("unsure", "no"))

    led_by: dict[str, str] = {}
    for answer, (at, way) in ways.items():
        then, other, since = way.get("then"), way.get("as"), way.get("since")
        what, mend, key = "", ONE_WAY, ""
        if ("then" in way) == ("as" in way):
            what = f'"{answer}" has `then:` and `as:`' if "then" in way else f'"{answer}" does not say where it leads'
        elif "since" in way and "as" not in way:
            what, mend, key = f'"{answer}" has `since:` without `as:`', ONE_WAY, "since"
        elif isinstance(then, str) and then in led_by:
            what = f'"{led_by[then]}" and "{answer}" both lead to "{then}"'
            reason = ", and the reason by `since:`" if needs_reason(answer, led_by[then]) else ""
            mend = f"Write `as: {led_by[then]}` in place of `then:`{reason}."
            key = "then"
        elif isinstance(other, str):
            what, mend = _other_way(answer, other, ways)
            key = "as"
            if not what and not since and needs_reason(answer, other):
                what, mend = (
                    f'"{answer}" goes the way of "{other}" and does not say why',
                    "Add `since:` with the reason.",
                )
        if what:
            place = composed.places[(*keys, *at, key) if key else (*keys, *at)]
            yield Problem(place, "answer-way", what, mend)
        if isinstance(then, str):
            led_by.setdefault(then, answer)


def _other_way(answer: str, other: str, ways: Ways) -> tuple[str, str]:
    """Say what is wrong with the answer whose way another goes; two empty texts where all is well."""
    others = [each for each in ways if each != answer]
    if other == answer:
        return f'"{answer}" goes its own way', f"Name another answer: {', '.join(others)}."
    if other not in ways and other in ANSWERS:
        return "", ""  # that it is not there is told once
    if other not in ways:
        what = f'"{answer}" goes the way of "{other}", which is no answer of this step'
        return what, did_you_mean(other, others, f"Its other answers are {', '.join(others)}.")
    gone = [answer]
    while other in ways and other not in gone:
        gone.append(other)
        other = str(ways[other][1].get("as"))
    if other in gone:
        circle = " -> ".join((*gone, other))
        return f"the answers go each other's ways in a circle: {circle}", "Give one of them a step by `then:`."
    return "", ""
