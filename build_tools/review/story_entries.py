"""Stories that end elsewhere, in words: those that part at one answer and end alike stand together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from build_tools.review.entries import Entry, Note, plain_note
from build_tools.review.sentences import places_of, some_of
from build_tools.review.told import Story, StoryEnd

CASES = {
    "kept": "",
    "added": ": a new case, which does not end as it states",
    "removed": ": the case was taken out",
    "changed": ": the case itself was changed",
}


def story_entries(stories: Iterable[Story]) -> Iterator[Entry]:
    """Give an entry for all stories that share their ends and the answer at which the ways part."""
    for _, found in groupby(stories, key=_together):
        same = tuple(found)
        first = same[0]
        titles = some_of(tuple(f"“{each.title}”" for each in same))
        places = places_of("changed", first.spot_before, first.spot_after) or places_of("added", None, first.spot)
        yield Entry(f"{titles}{CASES[first.case]}", places, tuple(_notes(first)))


def _together(story: Story) -> object:
    return story.case, story.before, story.after, story.states, story.step, story.answer


def _notes(story: Story) -> Iterator[Note]:
    if story.before is not None:
        yield plain_note("was", _end_words(story.before))
    yield plain_note("now", _end_words(story.after))
    if story.states:
        yield plain_note("states", f"ends with “{story.states}”")
    if story.question:
        answered = f", answered “{story.answer}”" if story.answer else ""
        yield plain_note("the ways part at", f"“{story.question}”{answered}")


def _end_words(end: StoryEnd) -> str:
    if end.kind == "remedy":
        return f"ends with “{end.title}”"
    if end.kind == "question":
        return f"can go no further than “{end.title}”: it has no answer to that"
    return (
        f"is led to “{end.title}”, which is not there"
        if end.kind == "missing"
        else "begins in a tree that is not there"
    )
