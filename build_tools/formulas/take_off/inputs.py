"""What is measured on a roof to take materials off, and what comes out."""

from __future__ import annotations

from build_tools.formulas.definition import Choice, choice, number, output
from build_tools.formulas.sheet.thermal import LONGEST_LEAD_MM
from build_tools.formulas.take_off.runs import RUNS

TAKEN_RUN = choice(
    "run",
    "What it is taken along",
    choices=tuple(Choice(each.id, each.label) for each in RUNS),
    hint="The edges it runs along, the courses it goes with, or the area it covers.",
    default="sides",
)
TAKEN_JOINT = choice(
    "joint",
    "How its pieces meet",
    choices=(
        Choice("none", "No lap: tape, sealant, timber end to end"),
        Choice("whole", "One whole piece to an edge"),
        Choice("sheet", "Sheet metal, lapped for the pitch"),
        Choice("roll", "Gutter sheet, with a wood-cored roll"),
        Choice("underlay", "Underlay, lapped for the pitch"),
    ),
    hint="Only of what is taken by its length.",
    default="none",
)
LIGHT_WIDTH = number(
    "width_mm",
    "Width of the light",
    low=100,
    high=10000,
    hint="Across the slope, over the outside of the upstand or frame. From indoors, add the thickness of both sides.",
    optional=True,
)
LIGHT_HEIGHT = number(
    "height_mm",
    "Length of the light up the slope",
    low=100,
    high=10000,
    hint="Along the slope, over the outside of the upstand or frame, from its foot to its head.",
    optional=True,
)
LIGHTS = number(
    "lights_count", "Lights of this size", low=1, high=20, hint="Those done in one go.", default=1, whole=True
)
TAKEN_GAUGE = number(
    "gauge_mm",
    "Gauge of the covering",
    low=40,
    high=700,
    hint="From tail to tail. Measure over ten courses and divide by ten. Plain tiles lie at about 100.",
    optional=True,
)
TAKEN_COVER = number(
    "cover_mm",
    "Cover width of a tile or slate",
    low=50,
    high=1500,
    hint="From one joint to the next, across the slope. Measure over ten and divide by ten.",
    optional=True,
)
TAKEN_PITCH = number(
    "pitch_deg",
    "Pitch of the roof at the light",
    low=0,
    high=90,
    hint="Lay a small level or a slope gauge on the covering, or on a rafter in the loft.",
    optional=True,
)
TAKEN_SLOPE_WIDTH = number(
    "slope_width_m",
    "Width of the slope",
    low=0.2,
    high=60,
    hint="Along the eaves, from verge to verge. It can be measured from the ground.",
    optional=True,
)
TAKEN_SLOPE_LENGTH = number(
    "slope_length_m",
    "Length of the slope",
    low=0.2,
    high=40,
    hint="Along the rafter, from the edge of the eaves to the ridge.",
    optional=True,
)
TAKEN_REVEAL = number(
    "reveal_mm",
    "Depth of the reveal",
    low=20,
    high=2000,
    hint="Indoors, from the frame to the face of the ceiling. Where it splays, take the deepest place.",
    optional=True,
)
ROLL_WIDTH = number(
    "strip_mm",
    "Width of the roll of underlay",
    low=500,
    high=3000,
    hint="It stands on the label of the roll. Rolls of 1000 and 1500 mm are usual.",
    default=1000,
)
PAST_EDGE = number(
    "past_mm",
    "Past each end of an edge",
    low=0,
    high=2000,
    hint="How far the piece goes beyond the light at each end.",
    default=0,
)
LONGEST_PIECE = number(
    "longest_mm",
    "Longest piece that may be laid",
    low=500,
    high=20000,
    hint=f"Lead is laid in pieces of {LONGEST_LEAD_MM} mm at most. Leave it out where there is no limit.",
    optional=True,
)
WASTE = number(
    "waste_percent",
    "Waste",
    low=0,
    high=50,
    hint="What is cut off, spoilt or broken. A tenth is common practice, and has no source.",
    default=10,
)
LENGTH_SOLD = number(
    "sold_m",
    "Length that it is sold in",
    low=0.5,
    high=200,
    hint="A bar, a roll, or how far a cartridge reaches. Leave it out to see only the length.",
    optional=True,
)
TAKEN_LENGTH = output("length_m", "Length, with laps and waste", step=0.1, rounds="up")
TAKEN_AREA = output("area_m2", "Area, with waste", step=0.1, rounds="up")
TAKEN_PIECES = output("pieces_count", "Pieces, with waste", step=1, rounds="up")
TO_BUY = output("sold_count", "To buy", step=1, rounds="up")
INPUTS = (
    TAKEN_RUN,
    TAKEN_JOINT,
    LIGHT_WIDTH,
    LIGHT_HEIGHT,
    LIGHTS,
    TAKEN_GAUGE,
    TAKEN_COVER,
    TAKEN_PITCH,
    TAKEN_SLOPE_WIDTH,
    TAKEN_SLOPE_LENGTH,
    TAKEN_REVEAL,
    ROLL_WIDTH,
    PAST_EDGE,
    LONGEST_PIECE,
    WASTE,
    LENGTH_SOLD,
)
"""All of them, in the order in which the function takes them."""
