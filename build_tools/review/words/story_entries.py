"""Stories that end elsewhere, in words: those that part at one answer and now end alike stand together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from build_tools.review.record.told import Story, StoryEnd
from build_tools.review.words.entries import Entry, Note, grave_note, plain_note
from build_tools.review.words.sentences import places_of

CASES = {
    "kept": "",
    "added": ", of a new case, which does not end as it states",
    "removed": ", of which the case was taken out",
    "changed": ", of which the case itself was changed",
}
MOST_STORIES = 6
"""Of one group; of more, how many there are."""


def story_entries(stories: Iterable[Story]) -> Iterator[Entry]:
    """Give an entry for each story; of several that part at one answer and now end alike, one entry with all."""
    for _, found in groupby(stories, key=_together):
        same = tuple(found)
        first = same[0]
        places = places_of("changed", first.spot_before, first.spot_after) or places_of("added", None, first.spot)
        if len(same) == 1:
            yield Entry(f"“{first.title}”{CASES[first.case]}", places, tuple(_notes(first)))
        else:
            parting = " that part at one answer" if first.question else ""
            words = f"{len(same):,} stories{parting}{CASES[first.case]}"
            inner = [_one_of(each) for each in same[:MOST_STORIES]]
            inner += [Entry(f"and {more:,} more")] if (more := len(same) - MOST_STORIES) > 0 else []
            yield Entry(words, places, tuple(_shared(first)), tuple(inner))


def _together(story: Story) -> object:
    return story.case, story.grave, story.after, story.states, story.step, story.answer, story.before is None


def _one_of(story: Story) -> Entry:
    was = f": it {_was_words(story.before)}" if story.before is not None else ""
    return Entry(f"“{story.title}”{was}")


def _notes(story: Story) -> Iterator[Note]:
    yield from grave_note(story.grave)
    if story.before is not None:
        yield plain_note("was", _end_words(story.before))
    yield from _now(story)


def _shared(story: Story) -> Iterator[Note]:
    yield from grave_note(story.grave)
    yield from _now(story)


def _now(story: Story) -> Iterator[Note]:
    yield plain_note("now", _end_words(story.after))
    if story.states:
        yield plain_note("states", f"ends with “{story.states}”")
    if story.question:
        answered = f", answered “{story.answer}”" if story.answer else ""
        yield plain_note("the ways part at", f"“{story.question}”{answered}")


def _was_words(end: StoryEnd) -> str:
    return f"ended with “{end.title}”" if end.kind == "remedy" else "did not come to an end"


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
