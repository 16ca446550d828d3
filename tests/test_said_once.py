"""What a field's hint says is not said again beside it, where the two could come to differ."""

from __future__ import annotations

import re

from guides import ROOT

from build_tools.formulas import FORMULAS
from build_tools.library import read_library
from build_tools.model import Measure

DRAFT, _, _ = read_library(ROOT)


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
