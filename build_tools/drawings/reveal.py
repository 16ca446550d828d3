"""Cold at the lining of a light: insulation that stops short, and vapour control that is not joined."""

from __future__ import annotations

from build_tools.drawings.pen import Drawing, area, ball, box, legend, line, water, words
from build_tools.formulas.numbers import quantity
from build_tools.formulas.surfaces import surface_humidity

ROOM_C = 20
OUTSIDE_C = 0
AIR_PERCENT = 60


def reveal_surface_c(surface: str) -> float:
    """Give how warm the lining stays in °C, in a room at 20 °C with 0 °C outside."""
    return surface_humidity(ROOM_C, AIR_PERCENT, OUTSIDE_C, surface, None, None).outputs["reached_c"] or 0


def cold_bridge() -> Drawing:
    """Draw the lining of a light twice: cold at its corner, and warm."""
    cold, warm = (quantity(reveal_surface_c(each), "°C") for each in ("reveal-bare", "reveal-insulated"))
    air = f"{quantity(OUTSIDE_C, '°C')} outside, {quantity(ROOM_C, '°C')} in the room"
    return Drawing(
        name="cold-bridge-at-the-reveal",
        title="Cold and warm at the lining of a light",
        desc="Two sections across the side of a light. Left: the insulation, 1, stops short and leaves a strip beside "
        "the frame, 2, empty. The vapour control layer, 3, ends in a gap, 6, so room air gets behind the lining, 4. In "
        f"the cold corner, 5, the air of the room turns to drops; they run down the lining and fall. With {air}, a "
        f"lining of plasterboard on 25 mm of timber stays near {cold}, and a real corner is colder. Right: the strip "
        "is filled, insulation board lies behind the lining, and the vapour control layer is joined to the frame, 7; 8 "
        f"is the covering. With 25 mm of insulation board the same lining stays near {warm}. Temperatures are a "
        "working of this guide; the build-up is common practice, no source.",
        height=380,
        sources=("reveal-working", "surface-films", "common-practice"),
        shapes=(*_cold_bridge_parts(cold, warm), *_cold_bridge_names(air)),
    )


def _cold_bridge_parts(cold: str, warm: str) -> tuple[str, ...]:
    """Draw its parts."""
    return (
        *_reveal(8, insulated=False),
        *_reveal(190, insulated=True),
        line("thin", (182, 118), (182, 372)),
        words(58, 140, "cold", strong=True),
        words(240, 140, "warm", strong=True),
        words(16, 366, f"lining near {cold}"),
        words(198, 366, f"lining near {warm}"),
        water((135, 196), (135, 316)),
        words(84, 336, "drops fall"),
    )


def _cold_bridge_names(air: str) -> tuple[str, ...]:
    """Number its parts and name them."""
    return (
        ball(1, (44, 262), (44, 232)),
        ball(2, (101, 232), (101, 232)),
        ball(3, (30, 312), (30, 273)),
        ball(4, (162, 256), (124, 248)),
        ball(5, (162, 206), (132, 192)),
        ball(6, (104, 310), (104, 273)),
        ball(1, (226, 262), (226, 232)),
        ball(2, (281, 232), (281, 232)),
        ball(3, (212, 312), (212, 273)),
        ball(4, (342, 256), (306, 248)),
        ball(7, (342, 206), (300, 194)),
        ball(8, (34, 138), (34, 163)),
        ball(8, (216, 138), (216, 163)),
        *legend(
            ("insulation", "beside the frame", "vapour control", "lining"),
            ("cold corner", "gap in it", "joined to frame", "covering"),
        ),
        words(12, 110, air),
    )


def _reveal(x: float, insulated: bool) -> tuple[str, ...]:
    """Draw frame, glass, insulation, lining and ceiling from the left edge of one half."""
    strip = (box("wool", x + 74, 184, 32, 82),) if insulated else ()
    layer = (
        line("vapour", (x + 2, 269), (x + 110, 269), (x + 110, 200), (x + 104, 192))
        if insulated
        else line("vapour", (x + 2, 269), (x + 84, 269))
    )
    joint = (area("seal", (x + 100, 188), (x + 112, 188), (x + 112, 198), (x + 100, 198)),) if insulated else ()
    return (
        box("cut", x, 160, 74, 8),
        box("wool", x, 184, 74, 82),
        *strip,
        layer,
        box("edge", x + 112, 188, 8, 92),
        box("edge", x, 272, 120, 8),
        box("cut", x + 92, 152, 28, 36),
        *joint,
        box("edge", x + 106, 142, 62, 5),
        box("edge", x + 106, 153, 62, 5),
        box("seal", x + 106, 147, 7, 6),
    )
