"""Trees in the form before answers were blocks: how they are known, and their text in the form of now.

Before, a question had `if-so:`, `if-not:` and `exits:`, a waiver of `same-target` held the reason why two answers
led to one step, and each step named its `part:`.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from build_tools.model import ANSWERS
from build_tools.model.problems import KeyPath, Problem
from build_tools.sources.answers import steps_at
from build_tools.sources.compose import Composed, compose
from build_tools.sources.source import SourceFile

OLD_KEYS = ("exits", "if-so", "if-not")
WIDEST = 120
"""A block or list of at most so many columns stands in one line."""
_NEEDS_QUOTES = re.compile(r"[,\[\]{}]|: |:$| #|^[-?:&*!|>%@`\"'#]")
_SCALAR_LINE = re.compile(r"(\s*)(?:- )?([a-z0-9-]+): (?![>|])(.+)\n")


def old_form(composed: Composed) -> Problem | None:
    """Tell of a tree that is still in the old form, at the first of its old keys."""
    old: list[KeyPath] = [("parts",)] if _are_titles(composed.value.get("parts")) else []
    old += [(*keys, key) for keys, step in steps_at(composed.value) for key in OLD_KEYS if key in step]
    if not old:
        return None
    place = min((composed.places[keys] for keys in old), key=lambda each: (each.line, each.column))
    what = "this tree is in the old form, before answers were blocks and parts were headings"
    return Problem(place, "old-form", what, f"Run `python -m build_tools migrate {place.path}`, which writes it anew.")


def _are_titles(parts: Any) -> bool:
    return isinstance(parts, Mapping) and bool(parts) and all(isinstance(each, str) for each in parts.values())


def in_new_form(source: SourceFile) -> str:
    """Give the text of a tree in the form of now; the text as it is where it is no tree of the old form.

    Comments, the order of keys and the folding of texts stay. Steps come to stand under the heading of their part.
    What stands between brackets was not in the old form: a tree with its old keys there stays as it is.
    """
    composed, _ = compose(source)
    if composed is None or not isinstance(composed.value, Mapping) or old_form(composed) is None:
        return source.text
    lines = [f"{line}\n" for line in source.lines]
    try:
        text = _Writer(composed, lines if source.lines[-1] else lines[:-1]).text()
    except _InBrackets:
        return source.text
    return text.replace("\n", "\r\n") if "\r\n" in source.text else text


Lines = list[str]


class _InBrackets(Exception):
    """Two keys stand in one line."""


@dataclass(frozen=True, slots=True)
class _Writer:
    composed: Composed
    lines: Lines

    def text(self) -> str:
        tree: Mapping[str, Any] = self.composed.value
        top = self.chunks((), 0, len(self.lines))
        begin = min(start for start, _ in top.values())
        made = {key: self.lines[start:end] for key, (start, end) in top.items()}
        steps = {keys: self.step(keys, *span) for keys, span in self.steps(top)}
        if _are_titles(tree.get("parts")) and isinstance(tree.get("steps"), Mapping):
            made |= self.under_parts(top, {str(keys[-1]): lines for keys, lines in steps.items()})
        else:
            made |= self.in_place(top, steps)
        return "".join((*self.lines[:begin], *(line for lines in made.values() for line in lines)))

    def chunks(self, keys: KeyPath, start: int, end: int) -> dict[str, tuple[int, int]]:
        """Give for each key of a mapping the lines that it takes, with the comments right above it."""
        value = self.composed.value
        for key in keys:
            value = value[key]
        starts = []
        for key in value:
            place = self.composed.places[(*keys, key)]
            margin = " " * (place.column - 1) + "#"
            at = place.line - 1
            while at > start and self.lines[at - 1].startswith(margin):
                at -= 1
            starts.append(at)
        if sorted(set(starts)) != starts:
            raise _InBrackets
        return dict(zip(value, zip(starts, (*starts[1:], end), strict=True), strict=True))

    def steps(self, top: Mapping[str, tuple[int, int]]) -> Iterator[tuple[KeyPath, tuple[int, int]]]:
        """Give the lines of every step, by its keys."""
        homes: dict[KeyPath, tuple[int, int]] = {("steps",): top["steps"]} if "steps" in top else {}
        for part, span in (self.chunks(("parts",), *top["parts"]) if "parts" in top else {}).items():
            if isinstance(self.composed.value["parts"][part], Mapping):
                homes[("parts", part, "steps")] = self.chunks(("parts", part), *span)["steps"]
        for home, span in homes.items():
            yield from (((*home, name), lines) for name, lines in self.chunks(home, *span).items())

    def in_place(self, top: Mapping[str, tuple[int, int]], steps: Mapping[KeyPath, Lines]) -> Mapping[str, Lines]:
        spans = dict(self.steps(top))
        made = {}
        for key in top.keys() & {"parts", "steps"}:
            at, end = top[key]
            lines: Lines = []
            for keys, (start, stop) in spans.items():
                if keys[0] == key:
                    lines += (*self.lines[at:start], *steps[keys])
                    at = stop
            made[key] = [*lines, *self.lines[at:end]]
        return made

    def under_parts(self, top: Mapping[str, tuple[int, int]], steps: Mapping[str, Lines]) -> Mapping[str, Lines]:
        """Put each step under the heading of its part; what names no part stays under `steps:`."""
        parts = self.chunks(("parts",), *top["parts"])
        written = self.composed.value["steps"]
        part_of = {name: step.get("part") if isinstance(step, Mapping) else None for name, step in written.items()}
        apart = any(not lines[-1].strip() for lines in steps.values())
        lines = self.lines[top["parts"][0] : min(start for start, _ in parts.values())]
        for part, (start, end) in parts.items():
            heading = [line for line in self.lines[start:end] if line.strip()]
            at = next(i for i, line in enumerate(heading) if not line.lstrip().startswith("#"))
            title = heading[at].replace(f"{part}:", "  title:", 1)
            lines += (*heading[:at], f"  {part}:\n", title, *_moved(heading[at + 1 :], 2))
            inside = [name for name in steps if part_of[name] == part]
            lines += ["    steps:\n"] if inside else []
            for name in inside:
                lines += _moved(steps[name], 4)
                lines += ["\n"] if apart and lines[-1].strip() else []
        rest = [line for name in steps if part_of[name] not in parts for line in steps[name]]
        left = [self.lines[top["steps"][0]], *rest] if rest else []
        is_last = [*top][-1] == "steps"
        made = _without_blanks(lines) if is_last and not left else lines
        return {"parts": made, "steps": _without_blanks(left) if is_last else left}

    def step(self, keys: KeyPath, start: int, end: int) -> Lines:
        """Write one step anew, where it stood."""
        step: Any = self.composed.value
        for key in keys:
            step = step[key]
        lines = self.lines[start:end]
        if not isinstance(step, Mapping) or not step:
            return lines
        bare = _without_blanks(lines)
        chunks = self.chunks(keys, start, start + len(bare))
        first = next(iter(chunks.values()))[0]
        written = _Step(self, keys, step, chunks, deeper=4 if "part" in step else 0)
        return [*self.lines[start:first], *written.lines(), *lines[len(bare) :]]


@dataclass(frozen=True, slots=True)
class _Step:
    writer: _Writer
    keys: KeyPath
    step: Mapping[str, Any]
    chunks: Mapping[str, tuple[int, int]]
    deeper: int
    """By how many columns the step will be moved."""

    def lines(self) -> Lines:
        found: Lines = []
        here = next((key for key in ("if-so", "exits") if key in self.step), "")
        for key in self.step:
            if key == here:
                found += self.answers()
            elif key == "accept":
                found += self.waivers()
            elif key not in (*OLD_KEYS, "part"):
                found += self.listed(self.chunk(key))
        return found

    def chunk(self, key: str) -> Lines:
        return self.writer.lines[slice(*self.chunks[key])]

    def inner(self, key: str) -> Mapping[str, Lines]:
        """Give the lines of each key of a mapping in the step."""
        if not isinstance(self.step.get(key), Mapping):
            return {}
        spans = self.writer.chunks((*self.keys, key), *self.chunks[key])
        return {name: self.writer.lines[slice(*span)] for name, span in spans.items()}

    def listed(self, chunk: Lines) -> Lines:
        """Write a list of words in one line, where it fits and nothing else stands between."""
        key, *items = chunk
        if not key.rstrip().endswith(":") or not items:
            return chunk
        said = [re.fullmatch(r"\s*- (?![\'\"])(.+)\n", line) for line in items]
        words = [each[1] for each in said if each and not _NEEDS_QUOTES.search(each[1])]
        line = f"{key.rstrip()} [{', '.join(words)}]\n"
        return [line] if len(words) == len(items) and self.fits(line) else chunk

    def fits(self, line: str) -> bool:
        return len(line.rstrip("\n")) + self.deeper <= WIDEST

    def waivers(self) -> Lines:
        kept = [line for code, lines in self.inner("accept").items() if code != "same-target" for line in lines]
        return [self.chunk("accept")[0], *kept] if kept else []

    def answers(self) -> Lines:
        """Write the answers as blocks, in their order, with the comments of all that they replace above them."""
        exits = self.step.get("exits")
        exits = exits if isinstance(exits, Mapping) else {}
        looks = {"yes": "if-so", "no": "if-not"} if "if-so" in self.step or "if-not" in self.step else {}
        in_order = [*(each for each in exits if each not in ANSWERS), *ANSWERS]
        reason = self.inner("accept").get("same-target", [])
        replaced = [self.chunk(key) for key in OLD_KEYS if key in self.step]
        found = [line for chunk in (*replaced, reason) for line in _comments(chunk)]
        begun = False
        for answer in in_order:
            parts: list[Lines] = []
            if answer in looks and looks[answer] in self.step:
                chunk = [line for line in self.chunk(looks[answer]) if not _is_comment(line)]
                parts.append(_renamed(_moved(chunk, 2), looks[answer], "looks"))
            if answer in exits:
                first = self.first_alike(exits, in_order, answer)
                way = f"then: {_plain(exits[answer])}" if first == answer else f"as: {first}"
                parts.append([f"      {way}\n"])
                if first != answer and reason and ("gate" not in self.step or (first, answer) != ("no", "unsure")):
                    parts.append(_renamed([line for line in reason if not _is_comment(line)], "same-target", "since"))
                    reason = [] if "measure" in self.step else reason
            if parts and answer not in ANSWERS and "measure" in self.step:
                found += [] if begun else ["    verdicts:\n"]
                begun = True
                found += _moved(self.block(answer, parts, 2), 2)
            elif parts:
                found += self.block(answer, parts, 0)
        return found

    def first_alike(self, exits: Mapping[str, Any], in_order: Sequence[str], answer: str) -> str:
        """Give the answer whose way another goes: at a gate that of no before that of yes."""
        if "gate" in self.step and answer == "unsure" and exits.get("no") == exits[answer]:
            return "no"
        return next(each for each in in_order if each in exits and exits[each] == exits[answer])

    def block(self, answer: str, parts: Sequence[Lines], deeper: int) -> Lines:
        """Write one answer, in one line where that fits."""
        said = [_in_brackets(lines) for lines in parts]
        line = f"    {answer}: {{{', '.join(said)}}}\n"
        if all(said) and self.fits(line + " " * deeper):
            return [line]
        return [f"    {answer}:\n", *(line for lines in parts for line in lines)]


def _in_brackets(lines: Lines) -> str:
    """Write a key and its text as they stand between brackets; nothing where they have to stand on lines."""
    found = _SCALAR_LINE.fullmatch(lines[0]) if len(lines) == 1 else None
    if found is None:
        return ""
    key, text = found[2], found[3].rstrip()
    if text[0] in "\"'" or not _NEEDS_QUOTES.search(text):
        return f"{key}: {text}" if " #" not in text else ""
    return f'{key}: "{text}"' if not re.search(r'["\\]', text) and " #" not in text else ""


def _plain(value: object) -> str:
    """Write a value as it stood; what is no text, or would be read as none, as JSON has it."""
    return value if isinstance(value, str) and value[:1].isalpha() else json.dumps(value, ensure_ascii=False)


def _renamed(lines: Lines, old: str, new: str) -> Lines:
    return [lines[0].replace(f"{old}:", f"{new}:", 1), *lines[1:]]


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def _comments(lines: Lines) -> Lines:
    return [f"    {line.lstrip()}" for line in lines if _is_comment(line)]


def _moved(lines: Sequence[str], columns: int) -> Lines:
    return [" " * columns + line if line.strip() else line for line in lines]


def _without_blanks(lines: Lines) -> Lines:
    """Leave out the blank lines at the end."""
    kept = len(lines)
    while kept and not lines[kept - 1].strip():
        kept -= 1
    return lines[:kept]
