"""Mass of sheet metal, by lead code or by metal and thickness."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.numbers import figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Data, LeadCode, Metal


def mass_sheet_input(lead_codes: tuple[LeadCode, ...], metals: tuple[Metal, ...]) -> Input:
    """Let a lead code or another metal be picked."""
    return choice(
        "sheet",
        "Sheet",
        choices=(*choices_of(lead_codes), *(each for each in choices_of(metals) if each.value != "lead")),
        hint="A roll of lead has its code and colour on the label. A piece without one: measure its thickness.",
        default="code-4",
    )


MASS_THICKNESS = number(
    "thickness_mm",
    "Thickness",
    low=0.1,
    high=20,
    hint="With a caliper, at a clean cut edge. Lead may be left out: the code says it. A measured one goes before it.",
    optional=True,
)
MASS_WIDTH = number("width_mm", "Width of a piece", low=10, high=5000, hint="Flat, before it is folded.")
MASS_LENGTH = number("length_mm", "Length of a piece", low=10, high=20000, hint="Laps and turn-ups with it.")
MASS_PIECES = number("pieces_count", "Pieces alike", low=1, high=1000, hint="Of the same size.", default=1, whole=True)
SHEET_MASS_M2 = output("mass_kg_m2", "A square metre", step=0.01, rounds="up")
SHEET_MASS = output("mass_kg", "One piece", step=0.1, rounds="up")
SHEET_TOTAL = output("total_kg", "All pieces", step=0.1, rounds="up")


def sheet_mass(
    lead_codes: tuple[LeadCode, ...],
    metals: tuple[Metal, ...],
    sheet: str,
    thickness_mm: float | None,
    width_mm: float,
    length_mm: float,
    pieces_count: int,
) -> Reckoned:
    """Find the mass of sheet metal, to order it and to know what is to be carried up.

    mass = density x thickness x width x length

    Args:
        sheet: [choice] lead by its code, or another metal.
        thickness_mm: [mm] thickness; None to take that of the lead code.
        width_mm: [mm] width of a piece, laid flat.
        length_mm: [mm] length of a piece.
        pieces_count: [count] pieces of the same size.

    Returns:
        mass_kg_m2: [kg_m2] of a square metre, rounded up; None where a thickness is missing.
        mass_kg: [kg] of one piece, rounded up.
        total_kg: [kg] of all of them, rounded up.

    Source:
        lead-codes: thicknesses of the codes.
        metal-properties: densities.
        hse-l23: 25 kg as the filter for a man with the load close to the body.

    Limits:
        Sheet may be thicker or thinner than its code by a twentieth, and its mass with it.
        Waste and the lead for welts and laps not counted in the size come on top.
        More than 25 kg in one roll or piece is not for one man, and on a ladder nothing is carried in the hands.

    Example:
        >>> sheet_mass(LEAD_CODES, METALS, "code-4", None, 300, 1500, 1).outputs["mass_kg"]
        9.2
        >>> sheet_mass(LEAD_CODES, METALS, "zinc", None, 300, 1500, 1).outputs["mass_kg"] is None
        True
    """
    thick_mm = 0.0 if thickness_mm is None else thickness_mm
    metal = sheet
    for code in lead_codes:
        if code.id == sheet:
            metal = "lead"
            thick_mm = code.thickness_mm if thickness_mm is None else thickness_mm
    if thick_mm == 0:
        nothing = {"mass_kg_m2": None, "mass_kg": None, "total_kg": None}
        said = "This metal has no code that says its thickness. Measure it, or read it in the order."
        return Reckoned(outputs=nothing, verdict=None, working=(said,))
    density = 0.0
    for row in metals:
        if row.id == metal:
            density = row.density_kg_m3
    exact_kg_m2 = density * thick_mm / 1000
    area_m2 = width_mm * length_mm / 1000000
    mass_kg = rounded(exact_kg_m2 * area_m2, SHEET_MASS)
    total_kg = rounded(exact_kg_m2 * area_m2 * pieces_count, SHEET_TOTAL)
    outputs = {"mass_kg_m2": rounded(exact_kg_m2, SHEET_MASS_M2), "mass_kg": mass_kg, "total_kg": total_kg}
    working = (
        f"{quantity(density, 'kg/m³')} × {quantity(thick_mm, 'mm')} = {figure(exact_kg_m2, 3)} kg/m².",
        f"{quantity(width_mm, 'mm')} × {quantity(length_mm, 'mm')} = {figure(area_m2, 4)} m², which weigh "
        f"{figure(exact_kg_m2 * area_m2, 2)} kg. Rounded up: {quantity(mass_kg, 'kg')}.",
        f"{pieces_count} × {figure(exact_kg_m2 * area_m2, 2)} kg, rounded up: {quantity(total_kg, 'kg')}.",
    )
    return Reckoned(outputs=outputs, verdict=None, working=working)


def _sheet_masses(lead_codes: tuple[LeadCode, ...], metals: tuple[Metal, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: each lead code."""
    return tuple(
        (
            code.label,
            quantity(code.thickness_mm, "mm"),
            quantity(rounded(_lead_kg_m3(metals) * code.thickness_mm / 1000, SHEET_MASS_M2), "kg"),
            quantity(rounded(_lead_kg_m3(metals) * code.thickness_mm / 1000 * 0.45, SHEET_MASS), "kg"),
        )
        for code in lead_codes
    )


def _lead_kg_m3(metals: tuple[Metal, ...]) -> float:
    return next((row for row in metals if row.id == "lead"), metals[0]).density_kg_m3


def formula(data: Data) -> Formula:
    """Make the formula."""
    lead_codes = rows(data, "lead-codes", LeadCode)
    metals = rows(data, "metals", Metal)
    return Formula(
        id="sheet-mass",
        title="Mass of sheet metal",
        subject="sheet",
        inputs=(mass_sheet_input(lead_codes, metals), MASS_THICKNESS, MASS_WIDTH, MASS_LENGTH, MASS_PIECES),
        outputs=(SHEET_MASS_M2, SHEET_MASS, SHEET_TOTAL),
        verdicts=MappingProxyType({}),
        by_hand=ByHand(
            rule=(
                "Multiply width by length in metres, and the square metres by the mass in the table.",
                "Other metals: kilograms to a square metre and millimetre are zinc 7.2, copper 8.9, aluminium 2.7, "
                "steel 7.9.",
            ),
            heads=("Sheet", "Thickness", "1 m² weighs", "1 m of a strip 450 mm wide"),
            rows=_sheet_masses(lead_codes, metals),
        ),
        function=partial(sheet_mass, lead_codes, metals),
        example=MappingProxyType({"sheet": "code-4", "width_mm": 300, "length_mm": 1500, "pieces_count": 4}),
        tables=only(data, "lead-codes", "metals"),
    )
