"""Problems as text for people, and as data for programs; nothing is checked here."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Mapping
from urllib.parse import quote

from build_tools.model.letters import HIDDEN, visible
from build_tools.model.problems import RULES, Problem
from build_tools.sources.source import SourceFile

Report = Callable[[tuple[Problem, ...], Mapping[str, SourceFile]], str]
LONGEST_LINE = 160
"""Letters of a source's line that a terminal shows."""


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def summary(problems: tuple[Problem, ...]) -> str:
    """Give the last line: how many errors and warnings."""
    counts = Counter(each.severity for each in problems)
    if not problems:
        return "No errors, no warnings."
    return f"{_count(counts['error'], 'error')}, {_count(counts['warning'], 'warning')}."


def as_text(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    """Show each problem with its place, the line that it stands in, the mend and the rule, each named."""
    blocks = [_block(each, sources.get(each.place.path)) for each in problems]
    return "\n".join((*blocks, summary(problems)))


def headline(problem: Problem) -> str:
    """Give the line that says where and what."""
    place = problem.place
    what = problem.what.rstrip(".")
    return _printable(f"{place.path}:{place.line}:{place.column}: {problem.severity}: {what}.")


def quotation(problem: Problem, source: SourceFile | None) -> str:
    """Give the line that a problem stands in; empty where there is none or nothing stands in it."""
    line = source.line(problem.place.line) if source else ""
    return _printable(line) if line.strip() else ""


def _block(problem: Problem, source: SourceFile | None) -> str:
    # Cut first: a file of one long line may have many problems.
    quoted = _printable(_cut(source.line(problem.place.line), problem.place.column)) if source else ""
    shown = [f"Line {problem.place.line}: {quoted}"] if quoted else []
    shown += [f"Mend: {_printable(problem.mend)}", f"Rule: {problem.code}"]
    return "\n".join((headline(problem), *(f"  {each}" for each in shown), ""))


def _cut(line: str, column: int) -> str:
    """Leave of a long line what begins at a column."""
    if len(line) <= LONGEST_LINE:
        return line.strip(" \t")
    start = max(0, min(column - 1, len(line) - LONGEST_LINE))
    part = line[start : start + LONGEST_LINE].strip(" \t")
    return f"{'… ' if start else ''}{part}{' …' if start + LONGEST_LINE < len(line) else ''}"


def _printable(text: str) -> str:
    """Show what a terminal would obey, or nobody would see, as a mark; tabs stay."""
    seen = (each if each.isprintable() or each == "\t" else "\N{REPLACEMENT CHARACTER}" for each in text)
    return visible("".join(seen))


def as_json(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    """Give the same findings as one JSON document."""
    rows = [
        {
            "path": each.place.path,
            "line": each.place.line,
            "column": each.place.column,
            "severity": each.severity,
            "code": each.code,
            "what": each.what,
            "mend": each.mend,
        }
        for each in problems
    ]
    return _json({"problems": rows, "summary": summary(problems)})


def _json(content: object) -> str:
    """Write JSON in which only letters that can be seen stand for themselves."""
    text = json.dumps(content, indent=2, ensure_ascii=False)
    return HIDDEN.sub(lambda found: json.dumps(found[0])[1:-1], text)


def as_sarif(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    """Give the same findings as a log of the Static Analysis Results Interchange Format.

    Source: OASIS, SARIF 2.1.0; a test holds the log to its JSON Schema.
    """
    rules = [
        {"id": code, "shortDescription": {"text": rule.says}, "defaultConfiguration": {"level": rule.severity}}
        for code, rule in RULES.items()
    ]
    run = {
        "tool": {"driver": {"name": "build_tools check", "rules": rules}},
        "columnKind": "unicodeCodePoints",
        "results": [_sarif_result(each) for each in problems],
    }
    return _json({"version": "2.1.0", "runs": [run]})


def _sarif_result(problem: Problem) -> Mapping[str, object]:
    place = problem.place
    spot = {
        "artifactLocation": {"uri": quote(place.path, errors="surrogateescape")},
        "region": {"startLine": place.line, "startColumn": place.column},
    }
    return {
        "ruleId": problem.code,
        "ruleIndex": list(RULES).index(problem.code),
        "level": problem.severity,
        "message": {"text": f"{problem.what.rstrip('.')}. {problem.mend}"},
        "locations": [{"physicalLocation": spot}],
    }


def as_annotations(problems: tuple[Problem, ...], sources: Mapping[str, SourceFile]) -> str:
    """Give the same findings as lines that a code host shows beside the changed files, then the summary."""
    return "\n".join((*(_annotation(each) for each in problems), summary(problems)))


def _annotation(problem: Problem) -> str:
    place = problem.place
    file = _escaped(place.path).replace(":", "%3A").replace(",", "%2C")
    said = _escaped(f"{problem.what.rstrip('.')}. {problem.mend}")
    return f"::{problem.severity} file={file},line={place.line},col={place.column},title={problem.code}::{said}"


def _escaped(text: str) -> str:
    ends = {"%": "%25", "\r": "%0D", "\n": "%0A"}
    return "".join(ends.get(each) or _printable(each) for each in text)


FORMATS: Mapping[str, Report] = {"text": as_text, "json": as_json, "sarif": as_sarif, "annotations": as_annotations}
"""The ways in which `check` can show its findings."""
