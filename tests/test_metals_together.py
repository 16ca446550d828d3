"""Which metal may stand above which: the table of run-off, and every page that says so in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pytest
from guides import ROOT, the_checked
from own_tables import DATA

from build_tools.model import DataRow, every_value
from build_tools.model.data import RunOffMetal

DRAFT = the_checked().draft
CHAPTER = (ROOT / "guide" / "materials-together.md").read_text(encoding="utf-8")
ROWS: dict[str, DataRow] = dict(DATA["run-off"])
DRAWING = (ROOT / "guide" / "drawings" / "metals-in-order.svg").read_text(encoding="utf-8")


def metal(name: str) -> RunOffMetal:
    row = ROWS[name]
    assert isinstance(row, RunOffMetal)
    return row


def listed(names: Iterable[str]) -> str:
    labels = [metal(each).label[0].lower() + metal(each).label[1:] for each in names]
    return " or ".join(filter(None, (", ".join(labels[:-1]), labels[-1])))


def rules() -> Iterator[str]:
    """Say in words what the table holds, as the pages say it."""
    for row in map(metal, ROWS):
        if row.never_above:
            yield f"{row.label} never stands above {listed(row.never_above)}"
        if row.never_by_the_sea_above:
            yield f"By the sea {row.label.lower()} never stands above {listed(row.never_by_the_sea_above)} either"
        if row.parted_above:
            above = f"Where {row.label.lower()} stands above {listed(row.parted_above)}"
            yield f"{above}, part the two, or ask the maker of the lower sheet"


def test_names_in_the_table_are_rows_of_it() -> None:
    for row in map(metal, ROWS):
        assert {*row.never_above, *row.never_by_the_sea_above, *row.parted_above} <= ROWS.keys()


def test_nothing_is_said_twice_of_two_metals() -> None:
    for row in map(metal, ROWS):
        said = (*row.never_above, *row.never_by_the_sea_above, *row.parted_above)
        assert len(said) == len(set(said))


@pytest.mark.parametrize("rule", list(rules()))
def test_chapter_and_remedy_say_what_the_table_holds(rule: str) -> None:
    remedy = " ".join(str(text) for _, text in every_value(DRAFT.remedies["part-unlike-metals"]))
    assert rule in CHAPTER
    assert rule in " ".join(remedy.split())


def test_chapter_and_drawing_give_the_order_of_the_table() -> None:
    order = [row.label for row in map(metal, ROWS) if row.in_series]
    table = CHAPTER[CHAPTER.index("| Order | Metal |") : CHAPTER.index("So water may run")].lower()
    places = [table.index(label.lower()) for label in order]
    assert places == sorted(places)
    drawn = [
        said for said in re.findall(r"<text[^>]*>([^<]*)</text>", DRAWING) if said in {each.lower() for each in order}
    ]
    assert drawn[: len(order)] == [label.lower() for label in order]


FORBIDS = re.compile(r"\b(never|no|not)\b", re.IGNORECASE)
OVER = re.compile(r"\b(above|on to|over)\b")
BASE = {"zinc": "zinc", "galvanised steel": "galvanised-steel", "aluminium": "aluminium"}


def forbidden(text: str) -> Iterator[str]:
    """Find sentences that forbid a metal above another which the table does not."""
    without = text.replace("coated with aluminium and zinc", "coated")
    for said in re.split(r"(?<=[.:;?!])\s+", " ".join(without.split())):
        if not (FORBIDS.search(said) and OVER.search(said)):
            continue
        below = {BASE[each] for each in BASE if re.search(rf"\b{each}\b", said)}
        for upper in ("copper", "lead"):
            names_it = re.search(rf"\b{upper}\b.*\b(above|on to|over)\b", said, re.IGNORECASE)
            by_the_sea = metal(upper).never_by_the_sea_above if re.search(r"by the sea", said, re.IGNORECASE) else ()
            if names_it and not below <= {*metal(upper).never_above, *by_the_sea}:
                yield said


def texts() -> Iterator[str]:
    for record in (*DRAFT.trees.values(), *DRAFT.remedies.values()):
        yield from (text for _, text in every_value(record) if isinstance(text, str))
    for path in sorted((ROOT / "guide").glob("*.md")):
        yield from path.read_text(encoding="utf-8").split("\n")


def test_no_page_forbids_what_the_table_allows() -> None:
    assert [said for text in texts() for said in forbidden(text)] == []


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("No water runs from copper or lead on to zinc, galvanised steel or aluminium.", True),
        ("Lead never stands above aluminium.", True),
        ("Copper never stands above zinc.", False),
        ("By the sea lead never stands above aluminium either.", False),
        ("No copper above zinc or aluminium.", False),
    ],
)
def test_a_page_that_forbids_more_is_found(said: str, wrong: bool) -> None:
    assert bool(list(forbidden(said))) is wrong
