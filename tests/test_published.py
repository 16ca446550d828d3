"""Published values, each with its source, tolerance and the reason for it, against the Python formulas.

tests/browser/test_printed.py holds the printed JavaScript to the same files.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from own_tables import FORMULAS

from build_tools.formulas import reckon, validate

FILES = [yaml.safe_load(path.read_text()) for path in sorted(Path(__file__).with_name("published").glob("*.yaml"))]
CASES = [
    pytest.param(each["formula"], case, id=f"{each['formula']}-{case['given']}")
    for each in FILES
    for case in each["cases"]
]


def test_published_values_stand_for_every_formula() -> None:
    assert {each["formula"] for each in FILES} == set(FORMULAS)
    assert all(each["source"] for each in FILES)


@pytest.mark.parametrize(("name", "case"), CASES)
def test_published_value(name: str, case: dict[str, Any]) -> None:
    taken = validate(FORMULAS[name], case["given"])
    assert not taken.errors
    found = reckon(FORMULAS[name], taken.values).outputs[case["output"]]
    assert found == pytest.approx(case["published"], rel=0, abs=case["tolerance"] + 1e-9), case["why"]
