"""The project's own data tables, and the formulas made of them, for tests."""

from __future__ import annotations

from pathlib import Path

from build_tools.formulas import formulas_of
from build_tools.formulas.tables import rows
from build_tools.model.data import (
    ChannelLining,
    Climate,
    ColdSurface,
    Covering,
    DryingMaterial,
    LeadCode,
    LiftFilter,
    Metal,
    RoofBuildUp,
    RoofLayer,
    RoofOpenings,
    RoomClass,
    SlateLaps,
    TimberBand,
    UnderlayLap,
)
from build_tools.sources.data_tables import read_data

DATA = read_data(Path(__file__).resolve().parent.parent)
FORMULAS = formulas_of(DATA)

CLIMATES = rows(DATA, "climates", Climate)
COLD_SURFACES = rows(DATA, "cold-surfaces", ColdSurface)
COVERINGS = rows(DATA, "coverings", Covering)
DRYING_MATERIALS = rows(DATA, "drying-times", DryingMaterial)
HEADLAPS = rows(DATA, "headlaps", SlateLaps)
LEAD_CODES = rows(DATA, "lead-codes", LeadCode)
LIFT_FILTERS = rows(DATA, "lift-filters", LiftFilter)
LININGS = rows(DATA, "channel-linings", ChannelLining)
METALS = rows(DATA, "metals", Metal)
ROOF_BUILD_UPS = rows(DATA, "roof-build-ups", RoofBuildUp)
ROOF_LAYERS = rows(DATA, "roof-layers", RoofLayer)
ROOF_OPENINGS = rows(DATA, "roof-openings", RoofOpenings)
ROOM_CLASSES = rows(DATA, "room-classes", RoomClass)
TIMBER_BANDS = rows(DATA, "timber-bands", TimberBand)
UNDERLAY_LAPS = rows(DATA, "underlay-laps", UnderlayLap)

ROOF = (ROOF_LAYERS, ROOF_BUILD_UPS, CLIMATES, ROOM_CLASSES)
"""What the reckoning of water inside a roof is handed."""
ROWS = {name: value for name, value in vars().items() if name.isupper() and isinstance(value, tuple)}
"""The rows by the names that the docstrings of formulas call them by."""
