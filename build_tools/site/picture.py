"""The engine's SVG to the SVG that stands in a page: named, described, linked, and free of inline styles.

Text and lines take the colour of the page's text, so both colour schemes are served. The engine draws
plain boxes and plain lines; the symbols it does not know (stadium, double sides) and the guide's line
patterns are put in here, by class.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping

_SVG = "http://www.w3.org/2000/svg"
_HREF = "{http://www.w3.org/1999/xlink}href"
_TOOLTIP = "{http://www.w3.org/1999/xlink}title"
_FONT = "Arial, Helvetica, sans-serif"
"""Near the widths that the engine reckons with; phones that lack both have narrower letters."""
PATTERNS: Mapping[str, str] = {
    "no": "12 6",
    "unsure": "0.1 6",
    "second": "12 6",
    "third": "14 5 0.1 5",
    "fourth": "14 5 0.1 5 0.1 5",
    "fifth": "14 5 4 5",
}
"""Dashes by the class of a line; a round cap makes a dot of a dash without length. Yes and first are solid."""
_SIDE = 8
"""How far inside a box its second sides stand."""

ET.register_namespace("", _SVG)


def inline(svg: str, title: str, description: str, prefix: str) -> str:
    """Dress a drawn diagram for a page; `prefix` makes its ids differ from those of the page's other diagrams."""
    drawn = ET.fromstring(svg.encode())
    drawing = drawn.find(_tag("g"))
    assert drawing is not None  # the engine draws every graph as one group
    _strip(drawing)
    for group in drawing.findall(_tag("g")):
        kinds = (group.get("class") or "").split()
        group.set("id", f"{prefix}.{group.get('id')}")
        if kinds[0] == "node":
            _dress_node(group, kinds[1:])
        else:
            _dress_line(group, kinds[1])
    named = _named(drawn.get("viewBox") or "", title, description, prefix)
    named.append(drawing)
    return ET.tostring(named, encoding="unicode", short_empty_elements=True)


def _tag(name: str) -> str:
    return f"{{{_SVG}}}{name}"


def _named(box: str, title: str, description: str, prefix: str) -> ET.Element:
    """Make the outer element, sized so that a unit of the drawing is a CSS pixel."""
    _, _, width, height = box.split()
    svg = ET.Element(_tag("svg"), {"class": "flow", "role": "graphics-document", "viewBox": box})
    svg.attrib |= {"width": f"{float(width):.0f}", "height": f"{float(height):.0f}"}
    svg.attrib |= {"aria-labelledby": f"{prefix}.title", "aria-describedby": f"{prefix}.text"}
    svg.attrib |= {"font-family": _FONT, "font-size": "14", "stroke-linecap": "round"}
    ET.SubElement(svg, _tag("title"), {"id": f"{prefix}.title"}).text = title
    ET.SubElement(svg, _tag("desc"), {"id": f"{prefix}.text"}).text = description
    return svg


def _strip(drawing: ET.Element) -> None:
    """Take out what the page does not want: internal names, colours, fonts, ids of the links."""
    drawing.attrib = {"transform": drawing.get("transform", "")}
    for parent in list(drawing.iter()):
        for title in parent.findall(_tag("title")):
            parent.remove(title)
    for element in drawing.iter(_tag("text")):
        element.attrib = {name: element.get(name, "") for name in ("x", "y", "text-anchor")}
        element.set("fill", "currentColor")
    for group in drawing.iter(_tag("g")):
        group.tail = None


def _shapes(group: ET.Element) -> Iterator[ET.Element]:
    return (each for each in group.iter() if each.tag in (_tag("polygon"), _tag("ellipse"), _tag("path")))


def _dress_node(group: ET.Element, kinds: list[str]) -> None:
    _unwrap(group)
    for shape in _shapes(group):
        shape.attrib |= {"fill": "none", "stroke": "currentColor", "stroke-width": "3" if "gate" in kinds else "1.5"}
        shape.set("pointer-events", "all")  # the whole symbol is the link, not its outline alone
    words = list(group.iter(_tag("text")))
    if len(words) > 1:
        words[0].set("font-weight", "bold")
    if "terminator" in kinds:
        _make_stadium(next(group.iter(_tag("polygon"))))
    if "predefined" in kinds:
        _double_sides(group)


def _unwrap(group: ET.Element) -> None:
    """Put a link where the engine wraps one in a group, named by its tooltip."""
    wrapper = group.find(_tag("g"))
    if wrapper is None:
        return
    group.remove(wrapper)
    link = wrapper[0]
    link.attrib = {"href": link.get(_HREF, ""), "aria-label": link.get(_TOOLTIP, "")}
    group.append(link)


def _sides(box: ET.Element) -> tuple[float, float, float, float]:
    """Give left, top, width, height of a polygon."""
    numbers = [float(each) for each in re.findall(r"-?[\d.]+", box.get("points", ""))]
    across, down = numbers[0::2], numbers[1::2]
    return min(across), min(down), max(across) - min(across), max(down) - min(down)


def _make_stadium(box: ET.Element) -> None:
    left, top, width, height = _sides(box)
    del box.attrib["points"]
    box.tag = _tag("rect")
    sizes = {"x": left, "y": top, "width": width, "height": height, "rx": height / 2}
    box.attrib |= {name: f"{size:.2f}" for name, size in sizes.items()}


def _double_sides(group: ET.Element) -> None:
    inner = group.find(_tag("a"))
    parent = group if inner is None else inner
    left, top, width, height = _sides(next(group.iter(_tag("polygon"))))
    path = f"M{left + _SIDE:.2f},{top:.2f}v{height:.2f}M{left + width - _SIDE:.2f},{top:.2f}v{height:.2f}"
    parent.insert(1, ET.Element(_tag("path"), {"d": path, "stroke": "currentColor", "stroke-width": "1.5"}))


def _dress_line(group: ET.Element, line: str) -> None:
    group.set("aria-hidden", "true")  # a word beside a line says nothing when heard alone; the list below has it all
    for shape in _shapes(group):
        is_head = shape.tag == _tag("polygon")
        shape.attrib |= {"fill": "currentColor" if is_head else "none", "stroke": "currentColor"}
        if not is_head:
            shape.set("stroke-width", "2.5" if line == "unsure" else "1.75")
            if line in PATTERNS:
                shape.set("stroke-dasharray", PATTERNS[line])
