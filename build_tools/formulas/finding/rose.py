"""A compass rose in a drawing: where points round it lie."""

from __future__ import annotations

import math

ROSE_X = 160.0
ROSE_Y = 128.0
"""Its middle, in the picture's units."""
ROSE_NAMES = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
"""Eight points clockwise, 45° apart."""


def rose_x(deg: float, out: float) -> float:
    """Give x of a point so far out, so many degrees clockwise from north."""
    return ROSE_X + out * math.sin(math.radians(deg))


def rose_y(deg: float, out: float) -> float:
    """Give y of a point so far out, so many degrees clockwise from north."""
    return ROSE_Y - out * math.cos(math.radians(deg))
