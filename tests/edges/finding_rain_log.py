"""Edges of the rain log: drips of two groups at the line of 5 per cent, fewest spells and fewest drips."""

from __future__ import annotations

from hypothesis import strategies as st

from edges import Edges, Values

RAIN = ("n", "ne", "e", "s", "sw", "w", "nw", "calm", "unknown")
AT_THE_LINE = ((3, 3), (2, 18), (3, 17), (4, 4), (5, 5), (6, 6), (8, 2))
"""Spells in two groups: three and three are just 5 per cent, others lie to either side of it."""


@st.composite
def near_an_edge_of_rain_log(draw: st.DrawFn) -> Values:
    """All drips but a few on one group, dry spells or another wind for the other, and some more lines of any kind."""
    wet, rest = draw(st.sampled_from(AT_THE_LINE))
    here, other = draw(st.sampled_from(RAIN)), draw(st.sampled_from(("dry", *RAIN)))
    missed, late = draw(st.integers(0, min(2, wet))), draw(st.integers(0, min(3, rest)))
    lines = [(here, "no" if n < missed else "yes") for n in range(wet)]
    lines += [(other, "yes" if n < late else "no") for n in range(rest)]
    kinds = st.tuples(st.sampled_from(("dry", *RAIN)), st.sampled_from(("yes", "no", "unseen")))
    lines += draw(st.lists(kinds, max_size=30 - len(lines)))
    return (tuple(draw(st.permutations(lines))),)


EDGES: Edges = {"rain-log": near_an_edge_of_rain_log}
