"""Cautions and gates: what is told of each way in which one can fall, and that it ends with 1."""

import copy

import pytest
from guides import gate, question, remedy, tree
from reviewed import REMEDIES, TABLES, reviewed


def guide(**steps):
    return {"trees": {"a": tree(steps)}, "remedies": copy.deepcopy(REMEDIES), **copy.deepcopy(TABLES)}


UP_THEN_LOOK = guide(
    start=question("start", "up", "end", "end"),
    up=gate("up", "look", "end", "end"),
    look=question("look", "top", "end", "end", where="ladder"),
    top={"remedy": "s"},
    end={"remedy": "r"},
)


def told(change, before=UP_THEN_LOOK):
    """Change a guide, and give what is told of its cautions and gates."""
    after = copy.deepcopy(before)
    change(after)
    found = reviewed(before, after)
    return found.grave, [(each.change, each.subject, each.detail, each.steps) for each in found.safety]


def steps_of(plain):
    return plain["trees"]["a"]["steps"]


def way_round(plain):
    steps_of(plain)["start"]["exits"]["no"] = "look"


def gate_later(plain):
    steps = steps_of(plain)
    steps["start"]["exits"]["yes"] = "look"
    steps["look"]["exits"]["yes"] = "up"
    steps["up"]["exits"]["yes"] = "top"


def gate_gone(plain):
    del steps_of(plain)["up"]
    steps_of(plain)["start"]["exits"]["yes"] = "look"


def other_gate(plain):
    steps_of(plain)["up"]["gate"] = "over"


@pytest.mark.parametrize(
    ("change", "how", "where"),
    [
        (way_round, "weakened", ("look", "top")),
        (gate_later, "moved-later", ("look",)),
        (gate_gone, "removed", ("look", "top")),
    ],
)
def test_gate_that_no_longer_stands_before_a_step(change, how, where):
    grave, rows = told(change)
    assert grave and (how, 'gate "up"', "in a", where) in rows


def test_gate_put_for_another_is_a_gate_removed():
    grave, rows = told(other_gate)
    assert grave and ("removed", 'gate "up"', "in a", ("look", "top")) in rows
    assert ("added", 'gate "over"', "in a", ("look", "top")) in rows


def test_gate_after_a_failed_proof_that_begins_behind_it():
    grave, rows = told(lambda plain: plain["remedies"]["r"].update({"after-failed-proof": "a/look"}))
    assert grave and rows == [("weakened", 'gate "up"', "in a", ("look", "top"))]


def test_new_gate_is_told_and_not_grave():
    grave, rows = told(lambda plain: None, UP_THEN_LOOK)
    assert (grave, rows) == (False, [])
    after = copy.deepcopy(UP_THEN_LOOK)
    gate_gone(after)
    found = reviewed(after, UP_THEN_LOOK)
    assert not found.grave and [each.change for each in found.safety] == ["added"]


TABLE_FALLS = [
    (("cautions", "care", "signal"), "notice", ("weakened", 'caution "care"', "signal")),
    (("cautions", "care", "stop-when"), "It falls.", ("changed", 'caution "care"', "stop-when")),
    (("cautions", "mind", "answers"), ("fall",), ("removed", 'caution "mind"', "answers")),
    (("hazards", "fall", "least-signal"), "notice", ("weakened", 'hazard "fall"', "least-signal")),
    (("hazards", "fall", "where"), ("ladder",), ("removed", 'hazard "fall"', "where")),
    (("gates", "up", "opens"), ("ladder", "loft"), ("weakened", 'gate "up"', "opens")),
    (("gates", "up", "ends-when"), ("resumed",), ("removed", 'gate "up"', "ends-when")),
    (("gates", "up", "cautions"), (), ("removed", 'gate "up"', "cautions")),
    (("gates", "up", "all-of"), ({"holds": "It is damp."},), ("changed", 'gate "up"', "condition")),
    (("gates", "up", "all-of"), ({"holds": "It is dry.", "tell": "Look."},), ("changed", 'gate "up"', "how to tell")),
    (("gates", "up", "if-not"), "Go on.", ("changed", 'gate "up"', "if-not")),
    (("remedies", "s", "cautions"), ("care",), ("removed", 'caution "mind"', "in remedies/s")),
]


@pytest.mark.parametrize(("keys", "value", "row"), TABLE_FALLS)
def test_table_that_says_less_of_safety(keys, value, row):
    def change(plain):
        for key in keys[:-1]:
            plain = plain[key]
        plain[keys[-1]] = value

    grave, rows = told(change)
    assert grave and row in [each[:3] for each in rows]


@pytest.mark.parametrize(
    ("before", "after", "grave"), [(30, 60, True), (30, None, True), (60, 30, False), (None, 30, False)]
)
def test_longer_time_limit_is_a_weaker_gate(before, after, grave):
    guides = []
    for minutes in (before, after):
        plain = copy.deepcopy(UP_THEN_LOOK)
        plain["gates"]["up"]["minutes"] = minutes
        guides.append(plain)
    found = reviewed(*guides)
    assert found.grave is grave and [each.detail for each in found.safety] == ["minutes"]


def test_caution_that_comes_later_in_the_work():
    def later(plain):
        wet = {"do": "Fetch it.", "where": "ground"}
        plain["remedies"]["s"]["steps"] = (
            wet,
            {"gate": "up"},
            {"do": "Lay it.", "where": "ladder", "hazards": ("wet",)},
        )

    grave, rows = told(later)
    assert grave and ("moved-later", 'caution "mind"', "in remedies/s", ("1", "2")) in rows


def test_caution_and_gate_under_new_ids_are_not_lost():
    def renamed(plain):
        plain["cautions"] = {"heed" if name == "care" else name: each for name, each in plain["cautions"].items()}
        plain["gates"] = {"above" if name == "up" else name: each for name, each in plain["gates"].items()}
        plain["gates"]["above"]["cautions"] = ("heed",)
        steps_of(plain)["up"]["gate"] = "above"
        for each in plain["remedies"].values():
            each["cautions"] = tuple("heed" if name == "care" else name for name in each["cautions"])
        plain["remedies"]["s"]["steps"] = tuple(
            {"gate": "above"} if "gate" in each else each for each in plain["remedies"]["s"]["steps"]
        )

    after = copy.deepcopy(UP_THEN_LOOK)
    renamed(after)
    found = reviewed(UP_THEN_LOOK, after)
    assert [(each.before, each.after) for each in found.text] == [("care", "heed"), ("up", "above")]
    assert (found.safety, found.remedies, found.steps, found.step) == ((), (), (), "patch")


def test_remedy_that_is_gone_takes_no_caution_from_anybody():
    before = guide(start={"remedy": "r"})
    before["remedies"]["t"] = remedy()
    grave, rows = told(lambda plain: plain["remedies"].pop("t"), before)
    assert (grave, rows) == (False, [])
