"""Shapes of the drawings that stand beside a formula, as SVG text, in the subset that is printed as JavaScript.

Line types follow ISO 128: thick for edges seen, thin for dimensions, dashes for limits; water is one arrowed
line. Coordinates are in the picture's own units, x to the right and y down.
"""

from __future__ import annotations

import math

from build_tools.formulas.numbers import figure


def picture(width: int, height: int, name: str, shapes: str) -> str:
    """Frame shapes as one inline SVG that a screen reader knows by its name."""
    head = f'<svg class="drawn" viewBox="0 0 {width} {height}" role="img" aria-label="{_plain(name)}">'
    return head + shapes + "</svg>"


def line(x1: float, y1: float, x2: float, y2: float, kind: str) -> str:
    """Draw a straight line: `edge`, `thin` or `limit`."""
    return f'<path class="drawn-{kind}" d="M{_at(x1)} {_at(y1)}L{_at(x2)} {_at(y2)}"/>'


def curve(points: tuple[tuple[float, float], ...], kind: str) -> str:
    """Draw a line through points: `edge`, `thin` or `limit`."""
    way = ""
    for point in points:
        way = way + ("M" if way == "" else "L") + _at(point[0]) + " " + _at(point[1])
    return f'<path class="drawn-{kind}" d="{way}"/>'


def label(x: float, y: float, anchor: str, turn_deg: float, text: str) -> str:
    """Write text from, at the middle of, or up to a point (`start`, `middle`, `end`), turned against the clock."""
    turn = "" if turn_deg == 0 else f' transform="rotate({_at(-turn_deg)} {_at(x)} {_at(y)})"'
    return f'<text class="drawn-text" x="{_at(x)}" y="{_at(y)}" text-anchor="{anchor}"{turn}>{_plain(text)}</text>'


def arc(x: float, y: float, radius: float, to_deg: float) -> str:
    """Mark an angle from the level up, against the clock, to less than half a turn."""
    end_x = x + radius * math.cos(math.radians(to_deg))
    end_y = y - radius * math.sin(math.radians(to_deg))
    return (
        f'<path class="drawn-thin" d="M{_at(x + radius)} {_at(y)}'
        f'A{_at(radius)} {_at(radius)} 0 0 0 {_at(end_x)} {_at(end_y)}"/>'
    )


def mark(x: float, y: float) -> str:
    """Draw a ring on a point that is named elsewhere in the picture."""
    return f'<circle class="drawn-mark" cx="{_at(x)}" cy="{_at(y)}" r="5"/>'


def dimension(x1: float, y1: float, x2: float, y2: float) -> str:
    """Draw a dimension line with a stroke across each end."""
    length = _distance(x1, y1, x2, y2)
    across_x = 5 * (y2 - y1) / length
    across_y = 5 * (x1 - x2) / length
    return (
        line(x1, y1, x2, y2, "thin")
        + line(x1 - across_x, y1 - across_y, x1 + across_x, y1 + across_y, "thin")
        + line(x2 - across_x, y2 - across_y, x2 + across_x, y2 + across_y, "thin")
    )


def water(points: tuple[tuple[float, float], ...]) -> str:
    """Draw the way of water through points, with its head at the last, where it leaves."""
    way = ""
    for point in points:
        way = way + ("M" if way == "" else "L") + _at(point[0]) + " " + _at(point[1])
    last = points[len(points) - 1]
    before = points[len(points) - 2]
    length = _distance(before[0], before[1], last[0], last[1])
    along_x = (last[0] - before[0]) / length
    along_y = (last[1] - before[1]) / length
    head = (
        f"M{_at(last[0] + 7 * along_x)} {_at(last[1] + 7 * along_y)}"
        f"L{_at(last[0] - 5 * along_y)} {_at(last[1] + 5 * along_x)}"
        f"L{_at(last[0] + 5 * along_y)} {_at(last[1] - 5 * along_x)}Z"
    )
    return f'<path class="drawn-water" d="{way}"/><path class="drawn-head" d="{head}"/>'


def _plain(text: str) -> str:
    """Write a text so that SVG shows each letter of it and reads none as markup."""
    safe = ""
    for letter in text:
        written = "&lt;" if letter == "<" else letter
        written = "&amp;" if letter == "&" else written
        written = "&quot;" if letter == '"' else written
        safe = safe + written
    return safe


def _distance(x1: float, y1: float, x2: float, y2: float) -> float:
    """Give how far apart two points are, 1 at least."""
    return max(math.sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1)), 1)


def _at(value: float) -> str:
    """Write a coordinate, to a tenth, with the plain hyphen that SVG reads as minus."""
    return ("-" if value < 0 else "") + figure(abs(value), 1)
