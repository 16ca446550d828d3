"""Each step that measures, on a phone: typed as a case states it, kept with the answer, there again when reopened."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
import yaml
from filling import fill_lines, put
from guides import ROOT
from own_tables import FORMULAS
from playwright.sync_api import expect
from walked import WALKS
from walker import SHOWN, Walker

from build_tools.formulas import Input
from build_tools.formulas.definition import split_lines

CASES = [yaml.load(each.read_text(), yaml.BaseLoader) for each in sorted((ROOT / "trees/cases").glob("*.yaml"))]
MEASURED = {
    WALKS[case["tree"]]["steps"][step]["measure"]["formula"]: (case, step, typed)
    for case in CASES
    for step, typed in case.get("reckoned", {}).items()
    if step in WALKS[case["tree"]]["steps"]
}
"""By formula, a case that comes to a step that measures by it, the step, and what is typed there."""
TRIED_ELSEWHERE: set[str] = set()
"""In test_walk_finding.py."""


def test_every_formula_that_a_walk_measures_by_is_tried() -> None:
    steps = [step for walk in WALKS.values() for step in walk["steps"].values()]
    assert {step["measure"]["formula"] for step in steps if "measure" in step} - set(MEASURED) == TRIED_ELSEWHERE


@pytest.mark.parametrize("formula", MEASURED)
def test_a_measure_is_typed_kept_and_reopened(walker: Walker, formula: str) -> None:
    case, step, typed = MEASURED[formula]
    page = walker.begin(case["tree"])
    answers = [next(iter(each.items())) for each in case["answers"]]
    at = [name for name, _ in answers].index(step)
    walker.walk(*[said for _, said in answers[:at]])
    assert walker.asked == step
    wanted = _type(walker, formula, typed)
    verdict = page.locator(f"{SHOWN} .answer--verdict:visible")
    expect(verdict).to_have_count(1)
    assert verdict.get_attribute("data-answer") == answers[at][1]
    for _ in ("light", "dark"):
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        walker.act("scheme")
    walker.walk(answers[at][1])
    kept = walker.runs()[0]["entries"][-1]["measure"]
    assert {name: kept["values"][name] for name in typed} == wanted
    assert kept["working"]
    walker.act("back")
    page.wait_for_selector(f"#{step}:not([hidden])")
    lists = {spec.name for spec in FORMULAS[formula].inputs if spec.columns}
    single = {name: text for name, text in typed.items() if name not in lists}
    assert {name: page.input_value(f"#{step} [name={name}]") for name in single} == single
    assert walker.faults == []


def _type(walker: Walker, formula: str, typed: Mapping[str, str]) -> dict[str, Any]:
    """Type or pick all that is given; tells what has to be kept of it."""
    secured = walker.page.locator(f"{SHOWN} [data-reading-done]:visible")
    if secured.count():
        secured.click()
    inputs = [each for each in FORMULAS[formula].inputs if each.name in typed]
    for spec in inputs:
        if spec.columns:
            fill_lines(walker.page.locator(f"{SHOWN} [data-rows={spec.name}]"), spec, split_lines(typed[spec.name]))
        else:
            put(walker.page.locator(f"{SHOWN} [name={spec.name}]"), typed[spec.name])
    return {spec.name: _kept(spec, typed[spec.name]) for spec in inputs}


def _kept(spec: Input, typed: str) -> Any:
    """Give a typed value as it is kept: numbers as numbers, a list line by line."""
    if spec.columns:
        return [
            [_kept(column, cell) for column, cell in zip(spec.columns, line, strict=True)]
            for line in split_lines(typed)
        ]
    return typed if spec.kind == "choice" else float(typed)
