"""Stated cases walked in both versions: whose story ends elsewhere, and at which answer the ways part.

A case is walked by what its reader knows: at each step the answer that it states for that step, in whichever
order the steps now come. So it ends as before where questions only changed their order, and stops where a step
asks what the case says nothing of.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from build_tools.model import Case
from build_tools.proof.case_walks import answers_of
from build_tools.proof.draft_walks import Circle, draft_walks
from build_tools.proof.graph import Node
from build_tools.proof.walk import Stop, WalkData, WrongAnswer, follow
from build_tools.review.record.facts import Spot
from build_tools.review.record.told import Story, StoryEnd
from build_tools.review.versions.matching import Match
from build_tools.review.versions.places import spot
from build_tools.sources.library import Draft, case_path, tree_path

Walks = Mapping[str, WalkData]
Course = tuple[Stop, ...]
NOT_AS_STATED = "a story no longer ends as its case states"


@dataclass(frozen=True, slots=True)
class _Sides:
    """Both versions, ready to be walked."""

    match: Match
    before: Walks
    after: Walks
    back: Mapping[Node, Node]
    """Steps of the version after to what they were before."""


def stories(match: Match) -> tuple[tuple[Story, ...], tuple[str, ...]]:
    """Walk the stated cases of both versions; gives what a reviewer has to know, and why nothing was walked.

    Told are the cases that end elsewhere, those that were changed or taken out, and new ones that do not end as
    they state.
    """
    before, after = match.before.cases, match.after.cases
    if not before and not after:
        return (), ()
    try:
        walks = draft_walks(match.before), draft_walks(match.after)
    except Circle:
        return (), ("The stated cases were not walked: the ways of a version go round in a circle.",)
    back = {new: old for old, new in match.nodes.items() if not old.home.startswith("remedies/")}
    sides = _Sides(match, *walks, back)
    names = dict.fromkeys((*before, *after))
    found = (each for name in names for each in _told(sides, name))
    return tuple(sorted(found, key=_order)), ()


def _order(story: Story) -> tuple[bool, str, str, str, str, str]:
    """Put the grave first, and those together whose ways part at the same answer."""
    return not story.grave, story.step, story.answer, story.case, story.after.title, story.title


def _told(sides: _Sides, name: str) -> Iterator[Story]:
    old, new = sides.match.before.cases.get(name), sides.match.after.cases.get(name)
    was = _course(sides.before, old, {}) if old else None
    if old and new and _what(old) == _what(new):
        now = _course(sides.after, new, sides.back)
        if not _same_end(sides, was or (), now):
            yield _story(sides, name, was, now)
    elif new:
        story = _story(sides, name, was, _course(sides.after, new, {}))
        if old or story.grave:
            yield story
    elif old:
        yield _story(sides, name, was, _course(sides.after, old, sides.back))


def _what(case: Case) -> object:
    """Give all that a case states, and not how it is told."""
    return case.model_dump(exclude={"title", "facts"})


def _course(walks: Walks, case: Case, back: Mapping[Node, Node]) -> Course:
    """Walk a case; `back` gives the step that a case knows under another id. Nothing where there is no such tree."""
    if case.tree not in walks:
        return ()
    said: list[str] = []
    left = answers_of(case)
    course = follow(walks, case.tree, said)
    while (answer := _next(walks, course[-1], left, back)) is not None:
        try:
            course = follow(walks, case.tree, (*said, answer[1]))
        except WrongAnswer:
            break  # it waits at a step that no longer has this answer
        said.append(answer[1])
        left.remove(answer)
    return course


def _next(walks: Walks, stop: Stop, left: list[tuple[str, str]], back: Mapping[Node, Node]) -> tuple[str, str] | None:
    """Give the first answer that is still left for a step."""
    if not walks[stop.tree]["steps"][stop.step]["exits"]:
        return None
    known = back.get(Node(stop.tree, stop.step), Node(stop.tree, stop.step)).step
    return next((each for each in left if each[0] in (known, stop.step)), None)


def _end(course: Course, walks: Walks) -> StoryEnd:
    if not course:
        return StoryEnd(kind="nothing", name="", title="")
    last = course[-1]
    remedy = walks[last.tree]["steps"][last.step].get("remedy")
    if remedy is not None:
        return StoryEnd(kind="remedy", name=remedy, title=last.title)
    kind = "missing" if last.kind == "missing" else "question"
    return StoryEnd(kind=kind, name=f"{last.tree}/{last.step}", title=last.title)


def _same_end(sides: _Sides, was: Course, now: Course) -> bool:
    before, after = _end(was, sides.before), _end(now, sides.after)
    if before.kind == after.kind == "question":
        return _known(sides, now[-1]) == Node(was[-1].tree, was[-1].step)
    names = {before.name, sides.match.remedies.get(before.name, before.name)}
    return before.kind == after.kind and after.name in names


def _known(sides: _Sides, stop: Stop) -> Node:
    """Give a step of the version after as it was before."""
    node = Node(stop.tree, stop.step)
    return sides.back.get(node, node)


def _parting(sides: _Sides, was: Course | None, now: Course) -> tuple[Stop, Stop] | None:
    """Give the last step that both ways come to before they part, as it is in each version; nothing if they do not."""
    last = None
    if was is None or _same_end(sides, was, now):
        return None
    for here, there in zip(was, now, strict=False):
        if Node(here.tree, here.step) != _known(sides, there):
            break
        last = here, there
        if here.answer != there.answer:
            break
    return last


def _story(sides: _Sides, name: str, was: Course | None, now: Course) -> Story:
    old, new = sides.match.before.cases.get(name), sides.match.after.cases.get(name)
    told = new or old
    assert told is not None
    kept = old and new and _what(old) == _what(new)
    file = (sides.match.after if new else sides.match.before).files[case_path(name)]
    end = _end(now, sides.after)
    stated = {told.ends_in} if new and not kept else {told.ends_in, sides.match.remedies.get(told.ends_in)}
    here, there = _parting(sides, was, now) or (None, None)
    return Story(
        title=" ".join(told.title.split()),
        case="kept" if kept else "added" if old is None else "removed" if new is None else "changed",
        states=_stated(sides, new) if new and not kept and end.name not in stated else "",
        before=_end(was, sides.before) if was is not None else None,
        after=end,
        step=f"{here.tree}/{here.step}" if here else "",
        question=here.title if here else "",
        answer=(here.answer or "") if here else "",
        grave="" if end.kind == "remedy" and end.name in stated else NOT_AS_STATED,
        spot=Spot(path=case_path(name), line=file.place(("ends-in",)).line),
        spot_before=_exit_spot(sides.match.before, here, here),
        spot_after=_exit_spot(sides.match.after, there, here),
    )


def _stated(sides: _Sides, case: Case) -> str:
    remedy = sides.match.after.remedies.get(case.ends_in)
    return " ".join(remedy.title.split()) if remedy else case.ends_in


def _exit_spot(draft: Draft, stop: Stop | None, answered: Stop | None) -> Spot | None:
    """Give the place of the exit that was taken; of the step where the version does not have it."""
    if stop is None or answered is None:
        return None
    keys = ("exits", answered.answer) if answered.answer else ()
    return spot(draft, tree_path(stop.tree), ("steps", stop.step, *keys))
