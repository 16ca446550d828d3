"""Reads a QR code from the modules that are drawn, as ISO/IEC 18004 lays them out; no error is mended.

Written apart from the library that makes the codes. Tables for versions 1 to 6 at level Q, from memory,
not checked against the standard: a wrong number would not give a readable address.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

LEVELS = {0b01: "L", 0b00: "M", 0b11: "Q", 0b10: "H"}
MASKED_BY = 0b101010000010010
MASKS = (
    lambda y, x: (y + x) % 2 == 0,
    lambda y, x: y % 2 == 0,
    lambda y, x: x % 3 == 0,
    lambda y, x: (y + x) % 3 == 0,
    lambda y, x: (y // 2 + x // 3) % 2 == 0,
    lambda y, x: y * x % 2 + y * x % 3 == 0,
    lambda y, x: (y * x % 2 + y * x % 3) % 2 == 0,
    lambda y, x: ((y + x) % 2 + y * x % 3) % 2 == 0,
)
BLOCKS_Q = {1: [13], 2: [22], 3: [17] * 2, 4: [24] * 2, 5: [15] * 2 + [16] * 2, 6: [19] * 4}
"""Data codewords of each block, by version."""


def modules(svg: str) -> tuple[list[list[int]], int]:
    """Read the drawn modules, one for dark, and how wide the margin round them is."""
    paths = [each for each in ET.fromstring(svg).iter() if each.tag.endswith("path") and each.get("stroke")]
    dark, x, y = set(), 0, 0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]+)", paths[0].get("d") or ""):
        values = [float(each) for each in numbers.split()]
        if command == "h":
            dark.update((y, each) for each in range(x, x + int(values[0])))
            x += int(values[0])
        else:
            across, down = int(values[0]), int(values[1] // 1)
            x, y = (across, down) if command == "M" else (x + across, y + down)
    margin = min(x for _, x in dark)
    size = max(x for _, x in dark) - margin + 1
    return [[int((y + margin, x + margin) in dark) for x in range(size)] for y in range(size)], margin


def level_and_mask(code: list[list[int]]) -> tuple[str, int]:
    """Read the format information beside the top left finder."""
    places = [(8, x) for x in (0, 1, 2, 3, 4, 5, 7, 8)] + [(y, 8) for y in (7, 5, 4, 3, 2, 1, 0)]
    bits = int("".join(str(code[y][x]) for y, x in places), 2) ^ MASKED_BY
    return LEVELS[bits >> 13], bits >> 10 & 0b111


def text(code: list[list[int]]) -> str:
    """Read what the code says; bytes mode only."""
    size = len(code)
    version = (size - 17) // 4
    level, mask = level_and_mask(code)
    assert level == "Q"
    words = _words(code, MASKS[mask], size)
    bits = "".join(f"{word:08b}" for word in _data(words, BLOCKS_Q[version]))
    assert bits[:4] == "0100", "bytes"
    length = int(bits[4:12], 2)
    return bytes(int(bits[12 + 8 * n : 20 + 8 * n], 2) for n in range(length)).decode()


def _is_pattern(y: int, x: int, size: int) -> bool:
    """Tell whether a module belongs to finders, timing, format information or the alignment pattern."""
    corner = (y < 9 and x < 9) or (y < 9 and x >= size - 8) or (y >= size - 8 and x < 9)
    middle = size - 7
    aligned = size > 21 and abs(y - middle) <= 2 and abs(x - middle) <= 2
    return corner or aligned or 6 in (y, x)


def _words(code: list[list[int]], mask: object, size: int) -> list[int]:
    """Follow the modules upward and downward in pairs of columns, from the right."""
    bits = []
    for number, right in enumerate([*range(size - 1, 6, -2), 5, 3, 1]):
        rows = range(size) if number % 2 else range(size - 1, -1, -1)
        for y in rows:
            for x in (right, right - 1):
                if not _is_pattern(y, x, size):
                    bits.append(code[y][x] ^ int(mask(y, x)))  # type: ignore[operator]
    return [int("".join(map(str, bits[n : n + 8])), 2) for n in range(0, len(bits) - 7, 8)]


def _data(words: list[int], lengths: list[int]) -> list[int]:
    """Put the data of the blocks, which are dealt out in turn, one behind the other."""
    blocks: list[list[int]] = [[] for _ in lengths]
    rest = iter(words)
    for place in range(max(lengths)):
        for block, length in zip(blocks, lengths, strict=True):
            if place < length:
                block.append(next(rest))
    return [word for block in blocks for word in block]
