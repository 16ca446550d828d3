"""The first draft of a tree or remedy as text: every key that it needs, each blank saying what belongs there.

What a blank says is the description of its key in the model, so that the two cannot differ.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from enum import StrEnum
from typing import Literal, get_args, get_origin

from build_tools.model import Action, Answer, Record, Remedy, RemedyStep, Tree, WrittenQuestion, key_of
from build_tools.model.remedies import Material, Suits
from build_tools.sources.blanks import BLANK
from build_tools.sources.library import remedy_path, tree_path

PROSE = ("about", "look", "looks", "why", "cures", "do", "water_leaves", "prove", "look_again", "record")
"""Fields that get a block of their own, where a colon does no harm."""
SCHEMA = "# yaml-language-server: $schema={}schema/{}.schema.json"


def scaffold(name: str, kind: str, today: date) -> tuple[str, str]:
    """Give the path and text of a new file; kind is "tree" or "remedy"."""
    if kind == "tree":
        return tree_path(name), "\n".join((*_tree(today), ""))
    return remedy_path(name), "\n".join((*_remedy(), ""))


def _tree(today: date) -> Iterator[str]:
    yield SCHEMA.format("", "tree")
    yield from _blank(Tree, "title")
    yield from ("version: 1.0.0", f"revised: {today}")
    yield from _blank(Tree, "about")
    yield from ("starts-at: first-question", "steps:", "  first-question:")
    for field in ("question", "where", "effort", "look"):
        yield from _blank(WrittenQuestion, field, 4)
    for answer in ("yes", "no"):
        yield from (f"    {answer}:", *_blank(Answer, "looks", 6), f"      then: when-{answer}")
    yield "    unsure: {then: when-unsure}"
    yield from _blank(WrittenQuestion, "why", 4)
    for answer in ("yes", "no", "unsure"):
        yield f"  when-{answer}:"
        yield from _blank(RemedyStep, "remedy", 4)


def _remedy() -> Iterator[str]:
    yield SCHEMA.format("../", "remedy")
    yield from _blank(Remedy, "title")
    yield from _blank(Remedy, "cures")
    yield "suits:"
    yield from (*_items(Suits, "covering", 2), *_items(Suits, "light", 2))
    for field in ("lasts", "who", "glass"):
        yield from _blank(Remedy, field)
    yield from _items(Remedy, "tools")
    yield "materials:"
    yield from _entry((*_blank(Material, "item", 4), *_blank(Material, "quantity", 4)))
    yield "steps:"
    yield from _entry((*_blank(Action, "do", 4), *_blank(Action, "where", 4)))
    yield from _blank(Remedy, "water_leaves")
    yield from _items(Remedy, "cautions")
    for field in ("prove", "after_failed_proof", "look_again", "record"):
        yield from _blank(Remedy, field)


def _asked(record: type[Record], field: str) -> str:
    """Say what belongs in a field, with the words to choose from where they are few."""
    info = record.model_fields[field]
    choices: tuple[str, ...] = ()
    if get_origin(info.annotation) is Literal:
        choices = get_args(info.annotation)
    elif isinstance(info.annotation, type) and issubclass(info.annotation, StrEnum):
        choices = tuple(info.annotation)
    of_these = (f"One of {', '.join(choices)}.",) if choices else ()
    optional = () if info.is_required() else ("None needed: take it out.",)
    return " ".join((BLANK, info.description or "", *of_these, *optional))


def _blank(record: type[Record], field: str, indent: int = 0) -> Iterator[str]:
    space = " " * indent
    if field in PROSE:
        yield from (f"{space}{key_of(field)}: >-", f"{space}  {_asked(record, field)}")
    else:
        yield f'{space}{key_of(field)}: "{_asked(record, field)}"'


def _items(record: type[Record], field: str, indent: int = 0) -> Iterator[str]:
    space = " " * indent
    yield from (f"{space}{key_of(field)}:", f'{space}  - "{_asked(record, field)}"')


def _entry(lines: tuple[str, ...]) -> Iterator[str]:
    """Make the lines of a record, indented by 4, the item of a list."""
    yield f"  - {lines[0].lstrip()}"
    yield from lines[1:]
