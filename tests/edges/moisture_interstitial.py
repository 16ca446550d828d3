"""Edges of the formula about condensation inside a roof."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from hypothesis import strategies as st
from own_tables import CLIMATES, ROOF_BUILD_UPS, ROOF_LAYERS, ROOM_CLASSES

from build_tools.formulas.moisture.condensation import Year, year_of_condensate
from build_tools.formulas.moisture.interstitial import max_of
from build_tools.formulas.moisture.roof_layers import cut_layers, laid_layers
from build_tools.formulas.moisture.room_air import months_of
from edges import Edges, Values, near

OWN_LAYERS = (("plasterboard", 12.5), ("wool", 120.0), ("osb", 12.0), ("underlay-breather", 0.5))
"""Boards that may hold less than any other wet layer."""
BUILD_UPS = ("felt-open", "felt-lapped", "felt-sealed", "rafters-open", "flat-warm", "own")
PEAKS = (0.01, 1.0, 2.0, 40.0, 234.0, 235.0, 500.0, 501.0)
"""The least that counts, rounding steps, and what 12 mm of strand board or any face may hold."""
LEFT = (0.01, 1.0, 2.0, 23.0, 49.0, 50.0, 250.0, 500.0)


@cache
def humidity_with(build_up: str, climate: str, what: str, wanted: float) -> float:
    """Find the humidity of the room, in per cent, with which the peak or what is left is as wanted, if any has."""
    cut = cut_layers(ROOF_LAYERS, laid_layers(ROOF_BUILD_UPS, build_up, OWN_LAYERS))
    of_year: dict[str, Callable[[Year], float]] = {
        "peak": lambda year: max_of(year.totals),
        "left": lambda year: year.totals[-1],
    }
    low, high = 10.0, 100.0
    for _ in range(52):
        middle = (low + high) / 2
        if (
            of_year[what](year_of_condensate(cut, months_of(CLIMATES, ROOM_CLASSES, climate, "class-1", 20, middle)))
            < wanted
        ):
            low = middle
        else:
            high = middle
    return low


@st.composite
def near_an_edge_of_interstitial(draw: st.DrawFn) -> Values:
    """Air with which water reaches a rounding step or a limit, layers at a whole number of parts, or air alike."""
    build_up = draw(st.sampled_from(BUILD_UPS))
    climate = draw(st.sampled_from(("england", "upland")))
    if draw(st.integers(0, 9)) == 0:
        return draw(st.sampled_from(("loft", "flat-vented"))), OWN_LAYERS, climate, "class-1", 20.0, None
    if draw(st.booleans()):
        target = draw(st.sampled_from([*(("peak", each) for each in PEAKS), *(("left", each) for each in LEFT)]))
        percent = draw(near(humidity_with(build_up, climate, *target), 10, 100))
        return build_up, OWN_LAYERS, climate, "class-1", 20.0, percent
    wool_mm = draw(near(draw(st.sampled_from((10.0, 20.0, 100.0, 240.0, 250.0))), 0.1, 400))
    other = draw(st.sampled_from(ROOF_LAYERS)).id
    layers = ((other, 12.5), ("wool", wool_mm), ("wool", draw(near(wool_mm, 0.1, 400))), (other, 0.1))
    room_c = draw(near(draw(st.sampled_from((5.0, 8.0, 20.0, 35.0))), 5, 35))
    percent_or_none = draw(st.none() | near(draw(st.sampled_from((10.0, 50.0, 100.0))), 10, 100))
    return "own", layers, draw(st.sampled_from(("england", "hot-summer"))), "class-5", room_c, percent_or_none


EDGES: Edges = {"interstitial": near_an_edge_of_interstitial}
