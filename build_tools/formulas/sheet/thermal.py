"""Sheet metal in heat and cold: how far a piece grows and shrinks, and how long it may be."""

from __future__ import annotations

from functools import partial
from types import MappingProxyType

from build_tools.formulas.definition import ByHand, Formula, Input, Reckoned, choice, number, output
from build_tools.formulas.numbers import at_least, figure, quantity, rounded
from build_tools.formulas.tables import choices_of, only, rows
from build_tools.model.data import Data, Metal

LONGEST_LEAD_MM = 1500
"""A flashing, an apron or a back gutter of lead in one piece."""
USUAL_RANGE_K = 75
"""From about −15 °C on a clear night to about 60 °C in the sun (common practice, no source)."""


def growing_metal_input(metals: tuple[Metal, ...]) -> Input:
    """Let the metal be picked."""
    return choice(
        "metal",
        "Metal",
        choices=choices_of(metals),
        hint="Lead is soft and bends under the thumb. Steel holds a magnet. Copper goes brown or green, zinc dull "
        "grey.",
        default="lead",
    )


GROWING_LENGTH = number(
    "length_mm",
    "Length of the piece",
    low=50,
    high=20000,
    hint="From end to end of one piece, along its longer side. A soldered joint does not end it.",
)
GROWING_RANGE = number(
    "temperature_range_k",
    "Range of temperature",
    low=10,
    high=150,
    hint="Of the sheet itself, from the coldest night to the hottest day. 75 is usual in Britain; dark sheet over "
    "insulation has more.",
    default=USUAL_RANGE_K,
)
GROWING_ROOM = number(
    "room_mm",
    "Room that its end has to move",
    low=0.1,
    high=50,
    hint="How far it can slide before it meets a nail, a wall or its neighbour. Leave it out if it is not known.",
    optional=True,
)
MOVEMENT = output("movement_mm", "Movement", step=0.1, rounds="up")
LONGEST_PIECE = output("longest_mm", "Longest piece", step=10, rounds="down")


def thermal_movement(
    metals: tuple[Metal, ...], metal: str, length_mm: float, temperature_range_k: float, room_mm: float | None
) -> Reckoned:
    """Find how far a piece of sheet moves between cold and heat, and how long a piece may be.

    movement = expansion x length x range of temperature

    Args:
        metal: [choice] which metal.
        length_mm: [mm] length of the piece.
        temperature_range_k: [k] range of temperature of the sheet.
        room_mm: [mm] room that its end has to move; None if it is not known.

    Returns:
        movement_mm: [mm] from coldest to hottest, rounded up.
        longest_mm: [mm] longest piece, rounded down; None for other metals than lead where the room is not known.

    Source:
        metal-properties: how far each metal grows.
        lead-expansion-book: the same for lead, with an example.
        new-homes-weathering: lead flashings and aprons are no longer than 1.5 m in one piece.
        side-lap-guidance: a back gutter of code 4 is allowed 2 m.
        project-choice: 1.5 m for a back gutter too.
        common-practice: 75 kelvin as the usual range.

    Limits:
        The 1.5 m are for lead flashings and aprons of code 4 in sheltered and moderate places.
        Exposed places take thicker lead, and code 3 shorter pieces.
        Lead roofs in bays, and other metals, go by the lengths of their own guidance.
        A piece that is fixed along both edges cannot move, however short it is.

    Example:
        >>> thermal_movement(METALS, "lead", 1500, 75, None).outputs["movement_mm"]
        3.4
        >>> thermal_movement(METALS, "zinc", 3000, 75, 4).verdict
        'no-room'
    """
    growth = metals[0].expansion_um_m_k
    for row in metals:
        if row.id == metal:
            growth = row.expansion_um_m_k
    share = growth * temperature_range_k / 1000000
    exact_mm = share * length_mm
    movement_mm = rounded(exact_mm, MOVEMENT)
    longest_mm: float | None = None
    working: tuple[str, ...] = (
        f"{quantity(growth, 'µm/(m·K)')} × {figure(length_mm / 1000, 3)} m × {quantity(temperature_range_k, 'K')} = "
        f"{figure(exact_mm, 2)} mm. Rounded up: {quantity(movement_mm, 'mm')}.",
    )
    if room_mm is not None:
        longest_mm = rounded(room_mm / share, LONGEST_PIECE)
        working = (
            *working,
            f"{quantity(room_mm, 'mm')} of room serve {figure(room_mm / share, 0)} mm. Rounded down: "
            f"{quantity(longest_mm, 'mm')}.",
        )
    if metal == "lead":
        longest_mm = LONGEST_LEAD_MM if longest_mm is None else min(longest_mm, LONGEST_LEAD_MM)
        working = (*working, f"A flashing or gutter of lead is never longer than {quantity(LONGEST_LEAD_MM, 'mm')}.")
    outputs = {"movement_mm": movement_mm, "longest_mm": longest_mm}
    return Reckoned(outputs=outputs, verdict=_growth_verdict(metal, length_mm, longest_mm), working=working)


def _growth_verdict(metal: str, length_mm: float, longest_mm: float | None) -> str | None:
    """Compare with the longest piece as shown."""
    if longest_mm is None:
        return None
    if metal == "lead" and not at_least(LONGEST_LEAD_MM, length_mm):
        return "too-long"
    return "within" if at_least(longest_mm, length_mm) else "no-room"


def _growths(metals: tuple[Metal, ...]) -> tuple[tuple[str, ...], ...]:
    """Rows for reckoning by hand: the movement of usual lengths in the usual range."""
    return tuple(
        (
            row.label,
            *(
                quantity(rounded(row.expansion_um_m_k * USUAL_RANGE_K * metres / 1000, MOVEMENT), "mm")
                for metres in (1.0, 1.5, 2.0, 3.0)
            ),
        )
        for row in metals
    )


def formula(data: Data) -> Formula:
    """Make the formula."""
    metals = rows(data, "metals", Metal)
    return Formula(
        id="thermal-movement",
        title="Movement of sheet in heat and cold",
        subject="sheet",
        inputs=(growing_metal_input(metals), GROWING_LENGTH, GROWING_RANGE, GROWING_ROOM),
        outputs=(MOVEMENT, LONGEST_PIECE),
        verdicts=MappingProxyType(
            {
                "within": "The piece is no longer than it may be. It still has to be fixed along one edge only, with "
                "laps that can slide.",
                "no-room": "It grows more than it has room for, and buckles, splits or works its fixings loose. "
                "Shorten it, or give it room.",
                "too-long": "A lead flashing or gutter is no longer than 1.5 m in one piece. Look for cracks across "
                "it, and renew it in shorter pieces: flashings lap, a back gutter takes a wood-cored roll.",
            }
        ),
        by_hand=ByHand(
            rule=(
                "Find the metal and the next longer length in the table: so far it moves over 75 kelvin.",
                "Lead flashings are never longer than 1.5 m in one piece.",
            ),
            heads=("Metal", "1 m", "1.5 m", "2 m", "3 m"),
            rows=_growths(metals),
        ),
        function=partial(thermal_movement, metals),
        example=MappingProxyType({"metal": "lead", "length_mm": 2400, "temperature_range_k": 75, "room_mm": 5}),
        tables=only(data, "metals"),
    )
