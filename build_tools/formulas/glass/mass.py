"""Flat glass: its mass, and how many people or what else it takes to lift it."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Choice, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.glass.mass_drawing import draw_glass_mass
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Data, LiftFilter

GLASS_KG_M2_MM = 2.5
"""A square metre of glass a millimetre thick: 2500 kg/m³."""
SHARE_OF_TWO = 2 / 3
SHARE_OF_THREE = 1 / 2
"""Of what each one lifts alone, added up."""


PANE_WIDTH = number(
    "width_mm",
    "Width of the glass",
    low=50,
    high=6000,
    hint="The glass itself. From inside, measure what shows and add what the frame hides on both sides.",
)
PANE_HEIGHT = number(
    "height_mm", "Height of the glass", low=50, high=6000, hint="Along the slope, edge to edge, like the width."
)
GLASS_THICKNESS = number(
    "glass_mm",
    "Thickness of all the glass",
    low=2,
    high=100,
    hint="Add up the panes and leave out the gaps: 4 and 4 make 8, and 6 with a laminate of 6.4 makes 12.4. Look at "
    "the corner mark, at the papers, or at the reflections of a flame: each pane gives two.",
)
PANES = number(
    "panes_count",
    "How many alike",
    low=1,
    high=100,
    hint="A sealed unit counts as one. Only one at a time is lifted; the sum is what the scaffold has to carry.",
    default=1,
    whole=True,
)


def hands_input(lift_filters: tuple[LiftFilter, ...]) -> Input:
    """Let the height of the hands be picked."""
    return choice(
        "hands",
        "Where the hands pass",
        choices=choices_of(lift_filters),
        hint="The worst place on the way from start to end. Over a low upstand you stoop, and the hands are at the "
        "shin; "
        "on a roof they are seldom at the elbow.",
        default="to-knuckle",
    )


REACH = choice(
    "reach",
    "Held",
    choices=(Choice("far", "At the length of the arms"), Choice("close", "Close to the body")),
    hint="Close means that it touches forearms and belly. Over an upstand or a slope it is at the length of the arms.",
    default="far",
)
LIFTERS = choice(
    "lifters",
    "Who lifts",
    choices=(Choice("men", "Men"), Choice("women", "Women, or men and women")),
    hint="The guidance has two sets of numbers, and the lower one holds for the whole team. Take it in doubt.",
    default="men",
)
GLASS_MASS = output("mass_kg", "One weighs", step=0.1, rounds="up")
GLASS_TOTAL = output("total_kg", "All of them", step=0.1, rounds="up")
LIFT_PEOPLE = output("people_count", "People to lift one", step=1, rounds="up")


def glass_mass(
    lift_filters: tuple[LiftFilter, ...],
    width_mm: float,
    height_mm: float,
    glass_mm: float,
    panes_count: int,
    hands: str,
    reach: str,
    lifters: str,
) -> Reckoned:
    """Find the mass of a pane or a sealed unit, and how many people it takes to lift it, or lifting gear.

    mass = width x height x thickness of all the glass x 2500 kg/m3

    Args:
        width_mm: [mm] width of the glass.
        height_mm: [mm] height of the glass, along the slope.
        glass_mm: [mm] thickness of all the glass in it, without the gaps.
        panes_count: [count] how many of the same size there are.
        hands: [choice] the worst height at which the hands pass.
        reach: [choice] at the length of the arms, or close to the body.
        lifters: [choice] whose numbers of the guidance are taken.

    Returns:
        mass_kg: [kg] of one, rounded up.
        total_kg: [kg] of all of them, rounded up.
        people_count: [count] who together stay under the filter; None where it takes lifting gear.

    Source:
        glass-density: 2500 kg/m3.
        hse-l23: what one person lifts at each height before the lift is assessed in full.
        hse-team-lift: two thirds of the sum for two, half of it for three.
        hse-hsg33: nobody works alone on a roof.

    Limits:
        It is the mass of glass alone. Frame, spacer, putty and old sealant come on top: lift one corner, or weigh it.
        The numbers of the guidance are a filter and no limit. Over them a trained person assesses the lift;
        under them wind, a slope, a wet pane or a poor grip can still make it unsafe.
        On a slope most of the load comes on whoever stands lower.
        Glass is never carried up a ladder by hand.

    Example:
        >>> glass_mass(LIFT_FILTERS, 1200, 900, 8, 1, "to-elbow", "close", "men").outputs["mass_kg"]
        21.6
        >>> glass_mass(LIFT_FILTERS, 1200, 900, 8, 1, "to-knuckle", "close", "men").verdict
        'two'
    """
    exact_kg = width_mm * height_mm * glass_mm * GLASS_KG_M2_MM / 1000000
    mass_kg = rounded(exact_kg, GLASS_MASS)
    total_kg = rounded(exact_kg * panes_count, GLASS_TOTAL)
    filter_kg = lift_filter_kg(lift_filters, hands, reach, lifters)
    two_kg = 2 * filter_kg * SHARE_OF_TWO
    three_kg = 3 * filter_kg * SHARE_OF_THREE
    verdict = _lift_verdict(mass_kg, filter_kg, two_kg, three_kg)
    people_count: float | None = None
    if verdict != "gear":
        people_count = 1 if verdict == "one" else 2 if verdict == "two" else 3
    outputs = {"mass_kg": mass_kg, "total_kg": total_kg, "people_count": people_count}
    working = (
        f"{figure(width_mm / 1000, 3)} m × {figure(height_mm / 1000, 3)} m × {quantity(glass_mm, 'mm')} × "
        f"{quantity(GLASS_KG_M2_MM, 'kg')} = {figure(exact_kg, 2)} kg. Rounded up: {quantity(mass_kg, 'kg')}.",
        f"Filter for one here: {quantity(filter_kg, 'kg')}. Two have two thirds of the sum, {figure(two_kg, 1)} kg; "
        f"three have half of it, {figure(three_kg, 1)} kg.",
    )
    if panes_count == 1:
        return Reckoned(outputs=outputs, verdict=verdict, working=working)
    stack = f"All {panes_count}: {quantity(total_kg, 'kg')}. Ask what the scaffold is made to carry before they go up."
    return Reckoned(outputs=outputs, verdict=verdict, working=(*working, stack))


def lift_filter_kg(lift_filters: tuple[LiftFilter, ...], hands: str, reach: str, lifters: str) -> float:
    """Look up what one person lifts there before the lift is assessed in full."""
    found = lift_filters[0]
    for row in lift_filters:
        if row.id == hands:
            found = row
    if lifters == "men":
        return found.men_close_kg if reach == "close" else found.men_far_kg
    return found.women_close_kg if reach == "close" else found.women_far_kg


def _lift_verdict(mass_kg: float, one_kg: float, two_kg: float, three_kg: float) -> str:
    """Compare the mass as shown, so that rounding never calls for fewer hands."""
    if at_least(one_kg, mass_kg):
        return "one"
    if at_least(two_kg, mass_kg):
        return "two"
    return "three" if at_least(three_kg, mass_kg) else "gear"


def _glass_masses() -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: usual glass, and its mass to a square metre."""
    usual = (
        ("One pane of 4 mm", 4.0),
        ("One pane of 6 mm", 6.0),
        ("Laminate of 6.4 mm", 6.4),
        ("Sealed unit, 4 and 4 mm", 8.0),
        ("Sealed unit, 4 and 6.4 mm laminate", 10.4),
        ("Sealed unit, 6 and 6.4 mm laminate", 12.4),
        ("Sealed unit, 4, 4 and 6.4 mm laminate", 14.4),
        ("Sealed unit, 6 and 8.8 mm laminate", 14.8),
    )
    return tuple(
        (name, quantity(thick, "mm"), quantity(rounded(thick * GLASS_KG_M2_MM, GLASS_MASS), "kg"))
        for name, thick in usual
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    lift_filters = rows(data, "lift-filters", LiftFilter)
    return Formula(
        id="glass-mass",
        title="Mass of glass, and hands to lift it",
        subject="glass",
        inputs=(PANE_WIDTH, PANE_HEIGHT, GLASS_THICKNESS, PANES, hands_input(lift_filters), REACH, LIFTERS),
        outputs=(GLASS_MASS, GLASS_TOTAL, LIFT_PEOPLE),
        verdicts=MappingProxyType(
            {
                "one": "By its mass it is within the filter for one. On a roof take two all the same: glass catches "
                "the wind, and nobody works there alone.",
                "two": "By its mass it is within the filter for two in this position. Give each a firm stand and a "
                "grip that holds, and let one of them give the word.",
                "three": "It takes three in this position, and three seldom find room and grip at one pane. Plan for "
                "lifting gear.",
                "gear": "It is over the filter even for three in this position. Use lifting gear, or have the lift "
                "planned by somebody trained for it.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Multiply width by height in metres, and the square metres by the mass in the table.",
                "For other glass, take 2.5 kg to a square metre for each millimetre of glass.",
                "Hands between shin and knuckle, arms out: one man 10 kg, two 13 kg, three 15 kg. Over that, gear.",
            ),
            heads=("Glass", "In all", "1 m² weighs"),
            rows=_glass_masses(),
        ),
        function=partial(glass_mass, lift_filters),
        example=MappingProxyType(
            {
                "width_mm": 1200,
                "height_mm": 900,
                "glass_mm": 8,
                "panes_count": 1,
                "hands": "to-knuckle",
                "reach": "close",
                "lifters": "men",
            }
        ),
        draw=draw_glass_mass,
        tables=only(data, "lift-filters"),
    )
