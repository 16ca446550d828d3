"""What the guide says of dangers that a rule cannot see: panels, hidden cables, droppings, and whom to ring.

Each expectation is common practice of the trade; the sources stand in the tables beside the cautions.
"""

from __future__ import annotations

import re

import pytest
from guides import ROOT, the_checked

from build_tools.model import Act, Looked, RemedyStep, Where
from build_tools.proof.graph import cautions_for, hazards_of

DRAFT = the_checked().draft
ROOF_GATES = [name for name, gate in DRAFT.gates.items() if Where.ROOF in gate.opens]
HOSE_GATES = [name for name, gate in DRAFT.gates.items() if Act.HOSE_TEST in gate.opens]
BEHIND_A_LINING = r"\b(pins? of a moisture meter|pin meter|ease off|prise|cut into)\b"
NUMBERS = ("999", "112", "0800 111 999", "105")


def _conditions(gate: str) -> str:
    return " ".join(each.holds for each in DRAFT.gates[gate].all_of)


@pytest.mark.parametrize("gate", [*ROOF_GATES, *HOSE_GATES])
def test_gate_asks_for_solar_panels(gate: str) -> None:
    assert "solar panel" in _conditions(gate)


@pytest.mark.parametrize("gate", ROOF_GATES)
def test_roof_gate_cautions_against_solar_panels(gate: str) -> None:
    assert "solar-panels" in DRAFT.gates[gate].cautions


def test_switching_off_does_not_pass_for_safety_beside_solar_panels() -> None:
    assert "solar panels" in DRAFT.cautions["wet-electrics"].avoidance


def test_flat_roof_gate_asks_for_transmitters() -> None:
    assert "transmitting aerial" in _conditions("flat-roof-access")


def test_questions_that_go_behind_a_lining_declare_hidden_services() -> None:
    met = {
        f"{tree_id}/{name}": hazards_of(DRAFT, step)
        for tree_id, tree in DRAFT.trees.items()
        for name, step in tree.steps.items()
        if isinstance(step, Looked)
        and step.where in (Where.INSIDE, Where.LOFT)
        and re.search(BEHIND_A_LINING, " ".join(step.look.split()), re.IGNORECASE)
    }
    assert met
    assert [name for name, hazards in met.items() if "hidden-services" not in hazards] == []


@pytest.mark.parametrize("hazard", ["hidden-services", "droppings", "fibre-dust", "isocyanates", "life-at-risk"])
def test_hazard_is_met_somewhere_and_answered(hazard: str) -> None:
    assert cautions_for(DRAFT, (hazard,))
    assert any(hazard in hazards_of(DRAFT, step) for remedy in DRAFT.remedies.values() for step in remedy.steps)


def test_what_is_fixed_through_the_slope_above_a_patch_is_asked_for() -> None:
    tree = DRAFT.trees["patch-away-from-the-light"]
    asking = tree.steps["fixed-through"]
    assert "panels" in asking.question
    end = tree.steps[asking.exits["yes"]]
    assert isinstance(end, RemedyStep)
    assert end.remedy == "call-back-whoever-worked-on-the-roof"
    assert "solar-panels" in DRAFT.remedies[end.remedy].cautions


@pytest.mark.parametrize(
    "remedy", ["stop-and-call-for-help", "broken-glass-overhead", "contain-the-water", "hand-to-a-licensed-trade"]
)
def test_emergency_ends_say_whom_to_ring(remedy: str) -> None:
    calls = " ".join(DRAFT.cautions[each].call for each in DRAFT.remedies[remedy].cautions)
    assert [number for number in NUMBERS if number not in calls] == []


def test_emergency_numbers_stand_in_one_place() -> None:
    saying = [name for name, caution in DRAFT.cautions.items() if "999" in caution.model_dump_json()]
    files = [*(ROOT / "trees").rglob("*.yaml"), *(ROOT / "guide").glob("*.md")]
    texts = {path.name for path in files if re.search(r"\b999\b", path.read_text(encoding="utf-8"))}
    assert saying == ["emergency-call"]
    assert texts == {"cautions.yaml", "sources.yaml"}


def test_the_year_of_asbestos_is_said_to_be_british() -> None:
    said = [DRAFT.cautions["asbestos"].avoidance]
    said += [each.tell or "" for gate in DRAFT.gates.values() for each in gate.all_of if "2000" in (each.tell or "")]
    assert len(said) > 1
    assert [text for text in said if "In Britain" not in text or "lsewhere" not in text] == []
