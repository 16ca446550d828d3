"""What a diagram says, read back from its DOT text or its SVG, apart from the code that made it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from build_tools.guide.views import TreeView
from build_tools.proof.graph import tree_graph

_WORD = r'(?:"[^"]*"|[\w.-]+)'
_STATEMENT = re.compile(rf'^\t({_WORD})(?: -> ({_WORD}))? \[((?:[^"\]]|"[^"]*")*)\]$', re.M)
_ATTRIBUTE = re.compile(rf"(\w+)=({_WORD})")


class Statement(NamedTuple):
    """A node (without head) or a line of a DOT text."""

    tail: str
    head: str
    attributes: dict[str, str]


def statements(dot: str) -> Iterator[Statement]:
    """Read every node and line."""
    for tail, head, attributes in _STATEMENT.findall(dot):
        pairs = {name: value.strip('"') for name, value in _ATTRIBUTE.findall(attributes)}
        if tail not in ("node", "edge"):
            yield Statement(tail.strip('"'), head.strip('"'), pairs)


def triples_of(names: list[str]) -> list[tuple[str, ...]]:
    """Read step, answer and target from the names of lines; circles and joins have other names."""
    return sorted(tuple(name.split(".")) for name in names if re.fullmatch(r"[a-z0-9-]+\.[a-z0-9-]+\.[a-z0-9-]+", name))


def triples_of_graph(tree: TreeView) -> list[tuple[str, ...]]:
    """Give step, answer and target of every exit in the tree's own graph, which no view has touched."""
    edges = tree_graph(tree.id, tree.tree).edges(keys=True)
    return sorted((tail.step, answer, head.step) for tail, head, answer in edges)
