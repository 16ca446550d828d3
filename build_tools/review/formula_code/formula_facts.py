"""What formulas say of themselves, compared: which came and went, and their inputs, outputs and verdicts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.formulas.numbers import quantity
from build_tools.review.differences.findings import Found
from build_tools.review.formula_code.formula_runs import FormulaTold, InputTold
from build_tools.review.record.changes import Row, Spot, change_of
from build_tools.review.versions.matching import Match, plain

Told = Mapping[str, FormulaTold]


def formula_facts(match: Match, before: Told, after: Told) -> Iterator[Found]:
    """Find formulas that came or went, and what differs in what the others ask for and give."""
    for name in dict.fromkeys((*before, *after)):
        old, new = before.get(name), after.get(name)
        if old is None or new is None:
            titles = (plain(old.title) if old else None, plain(new.title) if new else None)
            yield "values", _row(match, name, "", titles, (old, new))
            continue
        facts = _facts(old), _facts(new)
        for detail in dict.fromkeys((*facts[0], *facts[1])):
            values = facts[0].get(detail), facts[1].get(detail)
            if values[0] != values[1]:
                in_words = None not in values and not detail.startswith("input ")
                yield "text" if in_words else "values", _row(match, name, detail, values, (old, new))


def _facts(told: FormulaTold) -> Mapping[str, str]:
    """Give by name all that a reader is asked for and told."""
    return {
        "title": plain(told.title),
        **{f"input {each.name}": _input_words(each) for each in told.inputs},
        **{f"output {each.name}": each.label for each in told.outputs},
        **{f"verdict {code}": plain(sentence) for code, sentence in told.verdicts.items()},
    }


def _input_words(told: InputTold) -> str:
    said = [_range_words(told)]
    if told.default is not None:
        said.append(f"{told.default} where it is left out")
    elif told.optional:
        said.append("may be left out")
    return "; ".join(said)


def _range_words(told: InputTold) -> str:
    if told.columns:
        columns = ", ".join(f"{each.name} {_input_words(each)}" for each in told.columns)
        return f"{quantity(told.low, '')} to {quantity(told.high, '')} lines, each with {columns}"
    if told.choices:
        return f"one of {', '.join(told.choices)}"
    return f"{'whole, ' if told.whole else ''}{quantity(told.low, '')} to {quantity(told.high, told.unit)}"


def _row(
    match: Match,
    name: str,
    detail: str,
    values: tuple[str | None, str | None],
    told: tuple[FormulaTold | None, FormulaTold | None],
) -> Row:
    spots = [Spot(path=each.path, line=each.line) if each else None for each in told]
    return Row(
        change=change_of(*values),
        subject=f'formula "{name}"',
        detail=detail,
        before=values[0],
        after=values[1],
        spot_before=spots[0],
        spot_after=spots[1],
        trees=match.trees("formula", name),
    )
