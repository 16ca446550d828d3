"""Where a moisture walk may lead: wet timber to a judge, a number by layers to no opened roof, no dome to a loft."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import pytest
from guides import the_checked
from own_tables import FORMULAS, TIMBER_BANDS

from build_tools.formulas.moisture.timber import timber_moisture
from build_tools.model import GateStep, Measure, Question, RemedyStep, StepBase
from build_tools.proof.graph import Node, forest_graph

DRAFT = the_checked().draft
JUDGED = "open-up-wet-timber"


def measured(formula: str) -> Iterator[tuple[Node, Measure]]:
    """Give every step that reckons by a formula."""
    for tree_id, tree in DRAFT.trees.items():
        for step_id, step in tree.steps.items():
            if isinstance(step, Measure) and step.measure == formula:
                yield Node(tree_id, step_id), step


def ends_in(node: Node, answer: str) -> str | None:
    """Give the remedy that an answer leads to at once."""
    steps = DRAFT.trees[node.home].steps
    step: StepBase = steps[steps[node.step].exits[answer]]  # type: ignore[union-attr]
    return step.remedy if isinstance(step, RemedyStep) else None


@pytest.mark.parametrize("node", [node for node, _ in measured("timber-moisture")], ids=str)
def test_wet_timber_is_opened_and_judged_and_never_logged(node: Node) -> None:
    """At 35 per cent with deep pins and no dry place, or soft under an awl at any reading."""
    for told in (
        timber_moisture(TIMBER_BANDS, 35, None, "cold", "deep", "firm"),
        timber_moisture(TIMBER_BANDS, 15, 15, "warm", "deep", "soft"),
    ):
        assert ends_in(node, str(told.verdict)) == JUDGED


@pytest.mark.parametrize(
    "node",
    [
        Node("crumbling-plaster-and-lifted-fixings", "blade-sinks"),
        Node("glass-in-or-out", "soft-below-the-edge"),
        Node("mould-at-the-reveal", "wood-gone-soft"),
    ],
    ids=str,
)
def test_timber_that_carries_a_light_and_is_soft_is_judged(node: Node) -> None:
    assert ends_in(node, "yes") == JUDGED


def test_soft_wood_is_asked_for_before_anything_else_about_mould() -> None:
    assert DRAFT.trees["mould-at-the-reveal"].starts_at == "wood-gone-soft"


def test_mould_is_led_to_its_cause_without_an_instrument_too() -> None:
    """A hand and the panes of the room tell what the numbers of a frosty morning tell."""
    steps = DRAFT.trees["mould-at-the-reveal"].steps
    seen, measured_in = steps["damp-to-the-hand"], steps["mould-cold"]
    assert isinstance(seen, Question)
    assert isinstance(measured_in, Measure)
    assert seen.exits["yes"] == measured_in.exits["wets"]
    panes = steps["panes-misted"]
    assert isinstance(panes, Question)
    assert panes.exits["yes"] == measured_in.exits["damp-room"]


def test_no_number_by_layers_is_asked_before_the_timber_was_measured() -> None:
    """So it cannot open a roof by itself: whoever comes to it has read damp timber."""
    layers = {node for node, _ in measured("interstitial")}
    unmeasured = forest_graph(DRAFT)
    unmeasured.remove_nodes_from([node for node, _ in measured("timber-moisture")])
    starts = [Node(tree_id, tree.starts_at) for tree_id, tree in DRAFT.trees.items()]
    assert layers and not any(layers & nx.descendants(unmeasured, start) for start in starts)


def test_no_number_by_layers_opens_the_slope_from_above() -> None:
    nodes = [node for node, _ in measured("interstitial")]
    assert nodes
    for node in nodes:
        assert {ends_in(node, each) for each in FORMULAS["interstitial"].verdicts} == {"have-the-lining-opened-up"}


@pytest.mark.parametrize("walked", ["moisture-within-the-roof", "wet-in-cold-weather"])
def test_the_loft_gate_is_met_only_by_whoever_found_a_hatch(walked: str) -> None:
    tree = DRAFT.trees[walked]
    gates = {name for name, step in tree.steps.items() if isinstance(step, GateStep) and step.gate == "loft-access"}
    into = {
        (name, answer)
        for name, step in tree.steps.items()
        for answer, target in getattr(step, "exits", {}).items()
        if target in gates
    }
    assert gates and into == {("loft-above", "yes")}
    assert not any(
        isinstance(step, GateStep) and step.gate == "loft-access"
        for step in DRAFT.trees["moisture-made-indoors"].steps.values()
    )


def test_what_mends_nothing_is_no_lasting_remedy() -> None:
    for name in (JUDGED, "have-the-lining-opened-up"):
        assert DRAFT.remedies[name].lasts == "stopgap" and DRAFT.remedies[name].followed_by
    nothing = {name for name, each in DRAFT.remedies.items() if each.cures.startswith("Nothing")}
    assert {"hand-to-a-licensed-trade", "have-the-slope-opened-up", "record-the-covering-and-watch"} <= nothing
    assert {name for name in nothing if DRAFT.remedies[name].lasts == "lasting"} == {"leave-dew-on-the-outer-pane"}
