"""Stated cases: facts in, remedy out. Facts and ends are reasoned from the trade, not from the trees."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
import yaml
from guides import ROOT, the_guide

from build_tools.formulas import FORMULAS, reckon, validate
from build_tools.guide.views import GuideView
from build_tools.guide.walk import Stop, WalkData, follow, walk_data
from build_tools.model import Measure

CASES = {
    each.stem: yaml.load(each.read_text(), yaml.BaseLoader) for each in sorted((ROOT / "tests/cases").glob("*.yaml"))
}


Walks = Mapping[str, WalkData]


@pytest.fixture(scope="module")
def walks() -> Walks:
    guide = the_guide()
    return {tree.id: walk_data(guide, tree) for tree in guide.trees}


def _course(walks: Walks, case: Mapping[str, Any]) -> tuple[Stop, ...]:
    answers = [next(iter(each.values())) if isinstance(each, dict) else each for each in case["answers"]]
    return follow(walks, case["tree"], answers)


@pytest.mark.parametrize("name", CASES)
def test_case_walks_to_its_remedy(guide: GuideView, walks: Walks, name: str) -> None:
    last = _course(walks, CASES[name])[-1]
    assert last.kind == "remedy"
    end = next(tree for tree in guide.trees if tree.id == last.tree).step(last.step)
    assert end.remedy is not None
    assert end.remedy.id == CASES[name]["ends-in"]


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if isinstance(case["answers"][0], dict)])
def test_case_is_asked_what_it_states(walks: Walks, name: str) -> None:
    asked = [each.step for each in _course(walks, CASES[name]) if each.answer and each.asked]
    assert asked == [next(iter(each)) for each in CASES[name]["answers"]]


RECKONED = [(name, step) for name, case in CASES.items() for step in case.get("reckoned", {})]


@pytest.mark.parametrize(("name", "step"), RECKONED)
def test_case_measures_what_it_states(guide: GuideView, walks: Walks, name: str, step: str) -> None:
    case = CASES[name]
    at = next(stop for stop in _course(walks, case) if stop.step == step)
    measure = next(tree for tree in guide.trees if tree.id == at.tree).tree.steps[step]
    assert isinstance(measure, Measure)
    typed = {**case["reckoned"][step], **{key: str(value) for key, value in measure.given.items()}}
    validated = validate(FORMULAS[measure.measure], typed)
    assert validated.errors == {}
    assert reckon(FORMULAS[measure.measure], validated.values).verdict == at.answer


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if "work-in-order" in case])
def test_case_remedy_says_all_that_the_roof_needs_in_order(guide: GuideView, name: str) -> None:
    case = CASES[name]
    remedy = guide.remedy(case["ends-in"]).remedy
    work = " ".join(f"{each.do} {each.right}" if hasattr(each, "do") else "" for each in remedy.steps)
    places = [work.find(words) for words in case["work-in-order"]]
    assert -1 not in places, case["work-in-order"][places.index(-1)]
    assert places == sorted(places)
    said = {key: str(remedy.model_dump(by_alias=True)[key]) for key in case["must-say"]}
    assert all(words in said[key] for key, words in case["must-say"].items())
