"""Openings that let air through a cold pitched roof: what it needs, and what it has."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.moisture.ventilation_drawing import draw_roof_ventilation
from build_tools.formulas.numbers import at_least, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Data, RoofOpenings

LEAST_OPENINGS_DEG = 10
"""Flatter than this it is a flat roof, and not in the table."""
FLAT_OPENINGS_DEG = 15
"""Up to this the eaves need the wider gap."""
STEEP_OPENINGS_DEG = 35
WIDE_SPAN_M = 10
HIGH_GAP_MM = 5
"""Steeper, wider, or with one eaves only, a roof needs this gap high up as well."""
CLEAR_AIR_MM = 50
"""Clear way for the air between insulation and underlay."""


def roof_kind_input(roof_openings: tuple[RoofOpenings, ...]) -> Input:
    """Let the kind of roof be picked."""
    return choice(
        "kind",
        "Insulation and underlay",
        choices=choices_of(roof_openings),
        hint="In the loft: dense underlay is black felt or foil. One that lets vapour through says so in print; in "
        "doubt "
        "take dense.",
        default="ceiling-dense",
    )


ROOF_PITCH = number(
    "pitch_deg",
    "Pitch of the roof",
    low=0,
    high=75,
    hint="In the loft: the level of a metre held against a rafter, or the formula for the pitch.",
)
ROOF_SHAPE = choice(
    "shape",
    "Shape",
    choices=(Choice("two", "Eaves on both sides"), Choice("lean-to", "Eaves on one side, a lean-to")),
    hint="A lean-to against a wall has its second opening high up at the wall.",
    default="two",
)
SPAN = number(
    "span_m",
    "Span",
    low=0.5,
    high=40,
    hint="On the level, from eaves to eaves; for a lean-to from eaves to wall.",
)
EAVES_LENGTH = number(
    "eaves_m", "Length of the eaves", low=0.3, high=200, hint="Along the gutter, one side of the roof."
)
EAVES_GAP = number(
    "measured_eaves_mm",
    "Gap found at the eaves",
    low=0,
    high=300,
    hint="Clear of mesh, paint and wool, on the side that has less. Single vents: add up the mm² of their free "
    "openings on that side, and divide by its length in mm.",
    optional=True,
)
HIGH_GAP = number(
    "measured_ridge_mm",
    "Gap found high up",
    low=0,
    high=300,
    hint="At the ridge, or at the wall of a lean-to, reckoned like the eaves. 0 if there is none.",
    optional=True,
)
EAVES_NEEDED = output("eaves_mm", "Gap needed at each eaves", step=1, rounds="up")
EAVES_AREA_NEEDED = output("eaves_mm2", "Free opening, each eaves", step=100, rounds="up")
HIGH_NEEDED = output("ridge_mm", "Gap needed high up", step=1, rounds="up")
HIGH_AREA_NEEDED = output("ridge_mm2", "Free opening, high up", step=100, rounds="up")


def roof_ventilation(
    roof_openings: tuple[RoofOpenings, ...],
    kind: str,
    pitch_deg: float,
    shape: str,
    span_m: float,
    eaves_m: float,
    measured_eaves_mm: float | None,
    measured_ridge_mm: float | None,
) -> Reckoned:
    """Find the openings that a cold pitched roof needs at eaves and ridge, and whether those found are enough.

    opening = gap of the table x length of the eaves; each opening goes along the whole length

    Args:
        kind: [choice] where the insulation lies, and what the underlay lets through.
        pitch_deg: [deg] pitch of the roof.
        shape: [choice] eaves on both sides, or a lean-to.
        span_m: [m] from eaves to eaves, or from eaves to wall.
        eaves_m: [m] length of the eaves on one side.
        measured_eaves_mm: [mm] continuous gap found at the eaves; None if not measured.
        measured_ridge_mm: [mm] continuous gap found high up; None if not measured.

    Returns:
        eaves_mm: [mm] gap needed at each eaves; None for a roof that is not in the table.
        eaves_mm2: [mm2] free opening needed at each eaves, rounded up.
        ridge_mm: [mm] gap needed high up, 0 where none is.
        ridge_mm2: [mm2] free opening needed high up, rounded up.

    Source:
        bs-5250-openings: 10 mm at the eaves, 25 mm flatter, 5 mm high up over 35 degrees.
        high-openings: 5 mm high up over a span of 10 m, and for a lean-to.
        loft-guide-openings: 50 mm of clear air over insulation that follows the slope.
        project-choice: an underlay that lets vapour through counts as dense at 15 degrees or less.

    Limits:
        Older guidance asks for the high opening from 20 degrees and not from 35.
        The ridge is taken as long as the eaves. A hipped roof needs the same opening on a shorter ridge.
        Insulation that fills the rafters up to an underlay that lets vapour through may need no openings: ask.
        Openings cure no moist air: seal hatch and ceiling first. Local rules can ask for more.
        Mesh that is painted or full of dust lets little air through, whatever its size.

    Example:
        >>> roof_ventilation(ROOF_OPENINGS, "ceiling-dense", 30, "two", 8, 12, 10, None).outputs["eaves_mm2"]
        120000
        >>> roof_ventilation(ROOF_OPENINGS, "ceiling-dense", 30, "two", 8, 12, 10, None).verdict
        'enough'
    """
    if not at_least(pitch_deg, LEAST_OPENINGS_DEG):
        none = {"eaves_mm": None, "eaves_mm2": None, "ridge_mm": None, "ridge_mm2": None}
        flat = f"{quantity(pitch_deg, '°')} is under {quantity(LEAST_OPENINGS_DEG, '°')}, where the table begins."
        return Reckoned(outputs=none, verdict="too-flat", working=(flat,))
    row = openings_of(roof_openings, kind)
    eaves_mm = rounded(row.flat_eaves_mm if at_least(FLAT_OPENINGS_DEG, pitch_deg) else row.eaves_mm, EAVES_NEEDED)
    ridge_mm = rounded(max(row.ridge_mm, high_gap_mm(pitch_deg, shape, span_m)), HIGH_NEEDED)
    outputs = {
        "eaves_mm": eaves_mm,
        "eaves_mm2": rounded(eaves_mm * eaves_m * 1000, EAVES_AREA_NEEDED),
        "ridge_mm": ridge_mm,
        "ridge_mm2": rounded(ridge_mm * eaves_m * 1000, HIGH_AREA_NEEDED),
    }
    high = "none needed" if ridge_mm == 0 else quantity(ridge_mm, "mm") + " along the whole length"
    working = (
        f"{row.label}, {quantity(pitch_deg, '°')}: a gap of {quantity(eaves_mm, 'mm')} along each eaves.",
        f"{quantity(eaves_mm, 'mm')} × {quantity(eaves_m * 1000, 'mm')} = {quantity(outputs['eaves_mm2'], 'mm²')}.",
        f"High up: {high}.",
        f"Between insulation and underlay: {quantity(CLEAR_AIR_MM, 'mm')} of clear air, all the way.",
        "A trimmer round a light shuts off the bays between it and eaves and ridge: each needs a way in and out.",
        *_gaps_found(eaves_mm, ridge_mm, measured_eaves_mm, measured_ridge_mm),
    )
    verdict = _openings_told(eaves_mm, ridge_mm, measured_eaves_mm, measured_ridge_mm)
    return Reckoned(outputs=outputs, verdict=verdict, working=working)


def openings_of(roof_openings: tuple[RoofOpenings, ...], kind: str) -> RoofOpenings:
    """Look the gaps of a kind of roof up."""
    found = roof_openings[0]
    for row in roof_openings:
        if row.id == kind:
            found = row
    return found


def high_gap_mm(pitch_deg: float, shape: str, span_m: float) -> float:
    """Give the gap that shape, pitch and span ask for high up, whatever the kind."""
    plain = shape == "two" and at_least(STEEP_OPENINGS_DEG, pitch_deg) and at_least(WIDE_SPAN_M, span_m)
    return 0 if plain else HIGH_GAP_MM


def _gaps_found(
    eaves_mm: float, ridge_mm: float, measured_eaves_mm: float | None, measured_ridge_mm: float | None
) -> tuple[str, ...]:
    said: tuple[str, ...] = ()
    if measured_eaves_mm is not None:
        said = (f"Found at the eaves: {quantity(measured_eaves_mm, 'mm')} of {quantity(eaves_mm, 'mm')}.",)
    if measured_ridge_mm is not None:
        return (*said, f"Found high up: {quantity(measured_ridge_mm, 'mm')} of {quantity(ridge_mm, 'mm')}.")
    if ridge_mm > 0:
        return (*said, "The gap high up was not measured.")
    return said


def _openings_told(
    eaves_mm: float, ridge_mm: float, measured_eaves_mm: float | None, measured_ridge_mm: float | None
) -> str | None:
    """Say what is short first; what is needed and was not measured leaves it open."""
    if measured_eaves_mm is not None and not at_least(measured_eaves_mm, eaves_mm):
        return "eaves-short"
    if measured_ridge_mm is not None and not at_least(measured_ridge_mm, ridge_mm):
        return "high-short"
    if measured_eaves_mm is None or (measured_ridge_mm is None and ridge_mm > 0):
        return None
    return "enough"


def _opening_rows(roof_openings: tuple[RoofOpenings, ...]) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            row.label,
            quantity(row.eaves_mm, "mm"),
            quantity(row.flat_eaves_mm, "mm"),
            quantity(row.ridge_mm, "mm") if row.ridge_mm > 0 else "—",
        )
        for row in roof_openings
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    roof_openings = rows(data, "roof-openings", RoofOpenings)
    return Formula(
        id="roof-ventilation",
        title="Openings of a cold roof",
        subject="moisture",
        inputs=(roof_kind_input(roof_openings), ROOF_PITCH, ROOF_SHAPE, SPAN, EAVES_LENGTH, EAVES_GAP, HIGH_GAP),
        outputs=(EAVES_NEEDED, EAVES_AREA_NEEDED, HIGH_NEEDED, HIGH_AREA_NEEDED),
        verdicts=MappingProxyType(
            {
                "eaves-short": "The eaves let too little air in. Look for wool, paint or boards in the gap first, then "
                "have openings made.",
                "high-short": "High up there is too little opening. Have it made with a ridge or vents meant for it, "
                "which keep rain and snow out.",
                "enough": "By the table the openings are enough. See that air truly passes, and look at the bays that "
                "the light's trimmers shut off.",
                "too-flat": "Under 10° it counts as a flat roof, which is not in this table. Ask somebody who designs "
                "those before any opening is made.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the kind of roof, and the gap for its pitch. Each eaves needs it along its whole length.",
                "High up take 5 mm if it is steeper than 35°, over 10 m wide, or a lean-to; else what the table says.",
                "Gap in mm, times the length in mm, is the free opening in mm².",
                "Flatter than 10° it is not in the table.",
            ),
            heads=("Kind", "Eaves, over 15°", "10° to 15°", "High up"),
            rows=_opening_rows(roof_openings),
        ),
        function=partial(roof_ventilation, roof_openings),
        example=MappingProxyType(
            {
                "kind": "ceiling-dense",
                "pitch_deg": 40,
                "shape": "two",
                "span_m": 8,
                "eaves_m": 12,
                "measured_eaves_mm": 10,
                "measured_ridge_mm": 0,
            }
        ),
        draw=draw_roof_ventilation,
        tables=only(data, "roof-openings"),
    )
