"""What two places could come to say differently: said once, or in the same words."""

from __future__ import annotations

import re

from guides import ROOT, the_checked
from own_tables import FORMULAS

from build_tools.model import Measure

DRAFT = the_checked().draft


def test_how_long_a_meter_lies_is_said_beside_its_field_alone() -> None:
    hint = next(each.hint for each in FORMULAS["surface-humidity"].inputs if each.name == "temperature_c")
    assert hint.endswith("after the meter has lain there an hour.")
    steps = [step for tree in DRAFT.trees.values() for step in tree.steps.values()]
    airs = {name for name, each in FORMULAS.items() if any(asked.hint == hint for asked in each.inputs)}
    looks = [step.look for step in steps if isinstance(step, Measure) and step.measure in airs]
    assert len(looks) >= 4
    assert not [
        each for each in looks if re.search(r"\b(meter|thermometer|mid-room)\b[^.]*\b(an hour|minutes)\b", each)
    ]


def test_what_goes_into_a_side_gutter_is_a_narrow_brush_everywhere() -> None:
    """Some 40 mm of channel, of which the tiles cover a part, take no hand and no wide brush."""
    chapter = (ROOT / "guide" / "flashings-and-gutters.md").read_text(encoding="utf-8")
    section = chapter[chapter.index("drawings/side-gutter.svg") : chapter.index("reckon/side-gutter.md")]
    names = ("side-gutter-under-the-tiles", "clear-and-widen-the-side-gutter")
    for text in (section, *(str(DRAFT.remedies[each].model_dump()) for each in names)):
        assert "narrow brush" in text
        assert "a hand with" not in text
        assert not re.search(r"that a brush|let a brush|with a soft brush", text)


def test_a_cracked_dome_is_not_left_to_a_glazier() -> None:
    remedy = DRAFT.remedies["broken-glass-overhead"]
    assert "re-seat-the-dome-or-unit" in remedy.followed_by
    assert "dome" in remedy.who
