"""What is asked for the water that vapour leaves inside a roof: the build-up, the climate, and the room below."""

from __future__ import annotations

from build_tools.formulas.definition import Choice, Input, choice, number, rows_input
from build_tools.formulas.moisture.roof_layers import OWN
from build_tools.formulas.tables import choices_of
from build_tools.model.data import Climate, RoofBuildUp, RoofLayer, RoomClass


def roof_build_up_input(roof_build_ups: tuple[RoofBuildUp, ...]) -> Input:
    """Let a common build-up be picked, or own layers."""
    return choice(
        "build_up",
        "Build-up",
        choices=(
            *choices_of(roof_build_ups),
            Choice("loft", "Cold loft, wool on its floor"),
            Choice("flat-vented", "Flat, air blows over the wool"),
            Choice(OWN, "Own layers, listed below"),
        ),
        hint="The one most like it. Look in at the edge of the lining, at a downlight, or from the loft.",
        default="rafters-open",
    )


def own_layers_input(roof_layers: tuple[RoofLayer, ...]) -> Input:
    """Let own layers be listed, each of a material."""
    return rows_input(
        "layers",
        "Own layers, from the room outwards",
        columns=(
            choice("material", "Material", choices=choices_of(roof_layers), hint="The one most like it."),
            number("thickness_mm", "Thickness", low=0.1, high=400, hint="Of a film any will do: it counts as one."),
        ),
        low=1,
        high=10,
        hint="They count only if “own layers” is picked. Stop at the first gap that outside air blows through.",
        default=(("plasterboard", 12.5), ("wool", 100), ("felt", 1)),
    )


def climate_input(climates: tuple[Climate, ...]) -> Input:
    """Let the air outside be picked."""
    return choice(
        "climate",
        "Climate",
        choices=choices_of(climates),
        hint="The one whose January is most like yours; in doubt the colder.",
        default="england",
    )


def room_input(room_classes: tuple[RoomClass, ...]) -> Input:
    """Let the kind of room be picked."""
    return choice(
        "room",
        "Room below",
        choices=choices_of(room_classes),
        hint="By how it is used. Washing that dries indoors, or shut windows: take one class more.",
        default="class-3",
    )


ROOM_TEMPERATURE = number(
    "temperature_c",
    "Temperature of the room",
    low=5,
    high=35,
    hint="As it is kept in winter. 20 °C is usual.",
    default=20,
)
ROOM_HUMIDITY = number(
    "relative_humidity_percent",
    "Relative humidity of the room, if measured",
    low=10,
    high=100,
    hint="Over some weeks in winter. It goes before the kind of room, and is held all the year.",
    optional=True,
)
