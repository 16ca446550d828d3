"""A formula of the tests alone: a list of layers, picked and counted, with a data table behind it."""

from __future__ import annotations

from types import MappingProxyType

from edges import Edges, Values, near
from hypothesis import strategies as st
from own_tables import DATA, METALS

from build_tools.formulas.definition import ByHand, Choice, Formula, Reckoned, choice, number, output, rows_input
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only

LIMIT_KG = 25
LAYERS = rows_input(
    "layers",
    "Sheets, from the lowest up",
    columns=(
        choice("metal", "Metal", choices=choices_of(METALS), hint="Lift a corner."),
        number("thickness_mm", "Thickness", low=0.1, high=5, hint="Use callipers."),
        number("sheets_count", "Sheets", low=1, high=9, whole=True, optional=True, hint="Count them. One if left out."),
    ),
    low=1,
    high=4,
    hint="One line for each kind of sheet.",
    default=(("lead", 1.8, 1),),
)
HANDS = number("hands_count", "Hands", low=1, high=6, whole=True, hint="Count who is there.")
WRAP = choice(
    "wrapped", "Wrapped", choices=(Choice("no", "No"), Choice("yes", "Yes")), hint="Look at it.", default="no"
)
MASS = output("mass_kg", "Mass of a square metre", step=0.1, rounds="up")
COUNT = output("sheets_count", "Sheets in all", step=1, rounds="nearest")


def stack_mass(layers: tuple[tuple[str, float, int | None], ...], hands_count: int, wrapped: str) -> Reckoned:
    """Find the mass of a square metre of stacked sheet.

    mass = Σ density × thickness × count

    Args:
        layers: [rows] the sheets.
        hands_count: [count] who lifts.
        wrapped: [choice] whether a kilogram of wrapping comes on top.

    Returns:
        mass_kg: [kg] rounded up.
        sheets_count: [count] all sheets.

    Source:
        project-choice: everything here.

    Limits:
        It is for tests.

    Example:
        >>> stack_mass((("lead", 1.8, 2),), 1, "no").outputs["mass_kg"]
        40.9
    """
    total_kg = 1.0 if wrapped == "yes" else 0.0
    count = 0
    working: tuple[str, ...] = ()
    for metal, thickness_mm, sheets in layers:
        times = 1 if sheets is None else sheets
        each_kg = stack_density(metal) * thickness_mm / 1000
        total_kg = total_kg + each_kg * times
        count = count + times
        working = (*working, f"{metal}, {quantity(thickness_mm, 'mm')}: {times} × {figure(each_kg, 2)} kg.")
    mass_kg = rounded(total_kg, MASS)
    outputs = {"mass_kg": mass_kg, "sheets_count": rounded(count, COUNT)}
    enough = at_least(LIMIT_KG * hands_count, mass_kg)
    return Reckoned(outputs=outputs, verdict="enough" if enough else "too-few", working=working)


def stack_density(metal: str) -> float:
    """Look up the density of a metal in kg/m³."""
    found = METALS[0]
    for each in METALS:
        if each.id == metal:
            found = each
    return found.density_kg_m3


BUILD_UP = Formula(
    id="stack-mass",
    title="Mass of stacked sheet",
    subject="sheet",
    inputs=(LAYERS, HANDS, WRAP),
    outputs=(MASS, COUNT),
    verdicts=MappingProxyType({"enough": "There are hands enough.", "too-few": "There are too few hands."}),
    by_hand=ByHand(rule=("Weigh it.",), heads=("Metal", "1 mm"), rows=(("Lead", "11.4 kg"),)),
    function=stack_mass,
    example=MappingProxyType({"layers": (("lead", 1.8, 2), ("zinc", 0.8, None)), "hands_count": 2, "wrapped": "no"}),
    tables=only(DATA, "metals"),
)


@st.composite
def near_an_edge(draw: st.DrawFn) -> Values:
    """A stack whose mass is a hand's limit or a rounding step, and the next digits."""
    hands = draw(st.integers(1, 6))
    tenths = draw(st.sampled_from((10 * LIMIT_KG * hands, draw(st.integers(20, 500)))))
    row = draw(st.sampled_from(METALS))
    sheets = draw(st.none() | st.integers(1, 9))
    thickness_mm = draw(near(100 * tenths / row.density_kg_m3 / (sheets or 1), 0.1, 5))
    return ((row.id, thickness_mm, sheets),), hands, "no"


EDGES: Edges = {BUILD_UP.id: near_an_edge}
