"""What an outline is made of: sections of entries, each with its places and notes."""

from __future__ import annotations

from typing import NamedTuple

from build_tools.review.words.sentences import Part, Placed

VERSIONS = "Versions to state"
"""The title of the proposals."""


class Note(NamedTuple):
    """A line below an entry, with the word that begins it."""

    word: str
    parts: tuple[Part, ...]


class Entry(NamedTuple):
    """One finding, or several of one thing."""

    words: str
    places: tuple[Placed, ...] = ()
    notes: tuple[Note, ...] = ()
    inner: tuple[Entry, ...] = ()
    folded: str = ""
    """What stands for the inner entries where they are folded; they are shown open where there is nothing."""


class Section(NamedTuple):
    """One section."""

    name: str
    title: str
    entries: tuple[Entry, ...]
    findings: int
    is_open: bool
    """Whether it is never folded."""

    @property
    def is_whole(self) -> bool:
        """Tell whether it is never cut, however long it is."""
        return self.name == "safety"

    @property
    def is_folded(self) -> bool:
        """Tell whether it is folded, however short it is."""
        return self.name == "text" and bool(self.entries) and not self.is_open


class Outline(NamedTuple):
    """All that is said."""

    title: str
    warning: str
    """What has to be looked at by a second person, or agreed to; empty where nothing has."""
    agreed: tuple[str, ...]
    """Trees that lead elsewhere: why, or how to agree to it."""
    lead: str
    """The proposed step, or that nothing changed."""
    sections: tuple[Section, ...]
    """None that is empty."""
    compared: str
    """What was compared, for the sections that are not there; empty where the lead says it."""
    proposals: tuple[str, ...]
    """The version of each tree; they stand at the end, and folded."""


def plain_note(word: str, words: str) -> Note:
    """Give a note of which no words are told apart."""
    return Note(word, (Part(words, False),))


def grave_note(reason: str) -> tuple[Note, ...]:
    """Give the note of why somebody must look at a finding; none where nobody must."""
    return (plain_note("grave", reason),) if reason else ()
