"""Gates to the roof: each for its roofs, and one that joins them where the roof is not settled."""

import pytest
from guides import ROOT, draft_of, opens, the_guide

from build_tools.guide.walk import walk_data
from build_tools.model import Where
from build_tools.proof.checks import check
from build_tools.proof.graph import open_roofs
from build_tools.proof.walk import follow, is_open, opened_by
from build_tools.sources.gates import whole
from build_tools.sources.library import TABLES

GUIDE = the_guide()
TO_THE_ROOF = [each for each in GUIDE.gates if Where.ROOF in each.gate.opens]
DRY = {"holds": "It is dry."}


def joined(**gates):
    both = {"title": "Up", "joins": ("slope", "flat"), "if-not": "Stay down."}
    return whole(TABLES["gates"].validate_python({**gates, "either": both}))["either"]


def test_joined_gate_asks_once_what_all_ask_and_the_rest_on_its_roof():
    slope = {**opens("ladder", "roof"), "roofs": ("slope",), "all-of": (DRY, {"holds": "A roof ladder hangs."})}
    flat = {**opens("roof"), "roofs": ("flat",), "all-of": ({"holds": "The deck bears."}, DRY)}
    either = joined(slope=slope, flat=flat)
    assert [(each.holds, each.on) for each in either.all_of] == [
        ("It is dry.", ()),
        ("A roof ladder hangs.", ("slope",)),
        ("The deck bears.", ("flat",)),
    ]
    assert either.opens == ("ladder", "roof")
    assert either.roofs == ("slope", "flat")


def test_joined_gate_ends_as_soon_as_any_of_its_gates():
    slope = {**opens("roof"), "roofs": ("slope",), "ends-when": ("came-down", "time-limit"), "minutes": 60}
    flat = {**opens("roof"), "roofs": ("flat",), "ends-when": ("weather-turned", "time-limit"), "minutes": 30}
    either = joined(slope=slope, flat=flat)
    assert set(either.ends_when) == {"came-down", "time-limit", "weather-turned"}
    assert either.minutes == 30


@pytest.mark.parametrize("view", TO_THE_ROOF, ids=lambda view: view.id)
def test_gate_to_a_roof_asks_first_what_covers_it_and_refuses_sheets(view):
    for roof in view.gate.roofs:
        first = next(
            each for each in view.gate.all_of if roof in (each.on or view.gate.roofs) and "covers it" in each.holds
        )
        assert "nobody goes up" in first.tell
        assert {"waves", "fibre-cement", "plastic"} <= set(first.holds.lower().split())


def test_nothing_opens_a_roof_of_sheets():
    draft = check(ROOT).guide.draft
    assert set(draft.vocabulary.roof) - open_roofs(draft) == {"sheets"}
    assert draft.vocabulary.lies_on["profiled-sheet"] == ("sheets",)


def test_flat_roof_is_asked_whether_it_bears_and_a_slope_for_its_roof_ladder():
    either = next(each for each in GUIDE.gates if each.picks)
    on = {group.roof: " ".join(each.holds for each in group.conditions) for group in either.groups}
    assert "bears a person" in on["flat"] and "fenced" in on["flat"]
    assert "roof ladder" in on["slope"] and "eaves" in on["slope"]


def test_roof_that_is_told_opens_its_own_gate_only():
    gate = {"id": "either", "picks": {"slope": {"id": "one"}, "flat": {"id": "other"}}}
    assert opened_by(gate, "slope") == {"one"}
    assert opened_by(gate) == {"one", "other"}
    assert is_open(gate, {"one"}) and not is_open(gate, {"else"})
    assert not is_open({"id": "other", "picks": {}}, opened_by(gate, "slope"))


def test_roof_is_an_answer_in_the_shell():
    walks = {tree.id: walk_data(GUIDE, tree) for tree in GUIDE.trees}
    tree = "upstand-and-its-corners"
    gates = [each["gate"] for each in walks[tree]["steps"].values() if "gate" in each]
    assert [each["id"] for each in gates if each["picks"]] == ["either-roof-access"]
    way = follow(walks, tree, ["no", "unsure", "flat"])
    assert [(each.kind, each.answer) for each in way[-2:]] == [("gate", "yes"), ("question", None)]


def test_draft_without_roofs_asks_none():
    draft = draft_of({}, {}, gates={"up": opens("ladder")})
    assert open_roofs(draft) == frozenset()


UPWARD = [each for each in GUIDE.gates if {Where.LADDER, Where.SCAFFOLD, Where.ROOF} & set(each.gate.opens)]


@pytest.mark.parametrize("view", UPWARD, ids=lambda view: view.id)
def test_gate_upward_asks_for_solar_panels_and_gives_their_caution(view):
    assert any("No solar panel and no cable" in each.holds for each in view.gate.all_of)
    assert "solar-panels" in view.gate.cautions


def asks_for_asbestos(gate):
    return [each for each in gate.all_of if "asbestos" in each.holds]


OF_ASBESTOS = [each for each in GUIDE.gates if asks_for_asbestos(each.gate)]


@pytest.mark.parametrize("view", OF_ASBESTOS, ids=lambda view: view.id)
def test_gate_that_asks_for_asbestos_gives_its_caution_and_says_whose_year_it_is(view):
    assert "asbestos" in view.gate.cautions
    for each in asks_for_asbestos(view.gate):
        assert "In Britain" in each.tell and "which year on it was banned" in each.tell


def test_ladder_is_tied_and_leans_on_nothing_that_breaks():
    said = " ".join(each.holds for each in check(ROOT).guide.draft.gates["ladder-access"].all_of)
    assert "is tied" in said and "or held" not in said
    for word in ("gutter", "sheet", "solar panel", "glass"):
        assert word in said


def test_beside_a_scaffold_a_light_is_still_fragile_and_nobody_leaves_the_boards():
    gate = check(ROOT).guide.draft.gates["scaffold-access"]
    said = " ".join(each.holds for each in gate.all_of)
    assert "fragile-surface" in gate.cautions
    assert "steps on to the roof" in said and "behind the rail" not in said
