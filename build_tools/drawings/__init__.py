"""The guide's own drawings that show numbers: drawn from the constants and functions of the formulas."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.drawings import flashings, glazing, lapping, overview, reveal, searching, soaking, tiles
from build_tools.drawings.pen import Drawing

FOLDER = "guide/drawings"


def drawings() -> tuple[Drawing, ...]:
    """Give every drawing that is made here."""
    return (
        lapping.lap(),
        tiles.double_lap(),
        tiles.single_lap(),
        flashings.underlay_turn_up(),
        flashings.back_gutter(),
        flashings.head_section(),
        flashings.apron_foot(),
        soaking.soaker_fold(),
        glazing.glass_edge(),
        glazing.roof_window(),
        glazing.lantern_joint(),
        glazing.flat_roof_upstand(),
        overview.kinds_of_light(),
        overview.metals_in_order(),
        reveal.cold_bridge(),
        searching.rain_strip(),
        searching.hose_zones(),
    )


def drawing_files() -> Mapping[str, str]:
    """Give the text of every file that is drawn here by its path."""
    return {f"{FOLDER}/{each.name}.svg": each.svg() for each in drawings()}
