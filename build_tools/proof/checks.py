"""The proof: a draft in, a CheckedGuide or every problem out. The only maker of a CheckedGuide."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic import BaseModel

from build_tools.model import every_value
from build_tools.model.problems import (
    RULES,
    Finding,
    KeyPath,
    Place,
    Problem,
    did_you_mean,
    first_errors,
    has_errors,
    in_order,
    nearest,
)
from build_tools.proof.drawing_numbers import drawing_numbers
from build_tools.proof.rules.cases import cases
from build_tools.proof.rules.flow import flow
from build_tools.proof.rules.hazards_read import hazards_read
from build_tools.proof.rules.ladders import ladders
from build_tools.proof.rules.panes import pane_chapter, panes
from build_tools.proof.rules.published_numbers import published_numbers
from build_tools.proof.rules.references import references
from build_tools.proof.rules.runs import runs
from build_tools.proof.rules.safety import safety
from build_tools.proof.rules.sense import sense
from build_tools.proof.rules.take_offs import take_offs
from build_tools.proof.stand_ins import WARNING_TABLES, with_stand_ins, without
from build_tools.proof.versions import versions
from build_tools.sources.compose import at_most
from build_tools.sources.guide_files import chapters_of, drawings_of, guide_problems, guide_texts
from build_tools.sources.library import Draft, Files, read_library, remedy_path, table_path, tree_path
from build_tools.sources.source import SourceFile

ALL_RULES = (references, flow, runs, safety, ladders, sense, take_offs, versions)
CONTENT_RULES = (cases, hazards_read, panes, published_numbers)
"""What is held to stated cases and readings once nothing stops the guide: mending an error may settle it."""
Waiver = tuple[str, KeyPath, str]
"""The file and keys at which a rule is waived, and its code."""
WAITS_FOR: Mapping[str, tuple[str, ...]] = {
    "cautions": ("unknown-caution", "hazard-unanswered"),
    "gates": ("unknown-gate",),
    "hazards": ("unknown-hazard", "hazard-unanswered", "signal-too-mild"),
    "sources": ("unknown-source",),
    "terms": ("unknown-term",),
    "vocabulary": ("unknown-fact", "does-not-suit", "gate-does-not-fit"),
}
"""What cannot be judged while a table cannot be read: it would blame every file that names what the table holds."""
FINDS_LESS: Mapping[str, tuple[str, ...]] = {
    "cautions": ("signal-too-mild",),
    "gates": ("ungated", "refused-leads-up", "gate-does-not-fit"),
    "sources": ("source-mark",),
}
"""What is judged without what the table would add: a gate that cannot be read is taken to open whatever is needed."""
TABLES = Path(table_path("")).parent
WAITS_FOR_ALL = ("version-not-raised", "orphan-remedy", "idle-accept")
"""What is told only when nothing stops the guide: mending an error may settle it."""


@dataclass(frozen=True, slots=True)
class CheckedGuide:
    """A draft without errors. Later stages need no guards: every id in it names something."""

    draft: Draft


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check found: the guide when nothing stops it, and all problems in order."""

    guide: CheckedGuide | None
    problems: tuple[Problem, ...]
    sources: Mapping[str, SourceFile]


def check(root: Path, known: Files | None = None) -> Checked:
    """Read and prove everything under a project folder.

    known: files of the same paths that were parsed already; where the text is still the same, so is what it says.
    """
    draft, sources, shape = read_library(root, known)
    texts = tuple(guide_texts(root))
    shape = (*shape, *guide_problems(texts))
    numbers = (each for drawing in drawings_of(texts) for each in at_most(drawing_numbers(drawing, draft)))
    tries = (each for chapter in chapters_of(texts) for each in at_most(pane_chapter(chapter, draft)))
    problems = in_order((*_with_waiting(draft, shape), *_judged(draft, has_errors(shape)), *numbers, *tries))
    guide = None if has_errors(problems) else CheckedGuide(draft)
    read = (*sources, *(each for each in texts if isinstance(each, SourceFile)))
    return Checked(guide, problems, {each.path: each for each in read})


def is_read(path: Path) -> bool:
    """Tell whether a check reads anything at a path from the project folder, or below it."""
    return any(path.is_relative_to(folder) or Path(folder).is_relative_to(path) for folder in ("trees", "guide"))


@dataclass(frozen=True, slots=True)
class Beside:
    """What is whole, though other files have errors."""

    guide: CheckedGuide | None
    """What passes the proof by itself, with stand-ins for what it names and was left out; None where nothing can."""
    left_out: Mapping[str, Problem]
    """By path: the first error of each file that has one."""


def check_beside(root: Path) -> Beside:
    """Prove what is whole beside files with errors, for those who write the guide; a site is never made of it."""
    draft, _, shape = read_library(root)
    left_out = first_errors((*shape, *_judged(draft, has_errors(shape))))
    found: Mapping[str, Problem] = left_out
    while found:
        if draft.unread.intersection(WARNING_TABLES) or not left_out.keys().isdisjoint(map(table_path, WARNING_TABLES)):
            return Beside(None, left_out)
        draft = without(draft, left_out)
        # An error may hide another: whether a remedy suits, say, is not known where a walk goes round in a circle.
        found = {path: each for path, each in first_errors(_judged(draft, True)).items() if path not in left_out}
        left_out = {**left_out, **found}
    return Beside(CheckedGuide(with_stand_ins(draft)), left_out)


def _judged(draft: Draft, stopped: bool) -> Iterator[Problem]:
    waivers = set(_waivers(draft))
    findings = [finding for rule in ALL_RULES for finding in rule(draft)]
    stopped = stopped or any(RULES[each.code].severity == "error" for each in findings)
    if not stopped:
        findings += [finding for rule in CONTENT_RULES for finding in rule(draft)]
    used = {waiver for finding in findings for waiver in _waivers_of(finding) if waiver in waivers}
    waiting = {code for table in draft.unread for code in WAITS_FOR.get(table, ())}
    told = [each for each in findings if each.code not in waiting and used.isdisjoint(_waivers_of(each))]
    if stopped:
        told = [each for each in told if each.code not in WAITS_FOR_ALL]
    else:
        told += _idle(waivers - used)
    errors: dict[str, list[Finding]] = defaultdict(list)
    for each in (*told, *_misnamed(waivers)):
        if RULES[each.code].severity == "error":
            errors[each.path].append(each)
        else:
            yield _placed(draft, each)
    for together in errors.values():
        yield from at_most(_placed(draft, each) for each in together)


def _with_waiting(draft: Draft, shape: Iterable[Problem]) -> Iterator[Problem]:
    """Say with the first error of each file that cannot be read what is not judged for it."""
    first = first_errors(shape)
    for each in shape:
        waiting = _waiting(draft, Path(each.place.path)) if each == first.get(each.place.path) else ""
        yield replace(each, mend=f"{each.mend} {waiting}") if waiting else each


def _waiting(draft: Draft, file: Path) -> str:
    if file.parent == TABLES.parent and file.stem in draft.named["trees"] - draft.trees.keys():
        return "Until this tree can be read, the ways that lead through it are not judged."
    table = nearest(file.stem, draft.unread) if file.parent == TABLES else ""
    codes = (*WAITS_FOR.get(table, ()), *FINDS_LESS.get(table, ()))
    return f"Until this table can be read, these rules say nothing, or not all: {', '.join(codes)}." if codes else ""


def _waivers_of(finding: Finding) -> Iterator[Waiver]:
    """Give every waiver that would cover a finding: at its value, or at one around it."""
    if waivable(finding.code):
        for length in range(len(finding.keys) + 1):
            yield finding.path, finding.keys[:length], finding.code


def waivable(code: str) -> bool:
    """Tell whether a rule may be waived: the warnings, but for those of proofs."""
    rule = RULES.get(code)
    return rule is not None and rule.severity == "warning" and not rule.proves


def _placed(draft: Draft, finding: Finding) -> Problem:
    place = draft.files[finding.path].place(finding.keys) if finding.path in draft.files else Place(finding.path, 1, 1)
    mend = finding.mend if isinstance(finding.mend, str) else finding.mend()
    return Problem(place, finding.code, finding.what, mend)


def _waivers(draft: Draft) -> Iterator[Waiver]:
    """Give every waiver of trees and remedies; nothing else takes any."""
    held: Iterable[tuple[str, BaseModel]] = (
        *((tree_path(name), each) for name, each in draft.trees.items()),
        *((remedy_path(name), each) for name, each in draft.remedies.items()),
    )
    for path, record in held:
        for keys, value in every_value(record):
            for code in getattr(value, "accept", ()) if isinstance(value, BaseModel) else ():
                yield path, keys, code


def _idle(waivers: Iterable[Waiver]) -> Iterator[Finding]:
    for path, keys, code in waivers:
        if waivable(code):
            what = f'nothing here breaks "{code}"'
            yield Finding("idle-accept", path, (*keys, "accept", code), what, "Take the waiver out.")


def _misnamed(waivers: Iterable[Waiver]) -> Iterator[Finding]:
    codes = [code for code in RULES if waivable(code)]
    for path, keys, code in waivers:
        if code not in codes:
            what = f'"{code}" is not a rule that can be waived'
            mend = did_you_mean(code, codes, "Put the cause right instead.")
            yield Finding("idle-accept", path, (*keys, "accept", code), what, mend)
