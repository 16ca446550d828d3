"""The tables of safety, key by key: what makes a gate, caution or hazard weaker, and what stricter, both ways."""

import copy

import pytest
from guides import opens
from reviewed import REMEDIES, TABLES, reviewed

from build_tools.model import Caution, Condition, Gate, Hazard, JoinedGate, Settings, key_of

GATE = {
    **opens("ladder", "roof"),
    "roofs": ("slope", "flat"),
    "all-of": ({"holds": "It is dry.", "tell": "Feel it.", "on": ("slope", "flat")}, {"holds": "It is light."}),
    "ends-when": ("came-down", "resumed"),
    "minutes": 30,
    "cautions": ("care", "mind"),
}
JOINED = {"title": "Up", "joins": ("up", "over", "beside"), "if-not": "Stay."}
BASE = {
    "cautions": {**TABLES["cautions"], "care": {**TABLES["cautions"]["care"], "answers": ("fall", "wet")}},
    "gates": {"up": GATE, "over": opens("roof"), "beside": opens("roof"), "any": JOINED},
    "hazards": {
        "fall": {**TABLES["hazards"]["fall"], "acts": ("hot-work", "hose-test")},
        "wet": TABLES["hazards"]["wet"],
    },
    "settings": {"first-tree": "a", "make-safe": "r"},
}
ONE_WAY = [
    # The key, its entry, a value that is weaker than the one in BASE.
    (Gate, "opens", ("gates", "up", "opens"), ("ladder", "roof", "loft")),
    (Gate, "roofs", ("gates", "up", "roofs"), ("slope", "flat", "sheets")),
    (Gate, "all-of", ("gates", "up", "all-of"), GATE["all-of"][:1]),
    (Gate, "ends-when", ("gates", "up", "ends-when"), ("resumed",)),
    (Gate, "minutes", ("gates", "up", "minutes"), 60),
    (Gate, "cautions", ("gates", "up", "cautions"), ("care",)),
    (JoinedGate, "joins", ("gates", "any", "joins"), ("up", "over")),
    (Condition, "on", ("gates", "up", "all-of"), ({**GATE["all-of"][0], "on": ("slope",)}, GATE["all-of"][1])),
    (Caution, "signal", ("cautions", "care", "signal"), "caution"),
    (Caution, "answers", ("cautions", "care", "answers"), ("fall",)),
    (Hazard, "least-signal", ("hazards", "fall", "least-signal"), "notice"),
    (Hazard, "where", ("hazards", "fall", "where"), ("roof",)),
    (Hazard, "acts", ("hazards", "fall", "acts"), ("hot-work",)),
]
"""Keys of which one value is weaker than another: that is grave, and the other way round it is not."""
OTHER = [
    (Gate, "title", ("gates", "up", "title"), "Up there"),
    (Gate, "if-not", ("gates", "up", "if-not"), "Go on."),
    (JoinedGate, "title", ("gates", "any", "title"), "Up there"),
    (JoinedGate, "if-not", ("gates", "any", "if-not"), "Go on."),
    (JoinedGate, "joins", ("gates", "any"), GATE),
    (Condition, "holds", ("gates", "up", "all-of"), ({**GATE["all-of"][0], "holds": "It is damp."}, GATE["all-of"][1])),
    (Condition, "tell", ("gates", "up", "all-of"), ({**GATE["all-of"][0], "tell": "Ask."}, GATE["all-of"][1])),
    (Gate, "cautions", ("gates", "up", "cautions"), ("mind", "care")),
    (Caution, "hazard", ("cautions", "care", "hazard"), "A trip"),
    (Caution, "consequence", ("cautions", "care", "consequence"), "It hurts."),
    (Caution, "avoidance", ("cautions", "care", "avoidance"), "Mind out."),
    (Caution, "stop-when", ("cautions", "care", "stop-when"), "It breaks."),
    (Caution, "call", ("cautions", "care", "call"), "Somebody."),
    (Settings, "first-tree", ("settings", "first-tree"), "b"),
    (Settings, "make-safe", ("settings", "make-safe"), "s"),
]
"""Keys of which only a person can tell which value is milder: grave both ways."""
HARMLESS = [
    (Hazard, "title", ("hazards", "fall", "title"), "A fall"),
    (Condition, "sources", ("gates", "up", "all-of"), ({**GATE["all-of"][0], "sources": ("book",)}, GATE["all-of"][1])),
    (Caution, "sources", ("cautions", "care", "sources"), ("book",)),
]
"""Keys that only name or prove."""


def both(keys, value):
    """Give the guide as it was, and with one value changed."""
    before = {"trees": {}, "remedies": copy.deepcopy(REMEDIES), **copy.deepcopy(BASE)}
    after = copy.deepcopy(before)
    entry = after
    for key in keys[:-1]:
        entry = entry[key]
    entry[keys[-1]] = value
    return before, after


def named(each):
    return f"{each.__name__}" if isinstance(each, type) else None


@pytest.mark.parametrize(("kind", "key", "keys", "value"), ONE_WAY, ids=named)
def test_weaker_value_is_grave_and_a_stricter_one_is_not(kind, key, keys, value):
    before, after = both(keys, value)
    weaker, stricter = reviewed(before, after), reviewed(after, before)
    assert weaker.grave and {each.change for each in weaker.safety} <= {"weakened", "removed", "moved-later"}
    assert not stricter.grave and {each.change for each in stricter.safety} <= {
        "strengthened",
        "added",
        "moved-earlier",
    }
    assert weaker.safety and len(stricter.safety) == len(weaker.safety)


@pytest.mark.parametrize(("kind", "key", "keys", "value"), OTHER, ids=named)
def test_other_value_is_grave_both_ways(kind, key, keys, value):
    before, after = both(keys, value)
    assert reviewed(before, after).grave and reviewed(after, before).grave


@pytest.mark.parametrize(("kind", "key", "keys", "value"), HARMLESS, ids=named)
def test_value_that_names_or_proves_is_told_and_not_grave(kind, key, keys, value):
    found = reviewed(*both(keys, value))
    assert not found.grave and not found.empty


def test_condition_that_names_no_roof_holds_on_all():
    before, after = both(("gates", "up", "all-of"), ({"holds": "It is dry.", "tell": "Feel it."}, GATE["all-of"][1]))
    assert not reviewed(before, after).grave and reviewed(after, before).grave


def test_every_key_of_every_table_of_safety_has_a_case():
    cases = {(kind, key) for kind, key, _, _ in (*ONE_WAY, *OTHER, *HARMLESS)}
    kinds = (Caution, Condition, Gate, Hazard, JoinedGate, Settings)
    assert {(kind, key_of(name)) for kind in kinds for name in kind.model_fields} == cases
