"""Each field of the model that is changed alone is told: walked over the model itself, so that none is forgotten."""

import copy

import pytest
from guides import gate, opens, question, remedy, tree
from reviewed import CAUTION, reviewed, version

from build_tools.model import (
    Action,
    Caution,
    Condition,
    Gate,
    GateStep,
    GoTo,
    Hazard,
    Material,
    Measure,
    Question,
    Remedy,
    RemedyStep,
    Settings,
    Source,
    TakeOff,
    Term,
    Tree,
    Vocabulary,
    WorkGate,
    key_of,
)
from build_tools.review.compare import review
from build_tools.review.differences.findings import KEPT_BY_AUTHORS
from build_tools.review.versions.matching import Match
from build_tools.review.words.naming import names_of
from build_tools.review.words.outline import outline
from build_tools.review.words.text import as_text

SOURCE = {"title": "A book", "publisher": "A press", "kind": "book", "seen": "memory", "states": "A number."}
MEASURE = {
    **{"measure": "pitch", "question": "How steep is it?", "where": "inside", "effort": "look"},
    **{"look": "Look.", "why": "It tells.", "exits": {"below": "g", "at-limit": "r", "within": "r", "unsure": "r"}},
}
GUIDE = {
    "trees": {
        "a": tree(
            {
                "q": question("q", "m", "r", "r", part="one"),
                "m": MEASURE,
                "g": gate("up", "r", "r", "to"),
                "r": {"remedy": "r"},
                "to": {"go-to": "b"},
            },
            parts={"one": "One", "two": "Two"},
        ),
        "b": tree({"p": question("p", "e", "e", "e"), "e": {"remedy": "r"}}),
    },
    "remedies": {
        "r": remedy(
            {"gate": "up"},
            {"do": "Lay it.", "where": "ladder"},
            materials=({"item": "Tile", "quantity": "One.", "take-off": {"run": "edges"}},),
        ),
        "s": remedy(),
    },
    "cautions": {"care": {**CAUTION, "answers": ("fall",)}, "mind": {**CAUTION, "answers": ("wet",)}},
    "gates": {
        "up": {**opens("ladder"), "cautions": ("care",)},
        "over": {**opens("ladder"), "title": "Over"},
        "flat": {**opens("roof"), "roofs": ("flat",)},
        "steep": {**opens("roof"), "roofs": ("slope",)},
        "either": {"title": "Either", "joins": ("flat", "steep"), "if-not": "Stay."},
    },
    "hazards": {
        "fall": {"title": "Fall", "least-signal": "warning"},
        "wet": {"title": "Wet", "least-signal": "notice"},
    },
    "sources": {"book": SOURCE},
    "terms": {"lap": {"term": "lap", "means": "How far one lies over another."}},
    "vocabulary": {
        "covering": {"slate": "slates", "tile": "tiles"},
        "light": {"dome": "a dome", "pane": "a pane"},
        "roof": {"flat": "a flat roof", "slope": "a slope"},
    },
    "settings": {"first-tree": "a", "make-safe": "r"},
}
LOOK = {
    "where": "ground",
    "effort": "touch",
    "minutes": 7,
    "look": "Look twice.",
    "why": "It tells more.",
    "find-out": "Come again.",
    "drawing": "lap",
    "carry": ("a lamp",),
    "acts": ("hose-test",),
    "hazards": ("wet",),
    "sources": ("book",),
    "part": "two",
    "question": "Is it so now?",
}
AT = {
    Tree: (
        ("trees", "b"),
        {
            "title": "Another",
            "about": "For others.",
            "begins-with": "sign",
            "assumes": {"covering": ("slate",)},
            "starts-at": "e",
            "parts": {"one": "First"},
        },
    ),
    Question: (
        ("trees", "a", "steps", "q"),
        {
            **LOOK,
            "if-so": "So it is.",
            "if-not": "Not at all.",
            "establishes": {"yes": {"covering": "slate"}},
            "exits": {"yes": "r", "no": "r", "unsure": "r"},
            "since": {"unsure": "It does no harm."},
        },
    ),
    Measure: (
        ("trees", "a", "steps", "m"),
        {
            **LOOK,
            "measure": "sheet-lap",
            "given": {"run_mm": 900},
            "exits": {"below": "r", "at-limit": "r", "within": "r", "unsure": "r"},
            "since": {"within": "It does no harm."},
        },
    ),
    GateStep: (
        ("trees", "a", "steps", "g"),
        {
            "gate": "over",
            "part": "two",
            "exits": {"yes": "to", "no": "r", "unsure": "to"},
            "since": {"unsure": "It does no harm."},
        },
    ),
    RemedyStep: (
        ("trees", "a", "steps", "r"),
        {
            "remedy": "s",
            "note": "Take care.",
            "then": "to",
            "part": "two",
        },
    ),
    GoTo: (("trees", "a", "steps", "to"), {"go-to": "b/e", "part": "two"}),
    Remedy: (
        ("remedies", "r"),
        {
            **dict.fromkeys(("title", "cures", "who", "water-leaves", "prove", "look-again", "record"), "Other words."),
            "suits": {"covering": ("slate",), "light": ("any",)},
            "lasts": "stopgap",
            "stands-months": 3,
            "followed-by": ("s",),
            "urgent": True,
            "glass": "comes-out",
            "tools": ("a lamp",),
            "materials": (),
            "steps": ({"gate": "up"},),
            "cleaning": {"access": "From the ladder.", "every-months": 6},
            "cautions": ("care", "mind"),
            "after-failed-proof": "b",
            "sources": ("book",),
        },
    ),
    Action: (
        ("remedies", "r", "steps", 1),
        {
            "do": "Lay it down.",
            "right": "It lies flat.",
            "where": "ground",
            "one-hand": "From a hook.",
            "acts": ("hot-work",),
            "hazards": ("wet",),
            "drawing": "lap",
        },
    ),
    WorkGate: (("remedies", "r", "steps", 0), {"gate": "over"}),
    Material: (
        ("remedies", "r", "materials", 0),
        {
            "item": "Slate",
            "quantity": "Two.",
            "formula": "pitch",
            "take-off": {"run": "area"},
        },
    ),
    TakeOff: (
        ("remedies", "r", "materials", 0, "take-off"),
        {
            "run": "area",
            "joint": "lap",
            "past-mm": 50.0,
            "longest-mm": 900.0,
            "waste-percent": 5.0,
            "sold-m": 2.0,
            "sold-as": "roll",
            "sources": ("book",),
        },
    ),
    Caution: (
        ("cautions", "care"),
        {
            "signal": "danger",
            "answers": ("fall", "wet"),
            **dict.fromkeys(("hazard", "consequence", "avoidance", "stop-when", "call"), "Other words."),
            "sources": ("book",),
        },
    ),
    Hazard: (
        ("hazards", "fall"),
        {
            "title": "Falling",
            "least-signal": "danger",
            "where": ("roof",),
            "acts": ("hot-work",),
        },
    ),
    Condition: (
        ("gates", "flat", "all-of", 0),
        {
            "holds": "It is calm.",
            "tell": "Look at the trees.",
            "on": ("flat",),
            "sources": ("book",),
        },
    ),
    Gate: (
        ("gates", "flat"),
        {
            "title": "Away",
            "opens": ("roof", "ladder"),
            "roofs": ("flat", "slope"),
            "all-of": ({"holds": "It is dry."}, {"holds": "It is calm."}),
            "ends-when": ("came-down", "time-limit"),
            "minutes": 30,
            "if-not": "Go home.",
            "cautions": ("care",),
        },
    ),
    Source: (
        ("sources", "book"),
        {
            **SOURCE,
            "title": "Another",
            "publisher": "Another",
            "kind": "paper",
            "seen": "seen",
            "states": "More.",
            "address": "an address",
        },
    ),
    Term: (("terms", "lap"), {"term": "laps", "means": "Otherwise."}),
    Vocabulary: (
        ("vocabulary",),
        {
            "covering": {"slate": "thin slates", "tile": "tiles"},
            "light": {"dome": "a round dome", "pane": "a pane"},
            "found-on": {"dome": ("slate",)},
            "roof": {"flat": "a level roof", "slope": "a slope"},
            "lies-on": {"slate": ("slope",)},
        },
    ),
    Settings: (("settings",), {"first-tree": "b", "make-safe": "s"}),
}
"""By record of the model: where one stands in the guide, and another value for each of its keys."""
NOT_BY_ITSELF = {(Tree, "steps")}
"""Fields of which every part is another record here."""
FIELDS = [
    (kind, key_of(name))
    for kind in AT
    for name in kind.model_fields
    if name not in KEPT_BY_AUTHORS and (kind, name) not in NOT_BY_ITSELF
]


def changed(kind, key):
    keys, values = AT[kind]
    plain = copy.deepcopy(GUIDE)
    held, *inner = plain, *keys
    for each in inner[:-1]:
        held = held[each]
    held[inner[-1]][key] = values[key]
    return plain


@pytest.mark.parametrize(("kind", "key"), FIELDS, ids=lambda each: each if isinstance(each, str) else each.__name__)
def test_each_field_that_is_changed_alone_is_told(kind, key):
    found = reviewed(GUIDE, changed(kind, key))
    rows = [row for name in ("safety", "remedies", "steps", "values", "text") for row in getattr(found, name)]
    assert rows, f"{key} of {kind.__name__} is not told"
    assert not found.empty


@pytest.mark.parametrize("key", ["title", "if-not", "joins"])
def test_joined_gate_is_told(key):
    after = copy.deepcopy(GUIDE)
    after["gates"]["either"][key] = {"joins": ("flat", "up")}.get(key, "Other words.")
    found = reviewed(GUIDE, after)
    assert any("either" in row.subject for row in (*found.safety, *found.values, *found.text))


@pytest.mark.parametrize(
    ("kind", "key", "told"),
    [
        (RemedyStep, "then", "“Text.” (a/r), when it is done"),
        (Remedy, "urgent", "now: True"),
        (Gate, "roofs", "now: “a slope”"),
        (Gate, "opens", "now: “On a ladder”"),
        (Action, "one-hand", "now: From a hook."),
        (Action, "where", "now: “On the ground”"),
        (Condition, "on", "was: every roof that the gate is for"),
    ],
)
def test_fields_of_the_newest_format_are_told_in_plain_words(kind, key, told):
    before, after = version(GUIDE), version(changed(kind, key))
    lines = as_text(outline(review(before, after), names_of(Match(before.draft, after.draft)))).splitlines()
    assert told in [each.strip() for each in lines]
