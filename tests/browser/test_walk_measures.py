"""Each step that measures, on a phone: typed as a case states it, kept with the answer, there again when reopened."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
import yaml
from playwright.sync_api import expect
from walker import ROOT, SHOWN, Walker, walks

from build_tools.formulas import FORMULAS

WALKS = walks()
CASES = [yaml.load(each.read_text(), yaml.BaseLoader) for each in sorted((ROOT / "tests/cases").glob("*.yaml"))]
MEASURED = {
    (case["tree"], step): (case, typed)
    for case in CASES
    for step, typed in case.get("reckoned", {}).items()
    if step in WALKS[case["tree"]]["steps"]
}
"""By tree and step, a case that comes to it, and what is typed there; one case is enough for each."""
TRIED_ELSEWHERE = {("flat-glass-on-an-upstand", "shortest-lap"), ("patch-away-from-the-light", "flashing-lap")}
"""In test_walk_finding.py, as all measures by the lap of sheet."""


def test_every_measure_of_the_guide_is_tried() -> None:
    steps = {(tree, name): step for tree, walk in WALKS.items() for name, step in walk["steps"].items()}
    measures = {at for at, step in steps.items() if "measure" in step}
    assert measures - set(MEASURED) == TRIED_ELSEWHERE


@pytest.mark.parametrize(("tree", "step"), MEASURED, ids=str)
def test_a_measure_is_typed_kept_and_reopened(walker: Walker, tree: str, step: str) -> None:
    page = walker.begin(tree)
    case, typed = MEASURED[tree, step]
    answers = [next(iter(each.items())) for each in case["answers"]]
    at = [name for name, _ in answers].index(step)
    walker.walk(*[said for _, said in answers[:at]])
    assert walker.asked == step
    formula = WALKS[tree]["steps"][step]["measure"]["formula"]
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
    assert {name: page.input_value(f"#{step} [name={name}]") for name in typed} == typed
    assert walker.faults == []


def _type(walker: Walker, formula: str, typed: Mapping[str, str]) -> dict[str, float | str]:
    """Type or pick all that is given; tells what has to be kept of it."""
    secured = walker.page.locator(f"{SHOWN} [data-reading-done]:visible")
    if secured.count():
        secured.click()
    wanted: dict[str, float | str] = {}
    for spec in (each for each in FORMULAS[formula].inputs if each.name in typed):
        text = typed[spec.name]
        field = walker.page.locator(f"{SHOWN} [name={spec.name}]")
        if spec.kind == "choice":
            field.select_option(text)
        else:
            field.fill(text)
        wanted[spec.name] = text if spec.kind == "choice" else float(text)
    return wanted
