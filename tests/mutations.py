"""Seeded slips in a source's text: bytes, letters, lines, indentation, keys, values, items, ids."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping

Mutation = Callable[[random.Random, str], str]
ODD = (
    *("\x00", "\x1b", "\x7f", "\x85", "\x9b", "\xa0", "\xad", "\u200b", "\u202e", "\u2028", "\ufeff", "\ufffe"),
    *("\U000e0001", "\t", "\r", ":", " #", "- ", "'", '"', "“", "’", "[", "]", "{", "}", "[[", "]]", "|", ">", "&"),
    *("*", "!", "%", "@", "`", "?", "~", "<b>", "</script>", "\\", "0", ",", "\n", "\n\n", "---\n", "...\n", "<<: "),
)
VALUES = (
    *(
        "",
        "null",
        "true",
        "yes",
        "no",
        "0",
        "-1",
        "1e999",
        ".nan",
        "2026-13-40",
        "1.10",
        "[]",
        "{}",
        "- a",
        "*a",
        "&a b",
    ),
    *("!!python/none x", "'", '"open', ">-", "|", "any", "roof", "ladder", "x" * 200, "[[nothing]]", "12 mm", "___"),
)
_KEY = re.compile(r"^( *(?:- )?)([\w-]+)(:)(.*)$", re.M)
_ITEM = re.compile(r"^( *)- .*$", re.M)
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)+")


def _letters(dice: random.Random, text: str) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + dice.choice(ODD) + text[at + dice.randrange(2) :]


def _bytes(dice: random.Random, text: str) -> str:
    """Change, add or drop a byte; what is no UTF-8 then stays so when it is written."""
    raw = bytearray(text.encode())
    for _ in range(dice.choice((1, 1, 1, 2, 8))):
        at = dice.randrange(len(raw) + 1)
        raw[at : at + dice.randrange(2)] = bytes((dice.randrange(256),) * dice.randrange(2))
    return raw.decode("utf-8", "surrogateescape")


def _lines(dice: random.Random, text: str) -> str:
    lines = text.split("\n")
    one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    what = dice.randrange(5)
    if what == 0:
        del lines[one]
    elif what == 1:
        lines.insert(one, lines[other])
    elif what == 2:
        lines[one], lines[other] = lines[other], lines[one]
    elif what == 3:
        del lines[min(one, other) : max(one, other)]
    else:
        lines[one] += lines.pop(one + 1) if one + 1 < len(lines) else lines[other]
    return "\n".join(lines)


def _indentation(dice: random.Random, text: str) -> str:
    lines = text.split("\n")
    first = dice.randrange(len(lines))
    by = dice.choice((-4, -2, -1, 1, 2, 3, 4))
    for number in range(first, min(len(lines), first + dice.choice((1, 1, 2, 6, 40)))):
        line = lines[number]
        lines[number] = " " * by + line if by > 0 else line[min(-by, len(line) - len(line.lstrip(" "))) :]
    return "\n".join(lines)


def _one(dice: random.Random, pattern: re.Pattern[str], text: str) -> re.Match[str] | None:
    found = list(pattern.finditer(text))
    return dice.choice(found) if found else None


def _keys(dice: random.Random, text: str) -> str:
    found, other = _one(dice, _KEY, text), _one(dice, _KEY, text)
    if found is None or other is None:
        return _letters(dice, text)
    key = found[2]
    at = dice.randrange(len(key))
    new = dice.choice((other[2], key[:at] + key[at + 1 :], key.title(), key.replace("-", "_"), f"{key}s", "accept", ""))
    return text[: found.start(2)] + new + text[found.end(2) :]


def _values(dice: random.Random, text: str) -> str:
    found, other = _one(dice, _KEY, text), _one(dice, _KEY, text)
    if found is None or other is None:
        return _letters(dice, text)
    return text[: found.start(4)] + dice.choice((other[4], f" {dice.choice(VALUES)}")) + text[found.end(4) :]


def _items(dice: random.Random, text: str) -> str:
    found, other = _one(dice, _ITEM, text), _one(dice, _ITEM, text)
    if found is None or other is None:
        return _lines(dice, text)
    new = dice.choice(("", f"{found[0]}\n{found[0]}", other[0], f"{found[1]}- {dice.choice(VALUES)}", f"{found[1]}-"))
    return text[: found.start()] + new + text[found.end() :]


def _ids(dice: random.Random, text: str) -> str:
    found, other = _one(dice, _WORD, text), _one(dice, _WORD, text)
    if found is None or other is None:
        return _letters(dice, text)
    word = found[0]
    at = dice.randrange(len(word))
    new = dice.choice((other[0], word[:at] + word[at + 1 :], f"{word}/{other[0]}", word.upper(), "nowhere-at-all"))
    return text[: found.start()] + new + text[found.end() :]


def _cut(dice: random.Random, text: str) -> str:
    at = dice.randrange(len(text) + 1)
    return dice.choice((text[:at], text[at:], text + text[at:], text[: at // 8] + text))


KINDS: Mapping[str, Mutation] = {
    "bytes": _bytes,
    "letters": _letters,
    "lines": _lines,
    "indentation": _indentation,
    "keys": _keys,
    "values": _values,
    "list items": _items,
    "ids": _ids,
    "cuts": _cut,
}
