"""Shapes of the guide's own drawings, as SVG text, in the line types of ISO 128.

Thick lines are edges seen or cut, hatching is cut stuff, thin lines are dimensions and leaders, dashes are edges
that lie under something; water is one thick arrowed line. A unit is a pixel; x goes right and y goes down.
Shapes beside a formula are drawn by `formulas.drawing` instead, which is printed as JavaScript.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape

from build_tools.formulas.numbers import figure

Point = tuple[float, float]
WIDTH = 360
BALL = 10.0
"""Radius of the ring round a part's number."""
COLUMN_X = (12.0, 196.0)
ROW = 20

_DEFS = """  <defs>
    <pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <line x1="0" y1="0" x2="0" y2="5" stroke="#000" stroke-width="1"/>
    </pattern>
    <pattern id="soft" width="8" height="8" patternUnits="userSpaceOnUse">
      <circle cx="2" cy="2" r="0.9" fill="#000"/>
      <circle cx="6" cy="6" r="0.9" fill="#000"/>
    </pattern>
    <marker id="arrow" viewBox="0 0 10 10" refX="8" refY="5" markerWidth="12" markerHeight="12" \
markerUnits="userSpaceOnUse" orient="auto">
      <path d="M0 0 L10 5 L0 10 Z" fill="#000"/>
    </marker>
    <marker id="end" viewBox="0 0 10 10" refX="10" refY="5" markerWidth="8" markerHeight="8" \
markerUnits="userSpaceOnUse" orient="auto-start-reverse">
      <path d="M0 2 L10 5 L0 8" fill="none" stroke="#000" stroke-width="1"/>
    </marker>
  </defs>
  <style>
    .paper { fill: #fff; }
    .edge { fill: #fff; stroke: #000; stroke-width: 2; stroke-linejoin: round; }
    .cut { fill: url(#hatch); stroke: #000; stroke-width: 2; stroke-linejoin: round; }
    .wool { fill: url(#soft); stroke: #000; stroke-width: 1.2; stroke-linejoin: round; }
    .sheet { fill: none; stroke: #000; stroke-width: 2; stroke-linejoin: round; }
    .lead { fill: none; stroke: #000; stroke-width: 3; stroke-linejoin: round; }
    .thin { fill: none; stroke: #000; stroke-width: 0.8; }
    .hidden { fill: none; stroke: #000; stroke-width: 0.8; stroke-dasharray: 6 4; }
    .vapour { fill: none; stroke: #000; stroke-width: 1.4; stroke-dasharray: 9 3 2 3; }
    .limit { fill: none; stroke: #000; stroke-width: 1.6; stroke-dasharray: 10 5; }
    .seal { fill: #000; stroke: #000; stroke-width: 1; }
    .gap { fill: #fff; stroke: none; }
    .halo { fill: none; stroke: #fff; stroke-width: 6; stroke-linejoin: round; }
    .water { fill: none; stroke: #000; stroke-width: 3; stroke-linejoin: round; }
    .ball { fill: #fff; stroke: #000; stroke-width: 1.4; }
    text { font: 14px system-ui, sans-serif; fill: #000; }
    .mark { font-weight: 700; text-anchor: middle; }
    .strong { font-weight: 700; }
    .clear { paint-order: stroke; stroke: #fff; stroke-width: 5; stroke-linejoin: round; }
  </style>
"""


@dataclass(frozen=True)
class Drawing:
    """One drawing of the guide: its file name, what it says to who cannot see it, its height in pixels, its shapes."""

    name: str
    title: str
    desc: str
    height: int
    sources: tuple[str, ...]
    """Ids in the table of sources: where its numbers and its build-up were read."""
    shapes: tuple[str, ...]

    def svg(self) -> str:
        """Give the text of its file."""
        ids = f'aria-labelledby="{self.name}-title {self.name}-desc"'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {self.height}" role="img" {ids}>\n'
            f'  <title id="{self.name}-title">{escape(self.title, quote=False)}</title>\n'
            f'  <desc id="{self.name}-desc">{escape(self.desc, quote=False)}</desc>\n'
            f"  <metadata>{' '.join(self.sources)}</metadata>\n"
            f'{_DEFS}  <rect class="paper" width="{WIDTH}" height="{self.height}"/>\n  '
            + "\n  ".join(self.shapes)
            + "\n</svg>\n"
        )


@dataclass(frozen=True)
class Slope:
    """A line up to the right at a pitch in degrees, from its foot; points are given along it and square off it."""

    x: float
    y: float
    pitch_deg: float

    def at(self, along: float, above: float) -> Point:
        """Give the point so far up the line and so far off its upper side."""
        turn = math.radians(self.pitch_deg)
        return (
            self.x + along * math.cos(turn) - above * math.sin(turn),
            self.y - along * math.sin(turn) - above * math.cos(turn),
        )

    def points(self, *pairs: Point) -> tuple[Point, ...]:
        """Give the points of pairs of along and above."""
        return tuple(self.at(*pair) for pair in pairs)

    def box(self, along: float, above: float, length: float, height: float) -> tuple[Point, ...]:
        """Give the corners of a rectangle that lies in the slope, from its lower near corner."""
        far, high = along + length, above + height
        return self.points((along, above), (far, above), (far, high), (along, high))


def line(kind: str, *points: Point) -> str:
    """Draw an open line through points, of a kind that the style names."""
    return f'<path class="{kind}" d="{_way(points)}"/>'


def area(kind: str, *points: Point) -> str:
    """Draw a closed shape with these corners, of a kind that the style names."""
    return f'<path class="{kind}" d="{_way(points)} Z"/>'


def box(kind: str, x: float, y: float, width: float, height: float) -> str:
    """Draw an upright rectangle from its upper left corner."""
    return area(kind, (x, y), (x + width, y), (x + width, y + height), (x, y + height))


def water(*points: Point) -> str:
    """Draw the way of water, its head at the last point, where it leaves."""
    way = _way(points)
    return f'<path class="halo" d="{way}"/><path class="water" d="{way}" marker-end="url(#arrow)"/>'


def away(x: float, y: float) -> str:
    """Draw the head of an arrow seen from the front: here water runs on out of the picture."""
    at = f'cx="{_at(x)}" cy="{_at(y)}"'
    return f'<circle class="ball" {at} r="6"/><circle {at} r="2.2"/>'


def arrow(start: Point, end: Point) -> str:
    """Draw a thin arrow that shows a direction, not water."""
    return f'<path class="thin" d="{_way((start, end))}" marker-end="url(#arrow)"/>'


def span(start: Point, end: Point) -> str:
    """Draw a dimension line with a head at both ends."""
    return f'<path class="thin" d="{_way((start, end))}" marker-start="url(#end)" marker-end="url(#end)"/>'


def words(x: float, y: float, text: str, anchor: str = "start", turn_deg: float = 0, strong: bool = False) -> str:
    """Write text with white behind it, from, at the middle of, or up to a point, turned against the clock."""
    turn = f' transform="rotate({_at(-turn_deg)} {_at(x)} {_at(y)})"' if turn_deg else ""
    kind = "clear strong" if strong else "clear"
    said = escape(text, quote=False)
    return f'<text class="{kind}" x="{_at(x)}" y="{_at(y)}" text-anchor="{anchor}"{turn}>{said}</text>'


def ball(number: int, at: Point, *parts: Point) -> str:
    """Draw a part's number in a ring, with a thin leader to each place where the part is."""
    leaders = "".join(line("thin", _rim(at, part), part) for part in parts)
    x, y = at
    return (
        f'{leaders}<circle class="ball" cx="{_at(x)}" cy="{_at(y)}" r="{_at(BALL)}"/>'
        f'<text class="mark" x="{_at(x)}" y="{_at(y + 5)}">{number}</text>'
    )


def legend(left: tuple[str, ...], right: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Write the names of the parts in one or two columns at the top, numbered on from the left one."""
    names = ((column, row, name) for column, side in enumerate((left, right)) for row, name in enumerate(side))
    return tuple(
        words(COLUMN_X[column], 22 + ROW * row, f"{number} {name}")
        for number, (column, row, name) in enumerate(names, start=1)
    )


def out_note(y: float, text: str) -> tuple[str, ...]:
    """Say beside its sign what water does that runs on out of the picture."""
    return (away(17, y - 5), words(29, y, text))


def _rim(centre: Point, towards: Point) -> Point:
    away_x, away_y = towards[0] - centre[0], towards[1] - centre[1]
    share = BALL / max(math.hypot(away_x, away_y), BALL)
    return centre[0] + away_x * share, centre[1] + away_y * share


def _way(points: tuple[Point, ...]) -> str:
    return "M" + " L".join(f"{_at(x)} {_at(y)}" for x, y in points)


def _at(value: float) -> str:
    """Write a coordinate, to a tenth."""
    said = figure(abs(value), 1)
    return "-" + said if value < 0 and said != "0" else said
