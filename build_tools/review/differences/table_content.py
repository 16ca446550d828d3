"""The other tables: what cautions, gates and hazards say besides safety, vocabulary, settings, terms, sources."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from build_tools.model import Source
from build_tools.review.differences.fields import Difference, differences
from build_tools.review.differences.findings import TEXT, At, Found, Thing, come_and_gone
from build_tools.review.record.changes import Row, Spot
from build_tools.review.versions.matching import Match, aligned, plain
from build_tools.sources.library import table_path

OF_SAFETY = frozenset(
    (
        *("signal", "answers", "hazard", "consequence", "avoidance", "stop_when", "call"),
        *("opens", "roofs", "all_of", "ends_when", "minutes", "if_not", "cautions", "least_signal", "where", "acts"),
    )
)
"""What `safety` compares."""
OF_TEXT = TEXT | {"term", "means", "publisher", "kind", "seen", "states", "address", "label", "source"}


def table_content(match: Match) -> Iterator[Found]:
    """Find what differs in the tables, but for what cautions, gates and hazards say of safety."""
    before, after = match.before, match.after
    yield from _kept(match, "caution", before.cautions, after.cautions, match.cautions)
    yield from _kept(match, "gate", before.gates, after.gates, match.gates)
    yield from _kept(match, "hazard", before.hazards, after.hazards, {})
    yield from _condition_sources(match)
    for word, old, new in (("term", before.terms, after.terms), ("source", before.sources, after.sources)):
        yield from _whole(match, word, old, new)
    for name in dict.fromkeys((*before.data, *after.data)):
        yield from _data(match, name)
    yield from _vocabulary(match)
    at = At(table_path("settings"))
    yield from Thing(match, "values", "settings", at, at, ()).fields(before.settings, after.settings)
    yield from _drawings(match)


def _vocabulary(match: Match) -> Iterator[Found]:
    at = At(table_path("vocabulary"))
    for what in differences(match.before.vocabulary, match.after.vocabulary, frozenset()):
        trees = match.trees(what.field, str(what.keys[-1]))
        yield "values", Thing(match, "values", "vocabulary", at, at, trees).row(what)


def _data(match: Match, table: str) -> Iterator[Found]:
    """Find what differs in a table that formulas reckon with."""
    before, after = match.before.data.get(table, {}), match.after.data.get(table, {})
    using = [name for name, formula in match.formulas.items() if table in formula.tables]
    trees = tuple(sorted({tree for name in using for tree in match.trees("formula", name)}))
    path = table_path(table)

    def thing(name: str) -> Thing:
        place = At(path, (name,))
        return Thing(match, "values", f'table {table}, row "{name}"', place, place, trees, OF_TEXT)

    things = {name: thing(name) for name in before.keys() ^ after.keys()}
    titles = [{name: plain(row.label) for name, row in each.items()} for each in (before, after)]
    yield from (("values", row) for row in come_and_gone(things, titles[0], titles[1], {}))
    for name in before:
        if name in after:
            yield from thing(name).fields(before[name], after[name])


def _thing(match: Match, word: str, old: str, new: str) -> Thing:
    path = table_path(f"{word}s")
    name = " = ".join(sorted({old, new}))
    return Thing(
        match, "values", f'{word} "{name}"', At(path, (old,)), At(path, (new,)), match.trees(word, old), OF_TEXT
    )


def _kept(
    match: Match, word: str, before: Mapping[str, BaseModel], after: Mapping[str, BaseModel], names: Mapping[str, str]
) -> Iterator[Found]:
    skip = OF_SAFETY | ({"title"} if word == "gate" else set())
    for name, old in before.items():
        if name in after:
            yield from _thing(match, word, name, name).fields(old, after[name], skip)
        elif name in names:
            row = _thing(match, word, name, names[name]).row(Difference("id", (), name, names[name]))
            yield "text", row.model_copy(update={"detail": "id"})


def _condition_sources(match: Match) -> Iterator[Found]:
    for name, old in match.before.gates.items():
        new = match.after.gates.get(name)
        pairs = aligned(old.all_of, new.all_of, lambda each: plain(each.holds)) if new else ()
        for here, there in pairs:
            if new and here is not None and there is not None:
                at = tuple(At(table_path("gates"), (name, "all-of", number)) for number in (here, there))
                thing = Thing(match, "values", f'gate "{name}", condition', at[0], at[1], match.trees("gate", name))
                yield from thing.fields(old.all_of[here], new.all_of[there], frozenset(("holds", "tell", "on")))


def _whole(match: Match, word: str, before: Mapping[str, BaseModel], after: Mapping[str, BaseModel]) -> Iterator[Found]:
    things = {name: _thing(match, word, name, name) for name in dict.fromkeys((*before, *after))}
    titles = tuple({name: _title(each) for name, each in table.items()} for table in (before, after))
    yield from (("text", row) for row in come_and_gone(things, titles[0], titles[1], {}))
    for name, old in before.items():
        if name in after:
            yield from things[name].fields(old, after[name])


def _title(entry: BaseModel) -> str:
    return plain(entry.title if isinstance(entry, Source) else str(getattr(entry, "term", "")))


def _drawings(match: Match) -> Iterator[Found]:
    held = match.before.drawings, match.after.drawings
    for name in sorted(held[0] ^ held[1]):
        place = Spot(path=f"guide/drawings/{name}.svg", line=1)
        subject = f'drawing "{name}"'
        if name in held[0]:
            yield "text", Row(change="removed", subject=subject, before=name, spot_before=place)
        else:
            yield "text", Row(change="added", subject=subject, after=name, spot_after=place)
