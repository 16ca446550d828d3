"""What a command is, what it says when it is done, and whom it speaks to while it runs."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from typing import TypeVar

from build_tools.model.problems import did_you_mean
from build_tools.progress import Tell

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Said:
    """What a command says and how it ends: 0 good, 1 findings, 2 wrong use."""

    text: str | None = None
    """Its answer, which another program may read; nothing where it has none, or has said all of it."""
    code: int = 0
    aside: str = ""
    """For whoever sits there: what was left out, or why there is no answer."""


class Refused(Exception):
    """A command that cannot go on; it ends with what it said."""

    def __init__(self, text: str, code: int = 2) -> None:
        super().__init__(text)
        self.said = Said(code=code, aside=text)


@dataclass(frozen=True, slots=True)
class Talk:
    """Whom a command speaks to before it is done."""

    say: Callable[[str], None]
    """Prints a part of the answer."""
    aside: Callable[[str], None]
    """Prints for whoever sits there, and not for the program that reads the answer; nothing if empty."""
    ask: Callable[[str], str]
    """Gives the line that is typed after a prompt; empty at the end of input."""
    progress: Callable[[], AbstractContextManager[Tell]]
    """Gives what hears of long work; its line is gone when the work is done, and before anything is printed."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name, what it is for in a line, its arguments, and what it does."""

    name: str
    help: str
    arguments: Callable[[argparse.ArgumentParser], object]
    run: Callable[[argparse.Namespace, Talk], Said]
    """Raises Refused."""
    description: str | None = None
    """More than the line, for its own help."""


@contextmanager
def refusing(*errors: type[Exception], code: int = 2) -> Iterator[None]:
    """End the command with the words of an error that is raised inside."""
    try:
        yield
    except errors as error:
        raise Refused(str(error), code) from None


def look_up(name: str, known: Mapping[str, T], one: str, many: str) -> T:
    """Give what a name stands for; refuse one that is not known, with advice.

    one, many: what is looked for, as `tree` and `trees`.
    """
    if name not in known:
        advice = did_you_mean(name, known, f"The {many} are: {', '.join(known)}.")
        raise Refused(f'"{name}" is not a {one}. {advice}')
    return known[name]


def no_arguments(parser: argparse.ArgumentParser) -> None:
    """Add nothing: the command takes none."""


def add_format(parser: argparse.ArgumentParser) -> None:
    """Let the answer be text for people or JSON for programs."""
    parser.add_argument("--format", choices=("text", "json"), default="text")


def in_format(chosen: argparse.Namespace, as_text: T, as_json: T) -> T:
    """Give the one of two ways to write an answer that was asked for."""
    return as_json if chosen.format == "json" else as_text


def add_inputs(parser: argparse.ArgumentParser, help: str) -> None:
    """Take inputs of a formula, and the form of the answer."""
    parser.add_argument("inputs", nargs="*", metavar="input=value", help=help)
    add_format(parser)


def split_answers(typed: str | None) -> list[str]:
    """Give the answers of a walk that were typed with commas between."""
    return [each.strip() for each in (typed or "").split(",") if each.strip()]
