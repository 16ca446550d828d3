"""The data tables that formulas reckon with: what an author may write in trees/tables/ for each, key by key.

A number's key ends in its unit, as `density-kg-m3`; its title is the head of its column on the page.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import AfterValidator, Field, PrivateAttr, TypeAdapter

from build_tools.model.base import Id, Record, Text


class DataRow(Record):
    """One row of a data table: every one names the source that its numbers were read in."""

    _id: str = PrivateAttr("")

    @property
    def id(self) -> str:
        """Give its key in the table, which is what is picked with it; no field, since nobody writes it in the row."""
        return self._id

    label: Text = Field(description="What it is, as it stands in a list to pick from.")
    source: Id = Field(description="The source of its numbers, from tables/sources.yaml.")
    note: Text | None = Field(default=None, description="What a reader has to know before using the row.")


class Metal(DataRow):
    """A metal that is laid as sheet."""

    density_kg_m3: float = Field(ge=1000, le=20000, title="Density", description="Mass of a cubic metre.")
    expansion_um_m_k: float = Field(
        ge=1, le=100, title="Expansion", description="How many thousandths of a millimetre a metre grows in a kelvin."
    )


class RunOffMetal(DataRow):
    """A metal in the order from base to noble, and the metals that it does not stand above on a roof."""

    in_series: bool = Field(
        default=True, title="In the order", description="Whether the published order holds it, and at this place."
    )
    never_above: tuple[Id, ...] = Field(
        default=(), title="Never above", description="Metals that its water, or it itself, never comes on to."
    )
    never_by_the_sea_above: tuple[Id, ...] = Field(
        default=(), title="By the sea never above", description="The same, near the sea alone."
    )
    parted_above: tuple[Id, ...] = Field(
        default=(), title="Parted above", description="Metals that it is parted from, unless their maker allows it."
    )


class Covering(DataRow):
    """A kind of covering, with the limits that hold where its own data sheet is not to be had."""

    least_pitch_deg: float = Field(ge=5, le=60, title="Least rafter pitch", description="The flattest rafter for it.")
    headlap_mm: float | None = Field(
        default=None, ge=20, le=300, title="Least headlap", description="The shortest headlap in most places."
    )
    headlap_severe_mm: float | None = Field(
        default=None, ge=20, le=300, title="In severe exposure", description="The shortest headlap in an exposed place."
    )
    seldom_under_deg: float | None = Field(
        default=None,
        ge=5,
        le=60,
        title="Seldom declared under",
        description="Where many data sheets give less than the kind: from here up the kind calls no roof too flat.",
    )


class LapAtPitch(Record):
    """The least headlap at one rafter pitch."""

    rafter_pitch_deg: float = Field(ge=5, le=90, title="Rafter pitch", description="The rafter pitch.")
    headlap_mm: float = Field(ge=20, le=300, title="Headlap", description="The least headlap at that pitch.")


class SlateLaps(DataRow):
    """The least headlaps of one size of slate, from the flattest pitch at which it may lie upwards."""

    length_mm: float = Field(ge=100, le=1000, title="Length", description="Length of the slate.")
    width_mm: float = Field(ge=100, le=1000, title="Width", description="Width of the slate.")
    moderate: tuple[LapAtPitch, ...] = Field(
        min_length=1, title="Sheltered or moderate", description="Laps in a sheltered or moderate place."
    )
    severe: tuple[LapAtPitch, ...] = Field(
        min_length=1, title="Severe", description="Laps where driving rain is 56.5 litres a square metre or more."
    )


class UnderlayLap(DataRow):
    """The lap of underlay from one rafter pitch up to the next row's."""

    from_deg: float = Field(ge=0, le=90, title="Rafter pitch from", description="The flattest rafter for this row.")
    draped_lap_mm: float = Field(ge=50, le=500, title="Draped", description="Lap where it hangs between the rafters.")
    boarded_lap_mm: float = Field(ge=50, le=500, title="On boards", description="Lap where it is fully supported.")


class ChannelLining(DataRow):
    """What a gutter is made of, and how rough it is for the water in it."""

    manning_n: float = Field(ge=0.005, le=0.1, title="Manning's n", description="Roughness in Manning's formula.")


class RainRate(DataRow):
    """How hard it rains, for reckoning what a roof sheds."""

    rain_l_s_m2: float = Field(ge=0.001, le=0.2, title="Rain", description="Rain on a level square metre.")


class LiftFilter(DataRow):
    """What one person may lift at one height of the hands before the lift has to be assessed in full."""

    men_close_kg: float = Field(ge=1, le=50, title="Men, close", description="A man, the load close to the body.")
    men_far_kg: float = Field(ge=1, le=50, title="Men, arms out", description="A man, at the length of the arms.")
    women_close_kg: float = Field(ge=1, le=50, title="Women, close", description="A woman, the load close to the body.")
    women_far_kg: float = Field(ge=1, le=50, title="Women, arms out", description="A woman, at the length of the arms.")


class LeadCode(DataRow):
    """A thickness in which lead sheet is sold, by its code and colour."""

    thickness_mm: float = Field(ge=0.5, le=10, title="Thickness", description="Nominal thickness of the sheet.")


class ColdSurface(DataRow):
    """An inside surface, with what tells how cold it gets."""

    u_w_m2k: float = Field(ge=0.05, le=7, title="U", description="Heat that passes, with the film of air of this row.")
    rsi_m2k_w: float = Field(ge=0.05, le=0.5, title="Rsi", description="Resistance of the film of air inside.")


class TimberBand(DataRow):
    """What a reading of a pin meter means, from one number up to the next row's."""

    from_percent: float = Field(ge=0, le=100, title="From", description="The least reading of this band.")


class RoofOpenings(DataRow):
    """The openings that a cold pitched roof needs, as gaps along its whole length."""

    eaves_mm: float = Field(ge=1, le=50, title="Eaves, over 15°", description="Gap on each side, over 15 degrees.")
    flat_eaves_mm: float = Field(ge=1, le=50, title="Eaves, 10° to 15°", description="Gap on each side, flatter.")
    ridge_mm: float = Field(
        ge=0, le=50, title="Ridge in any case", description="Gap high up, 0 where the pitch decides."
    )


class DryingPoint(Record):
    """How long one thickness takes in a heated and aired room."""

    thickness_mm: float = Field(ge=1, le=1000, title="Thickness", description="The whole thickness of the wet layer.")
    days_count: float = Field(ge=1, le=5000, title="Days", description="Days until it is dry.")


class DryingMaterial(DataRow):
    """A material that is laid wet, with the days it takes by thickness."""

    times: tuple[DryingPoint, ...] = Field(min_length=1, title="Time", description="Points, thinnest first.")


class WoodTakes(Record):
    """How much water wood may take up."""

    density_kg_m3: float = Field(ge=50, le=2000, title="Density", description="Mass of a cubic metre.")
    gain_percent: float = Field(ge=1, le=20, title="May gain", description="The water it may take up, by mass.")


class RoofLayer(DataRow):
    """A layer of a roof: how it holds heat and vapour back, and how much water it can take up if it is wood."""

    conductivity_w_mk: float | None = Field(
        default=None, ge=0.01, le=100, title="Heat", description="Its conductivity; none for a film or for air."
    )
    air_m2k_w: float | None = Field(
        default=None, ge=0, le=1, title="R", description="Resistance to heat of an air space, whatever its thickness."
    )
    mu: tuple[float, ...] = Field(
        default=(),
        max_length=2,
        title="μ",
        description="Times as tight against vapour as still air: one, or least and most.",
    )
    sd_m: tuple[float, ...] = Field(
        default=(),
        max_length=2,
        title="sd",
        description="Of a film: metres of still air, one, or least and most.",
    )
    wood: tuple[WoodTakes, ...] = Field(
        default=(), max_length=1, title="Wood", description="Of wood and its boards: what they may take up."
    )


class LaidLayer(Record):
    """One layer of a build-up."""

    material: Id = Field(description="A row of tables/roof-layers.yaml.")
    thickness_mm: float = Field(ge=0.1, le=400, title="Thickness", description="How thick it is.")


class RoofBuildUp(DataRow):
    """A common roof, from the room to the last layer under which no outside air passes."""

    layers: tuple[LaidLayer, ...] = Field(min_length=1, max_length=10, title="Layers", description="Room side first.")


class ClimateMonth(Record):
    """The mean of one month outside."""

    outside_c: float = Field(ge=-30, le=40, title="Temperature", description="Mean temperature of the air.")
    vapour_pa: float = Field(ge=50, le=4000, title="Vapour", description="Mean pressure of the vapour in it.")


class Climate(DataRow):
    """A year outside, month by month."""

    months: tuple[ClimateMonth, ...] = Field(
        min_length=12, max_length=12, title="January to December", description="Twelve months, January first."
    )


class RoomClass(DataRow):
    """A kind of room, by how much vapour its use adds to the air."""

    supply_pa: float = Field(
        ge=100, le=3000, title="Vapour added", description="At 0 °C outside or colder; none at 20 °C."
    )


DATA_TABLES: Mapping[str, type[DataRow]] = {
    "coverings": Covering,
    "headlaps": SlateLaps,
    "underlay-laps": UnderlayLap,
    "metals": Metal,
    "run-off": RunOffMetal,
    "channel-linings": ChannelLining,
    "rainfall": RainRate,
    "lift-filters": LiftFilter,
    "lead-codes": LeadCode,
    "cold-surfaces": ColdSurface,
    "timber-bands": TimberBand,
    "roof-openings": RoofOpenings,
    "drying-times": DryingMaterial,
    "roof-layers": RoofLayer,
    "roof-build-ups": RoofBuildUp,
    "climates": Climate,
    "room-classes": RoomClass,
}
"""Each data table by its file name, with the model of its rows."""

Rows = Mapping[str, DataRow]
"""A data table: its rows by their ids, in the order of the file."""
Data = Mapping[str, Rows]
"""Data tables by their names."""


def _with_ids(rows: Rows) -> Rows:
    """Tell each row its key in the table."""
    for key, row in rows.items():
        row._id = key
    return rows


DATA: Mapping[str, TypeAdapter[Any]] = {
    name: TypeAdapter(Annotated[Mapping[Id, kind], AfterValidator(_with_ids)])  # type: ignore[arg-type, valid-type]
    for name, kind in DATA_TABLES.items()
}
"""Each data table by its file name, with what its file holds."""
