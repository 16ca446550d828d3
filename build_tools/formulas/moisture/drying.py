"""How long plaster, screed and concrete give off the water they were laid with."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Data, DryingMaterial

DAYS_A_WEEK = 7
UNHEATED_FACTOR = 1.5
SHUT_FACTOR = 5
"""Printed for concrete, outdoors and in very humid air; taken for the others too (project choice)."""


def wet_material_input(drying_materials: tuple[DryingMaterial, ...]) -> Input:
    """Let what was laid wet be picked."""
    return choice(
        "material",
        "What was laid wet",
        choices=choices_of(drying_materials),
        hint="Concrete on sheet, tiles or ground dries to one side only. Several kinds: take the slowest.",
        default="plaster",
    )


WET_THICKNESS = number(
    "thickness_mm",
    "Thickness",
    low=1,
    high=600,
    hint="The whole of it, all coats together, where it is thickest.",
)
DRYING_AIR = choice(
    "air",
    "How it dries",
    choices=(
        Choice("aired", "Gently heated, and aired"),
        Choice("unheated", "Not heated, but aired"),
        Choice("shut", "Shut up and damp"),
    ),
    hint="How it was most of the time. Drops on the panes all day mean shut and damp.",
    default="aired",
)
LAID_AGO = number(
    "age_weeks",
    "Laid how long ago",
    low=0,
    high=2000,
    hint="From the day the last coat went on. Leave it out to see only the time that is needed.",
    optional=True,
)
DRYING_WEEKS = output("drying_weeks", "Dry after", step=1, rounds="up")
WEEKS_LEFT = output("left_weeks", "Still to go", step=1, rounds="up")


def drying_time(
    drying_materials: tuple[DryingMaterial, ...], material: str, thickness_mm: float, air: str, age_weeks: float | None
) -> Reckoned:
    """Find how many weeks a wet layer takes to dry, and whether it can still be wetting the air of the house.

    weeks = days of the table at this thickness x 1 aired, 1.5 not heated, 5 shut up, divided by 7

    Args:
        material: [choice] what was laid wet.
        thickness_mm: [mm] whole thickness of the layer.
        air: [choice] how it has been drying.
        age_weeks: [weeks] since it was laid; None if not known.

    Returns:
        drying_weeks: [weeks] until it is dry, rounded up; None where it is thicker than the source goes.
        left_weeks: [weeks] still to go, rounded up, nought at least; None without an age.

    Source:
        plaster-drying: a week for each 5 mm.
        screed-drying: a day for each millimetre, and twice that above 50 mm, or above 40.
        concrete-drying: days by thickness and faces; 1.5 times outdoors, 5 times in very humid air.
        new-home-drying: nine to twelve months as a rule for a whole new house, evenly heated and aired.
        first-heating-season: up to two years for one that was built wet.
        project-choice: the two factors hold for plaster and screed as well.

    Limits:
        It is a rule for planning. Only a test of the material says that it is dry, and floors have limits of their own.
        Between the thicknesses of the source it goes in a straight line.
        A coat of paint, a sheet over it, or frost can stop the drying.
        Heat gently: forced drying cracks plaster and curls a screed.

    Example:
        >>> drying_time(DRYING_MATERIALS, "plaster", 25, "aired", 3).outputs["drying_weeks"]
        5
        >>> drying_time(DRYING_MATERIALS, "plaster", 25, "aired", 3).verdict
        'still-wet'
    """
    row = drying_material(drying_materials, material)
    last = row.times[len(row.times) - 1]
    if not at_least(last.thickness_mm, thickness_mm):
        none = {"drying_weeks": None, "left_weeks": None}
        thick = f"{quantity(thickness_mm, 'mm')} is over {quantity(last.thickness_mm, 'mm')}, where the table ends."
        return Reckoned(outputs=none, verdict="too-thick", working=(thick,))
    days = drying_days(row, thickness_mm)
    slower = UNHEATED_FACTOR if air == "unheated" else SHUT_FACTOR if air == "shut" else 1
    weeks = rounded(days * slower / DAYS_A_WEEK, DRYING_WEEKS)
    working = (
        f"{row.label}, {quantity(thickness_mm, 'mm')}: {figure(days, 1)} days if heated and aired.",
        f"{figure(days, 1)} × {figure(slower, 1)} ÷ {DAYS_A_WEEK} = {figure(days * slower / DAYS_A_WEEK, 1)} weeks, "
        f"rounded up to {figure(weeks, 0)}.",
    )
    if age_weeks is None:
        return Reckoned(outputs={"drying_weeks": weeks, "left_weeks": None}, verdict=None, working=working)
    left = rounded(max(weeks - age_weeks, 0), WEEKS_LEFT)
    over = at_least(age_weeks, weeks)
    ago = f"Laid {figure(age_weeks, 1)} weeks ago: " + ("the time is over." if over else f"{figure(left, 0)} to go.")
    outputs = {"drying_weeks": weeks, "left_weeks": 0 if over else left}
    return Reckoned(outputs=outputs, verdict="time-over" if over else "still-wet", working=(*working, ago))


def drying_material(drying_materials: tuple[DryingMaterial, ...], material: str) -> DryingMaterial:
    """Look a material up by its id."""
    found = drying_materials[0]
    for row in drying_materials:
        if row.id == material:
            found = row
    return found


def drying_days(row: DryingMaterial, thickness_mm: float) -> float:
    """Give the days in a heated and aired room, in a straight line from nought through the points."""
    thin_mm = 0.0
    days = 0.0
    for point in row.times:
        if thickness_mm <= point.thickness_mm:
            share = (thickness_mm - thin_mm) / (point.thickness_mm - thin_mm)
            return days + share * (point.days_count - days)
        thin_mm = point.thickness_mm
        days = point.days_count
    return days


def _drying_rows(drying_materials: tuple[DryingMaterial, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: weeks in a heated and aired room, a dash beyond the source."""
    found = []
    for row in drying_materials:
        weeks = (
            drying_time(drying_materials, row.id, thick, "aired", None).outputs["drying_weeks"]
            for thick in (15.0, 25.0, 50.0, 75.0, 100.0)
        )
        found.append((row.label, *("—" if each is None else quantity(each, "wk") for each in weeks)))
    return tuple(found)


def formula(data: Data) -> Formula:
    """Make the formula."""
    drying_materials = rows(data, "drying-times", DryingMaterial)
    return Formula(
        id="drying-time",
        title="Drying time of wet work",
        subject="moisture",
        inputs=(wet_material_input(drying_materials), WET_THICKNESS, DRYING_AIR, LAID_AGO),
        outputs=(DRYING_WEEKS, WEEKS_LEFT),
        verdicts=MappingProxyType(
            {
                "still-wet": "It is still giving off water, and wet panes in cold weather can come from it. Heat "
                "gently and air, and go on watching for a leak.",
                "time-over": "By the rule this layer is dry, though a whole new house can stay moist for nine months "
                "to two years. Look for another cause as well, or have the material tested.",
                "too-thick": "It is thicker than the source goes. Only a test of the material tells.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the material and the thickness, the next thicker one between two.",
                "These are weeks in a gently heated and aired room. Not heated: half as long again. Shut up and damp: "
                "five times as long.",
            ),
            heads=("Laid wet", "15 mm", "25 mm", "50 mm", "75 mm", "100 mm"),
            rows=_drying_rows(drying_materials),
        ),
        function=partial(drying_time, drying_materials),
        example=MappingProxyType({"material": "plaster", "thickness_mm": 25, "air": "aired", "age_weeks": 3}),
        tables=only(data, "drying-times"),
    )
