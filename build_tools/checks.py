"""The proof: a draft in, a CheckedGuide or every problem out. The only maker of a CheckedGuide."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.library import Draft, read_library
from build_tools.problems import RULES, Finding, KeyPath, Place, Problem, did_you_mean, has_errors, in_order
from build_tools.rules.flow import flow
from build_tools.rules.references import references
from build_tools.rules.safety import safety
from build_tools.rules.sense import sense
from build_tools.source import SourceFile
from build_tools.versions import versions

ALL_RULES = (references, flow, safety, sense, versions)


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


def check(root: Path) -> Checked:
    """Read and prove everything under a project folder."""
    draft, sources, shape = read_library(root)
    problems = in_order((*shape, *_judged(draft)))
    guide = None if has_errors(problems) else CheckedGuide(draft)
    return Checked(guide, problems, {each.path: each for each in sources})


def _judged(draft: Draft) -> Iterator[Problem]:
    findings = [finding for rule in ALL_RULES for finding in rule(draft)]
    waivers = {(path, keys, code) for path, keys, code in _waivers(draft)}
    used = set()
    for finding in findings:
        waiver = next(
            (
                (finding.path, finding.keys[:n], finding.code)
                for n in range(len(finding.keys), -1, -1)
                if (finding.path, finding.keys[:n], finding.code) in waivers
            ),
            None,
        )
        if waiver and waivable(finding.code):
            used.add(waiver)
        else:
            yield _placed(draft, finding)
    yield from (_placed(draft, each) for each in _idle(waivers - used))


def waivable(code: str) -> bool:
    """Tell whether a rule may be waived: the warnings, and two exits to one step."""
    return code == "same-target" or (code in RULES and RULES[code].severity == "warning")


def _placed(draft: Draft, finding: Finding) -> Problem:
    place = draft.files[finding.path].place(finding.keys) if finding.path in draft.files else Place(finding.path, 1, 1)
    return Problem(place, finding.code, finding.what, finding.mend)


def _waivers(draft: Draft) -> Iterator[tuple[str, KeyPath, str]]:
    for path, parsed in draft.files.items():
        yield from _accepted(path, (), parsed.composed.value)


def _accepted(path: str, keys: KeyPath, value: Any) -> Iterator[tuple[str, KeyPath, str]]:
    if isinstance(value, Mapping):
        for code in value["accept"] if isinstance(value.get("accept"), Mapping) else ():
            yield path, keys, code
    items: Iterable[tuple[str | int, Any]] = (
        value.items() if isinstance(value, Mapping) else enumerate(value) if isinstance(value, tuple) else ()
    )
    for key, item in items:
        if key != "accept":
            yield from _accepted(path, (*keys, key), item)


def _idle(waivers: Iterable[tuple[str, KeyPath, str]]) -> Iterator[Finding]:
    codes = [code for code in RULES if waivable(code)]
    for path, keys, code in waivers:
        known = code in codes
        what = f'nothing here breaks "{code}"' if known else f'"{code}" is not a rule that can be waived'
        mend = "Take the waiver out." if known else did_you_mean(code, codes, "Mend the cause instead.")
        yield Finding("idle-accept", path, (*keys, "accept", code), what, mend)
