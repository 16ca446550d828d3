"""Points of the compass, and the rain that wind drives towards them."""

from __future__ import annotations

import math
from typing import NamedTuple


class Facing(NamedTuple):
    """A point of the compass, clockwise from north."""

    id: str
    label: str
    deg: float


COMPASS = (
    Facing("n", "North", 0.0),
    Facing("nne", "North-north-east", 22.5),
    Facing("ne", "North-east", 45.0),
    Facing("ene", "East-north-east", 67.5),
    Facing("e", "East", 90.0),
    Facing("ese", "East-south-east", 112.5),
    Facing("se", "South-east", 135.0),
    Facing("sse", "South-south-east", 157.5),
    Facing("s", "South", 180.0),
    Facing("ssw", "South-south-west", 202.5),
    Facing("sw", "South-west", 225.0),
    Facing("wsw", "West-south-west", 247.5),
    Facing("w", "West", 270.0),
    Facing("wnw", "West-north-west", 292.5),
    Facing("nw", "North-west", 315.0),
    Facing("nnw", "North-north-west", 337.5),
)


def driving_point(facing: str) -> Facing:
    """Give a point of the compass by its id."""
    found = COMPASS[0]
    for point in COMPASS:
        if point.id == facing:
            found = point
    return found


def driven_l_m2(hours: tuple[tuple[float, float, str], ...], facing_deg: float) -> float:
    """Give the rain in l/m² driven against a wall that faces so many degrees clockwise from north."""
    total = 0.0
    for wind_m_s, rain_mm, wind_from in hours:
        towards = math.cos(math.radians(driving_point(wind_from).deg - facing_deg))
        total = total + 2 / 9 * wind_m_s * math.pow(rain_mm, 8 / 9) * max(towards, 0.0)
    return total
