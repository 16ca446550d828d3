"""Inputs near every rounding edge and threshold of each formula: a module a subject, found by itself.

Each module has `EDGES`: by the id of a formula, what makes a strategy that draws one set of values, in the
order of the formula's inputs. The printed JavaScript must give the same for all of them.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Mapping

from hypothesis import strategies as st

from build_tools.formulas.definition import Value

Values = tuple[Value, ...]
Edges = Mapping[str, Callable[[], st.SearchStrategy[Values]]]

NUDGES = (0.0, 1e-15, -1e-15, 3e-12, -3e-12, 1e-7, -1e-7, 1e-3, -1e-3)
nudge = st.sampled_from(NUDGES)
"""A share by which a value is moved off an edge: nothing, the last digits, next to nothing, a little.

None is 1e-12: just there `figure` begins to forgive, and either figure is right.
"""


def near(edge: float, low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a value at an edge or a nudge off it, inside the limits of its input."""
    return nudge.map(lambda share: min(high, max(low, edge * (1 + share))))


def all_edges() -> Edges:
    """Gather the edges of all modules in this folder."""
    found: dict[str, Callable[[], st.SearchStrategy[Values]]] = {}
    for module in pkgutil.iter_modules(__path__):
        edges: Edges = importlib.import_module(f"{__name__}.{module.name}").EDGES
        assert not set(edges) & set(found), f"{module.name} names a formula that has its edges elsewhere"
        found.update(edges)
    return found
