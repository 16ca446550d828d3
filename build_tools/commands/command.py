"""What a command is, what it says when it is done, and whom it speaks to while it runs."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass

from build_tools.progress import Tell


@dataclass(frozen=True, slots=True)
class Said:
    """What a command says and how it ends: 0 good, 1 findings, 2 wrong use."""

    text: str
    code: int = 0
    aside: str = ""
    """What it left out and why, for whoever sits there and not for the program that reads its answer."""
    is_refusal: bool = False
    """Whether the text, too, is for whoever sits there."""


class Refused(Exception):
    """A command that cannot go on; it ends with what it said."""

    def __init__(self, text: object, code: int = 2, aside: str = "") -> None:
        super().__init__(text)
        self.said = Said(str(text), code, aside, is_refusal=True)


@dataclass(frozen=True, slots=True)
class Talk:
    """Whom a command speaks to before it is done."""

    say: Callable[[object], None]
    """Prints at once."""
    aside: Callable[[object], None]
    """Prints for whoever sits there, and not for the program that reads what is said."""
    ask: Callable[[str], str]
    """Gives the line that is typed after a prompt; empty at the end of input."""
    tell: Tell
    """Hears what long work is doing."""


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


def no_arguments(parser: argparse.ArgumentParser) -> None:
    """Add nothing: the command takes none."""


def add_format(parser: argparse.ArgumentParser) -> None:
    """Let the answer be text for people or JSON for programs."""
    parser.add_argument("--format", choices=("text", "json"), default="text")


def add_inputs(parser: argparse.ArgumentParser, help: str) -> None:
    """Take inputs of a formula, and the form of the answer."""
    parser.add_argument("inputs", nargs="*", metavar="input=value", help=help)
    add_format(parser)


def split_answers(typed: str | None) -> list[str]:
    """Give the answers of a walk that were typed with commas between."""
    return [each.strip() for each in (typed or "").split(",") if each.strip()]
