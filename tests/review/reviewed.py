"""Guides to review: small ones made by chance, changed by chance, and what a review is the other way round."""

from __future__ import annotations

import copy
import json

from guides import CAUTION, draft_of, gate, opens, question, remedy, tree
from hypothesis import strategies as st

from build_tools.review.compare import Version, read_version, review
from build_tools.review.differences.safety import GAINS
from build_tools.review.record.changes import Side

MIRRORED = {**GAINS, **{gain: loss for loss, gain in GAINS.items()}, "changed": "changed"}
ASKED = {"both": "both", "before": "after", "after": "before"}
TABLES = {
    "cautions": {"care": CAUTION, "mind": {**CAUTION, "signal": "caution", "answers": ("wet",)}},
    "gates": {"up": {**opens("ladder"), "cautions": ("care",)}, "over": opens("roof")},
    "hazards": {
        "fall": {"title": "Fall", "least-signal": "warning", "where": ("ladder", "roof")},
        "wet": {"title": "Wet", "least-signal": "caution"},
    },
}
REMEDIES = {
    "r": remedy(cautions=("care", "mind")),
    "s": remedy(
        {"do": "Fetch it.", "where": "ground", "hazards": ("wet",)},
        {"gate": "up"},
        {"do": "Lay it.", "where": "ladder"},
        cautions=("care", "mind"),
        materials=({"item": "Sheet", "quantity": "1 m."},),
    ),
}


@st.composite
def steps(draw, name):
    """The steps of a tree, each of whose exits lead on to a later one; the last three end the walk."""
    count = draw(st.integers(1, 5))
    ends = {
        f"{name}-r": {"remedy": "r"},
        f"{name}-s": {"remedy": "s"},
        f"{name}-g": {"go-to": "b" if name == "a" else "c"},
    }
    names = [*(f"{name}{number}" for number in range(count)), *ends]
    made = {}
    for number in range(count):
        heads = [draw(st.sampled_from(names[number + 1 :])) for _ in range(3)]
        asked = question(f"{name}{number}", *heads, hazards=draw(st.sampled_from([(), ("wet",)])), minutes=1 + number)
        made[f"{name}{number}"] = draw(st.sampled_from([asked, gate("up", *heads), gate("over", *heads), asked]))
    return {**made, **ends}


@st.composite
def guides(draw):
    """A guide's plain data: two trees, two remedies, and tables."""
    trees = {name: tree(draw(steps(name))) for name in ("a", "b")}
    trees["c"] = tree({"c0": {"remedy": "r"}})
    return {"trees": trees, "remedies": copy.deepcopy(REMEDIES), **copy.deepcopy(TABLES)}


def _asking(plain, name):
    return [step for step in plain["trees"][name]["steps"].values() if "exits" in step]


def lead_elsewhere(draw, plain):
    named = draw(st.sampled_from(["a", "b"]))
    names = list(plain["trees"][named]["steps"])
    place = draw(st.integers(0, len(_asking(plain, named)) - 1))
    exits = _asking(plain, named)[place]["exits"]
    exits[draw(st.sampled_from(sorted(exits)))] = draw(st.sampled_from(names[place + 1 :]))


def rename(draw, plain):
    made = plain["trees"]["a"]
    old = draw(st.sampled_from(list(made["steps"])))
    made["steps"] = {f"new-{name}" if name == old else name: step for name, step in made["steps"].items()}
    made["starts-at"] = f"new-{old}" if made["starts-at"] == old else made["starts-at"]
    for step in _asking(plain, "a"):
        step["exits"] = {answer: f"new-{head}" if head == old else head for answer, head in step["exits"].items()}


def put_first(draw, plain):
    made = plain["trees"]["b"]
    start = made["starts-at"]
    heads = [draw(st.sampled_from(list(made["steps"]))) for _ in range(3)]
    made["steps"] = {"first": question("first", start, *heads[:2]), **made["steps"]}
    made["starts-at"] = "first"


def turn_round(draw, plain):
    """Change the order of two questions that follow one another, as far as the first leads to the second."""
    made = plain["trees"]["a"]
    asking = [name for name, step in made["steps"].items() if "exits" in step]
    if len(asking) > 1:
        one, other = (dict(made["steps"][name], exits=None) for name in asking[:2])
        exits = [made["steps"][name]["exits"] for name in asking[:2]]
        turned = {asking[1]: {**other, "exits": {k: asking[0] if v == asking[1] else v for k, v in exits[0].items()}}}
        turned[asking[0]] = {**one, "exits": exits[1]}
        rest = {name: step for name, step in made["steps"].items() if name not in turned}
        made["steps"], made["starts-at"] = {**turned, **rest}, asking[1]


def in_table(*keys, value):
    def change(draw, plain):
        *way, last = keys
        for key in way:
            plain = plain[key]
        plain[last] = value

    return change


CHANGES = (
    lead_elsewhere,
    rename,
    put_first,
    turn_round,
    in_table("cautions", "care", "signal", value="danger"),
    in_table("cautions", "mind", "signal", value="notice"),
    in_table("cautions", "care", "avoidance", value="Take care."),
    in_table("gates", "up", "all-of", value=({"holds": "It is calm."}, {"holds": "It is dry."})),
    in_table("gates", "up", "cautions", value=()),
    in_table("gates", "over", "if-not", value="Go home."),
    in_table("hazards", "fall", "where", value=("roof",)),
    in_table("remedies", "r", "cautions", value=("care",)),
    in_table("remedies", "s", "steps", value=({"do": "Lay it.", "where": "ground"}, {"gate": "up"})),
    in_table(
        "remedies", "s", "materials", value=({"item": "Sheet", "quantity": "2 m."}, {"item": "Nail", "quantity": "1."})
    ),
    in_table("remedies", "t", value=remedy()),
    in_table("trees", "d", value=tree({"d0": {"remedy": "s"}})),
    in_table("trees", "c", "title", value="Another"),
    in_table("vocabulary", value={"covering": {"slate": "thin slates"}, "light": {"dome": "a dome"}}),
)


@st.composite
def edited(draw, least=0):
    """Two versions of a guide: one made by chance, and the same with a few changes."""
    before = draw(guides())
    after = copy.deepcopy(before)
    for change in draw(st.lists(st.sampled_from(CHANGES), min_size=least, max_size=3, unique=True)):
        change(draw, after)
    return before, after


def version(plain, name="a version"):
    """Make a version of plain data, as if it had been read."""
    return Version(Side(name=name), draft_of(**plain), {})


def read(root, name):
    """Read a version from a folder."""
    return read_version(root, Side(name=name))


def reviewed(before, after):
    return review(version(before, "before"), version(after, "after"))


def _row(row, mirrored):
    if mirrored:
        row = {**row, "before": row["after"], "after": row["before"], "change": MIRRORED[row["change"]]}
    return json.dumps({key: each for key, each in row.items() if not key.startswith(("spot", "grave"))}, sort_keys=True)


def _paths(tree, mirrored):
    ends = [
        (
            each["before"],
            each["after"],
            each["count"],
            len(each["example"]),
            sorted(ASKED[a["asked"]] for a in each["example"]),
        )
        if mirrored
        else (
            each["after"],
            each["before"],
            each["count"],
            len(each["example"]),
            sorted(a["asked"] for a in each["example"]),
        )
        for each in tree["endings"]
    ]
    plain = sorted(json.dumps(each, sort_keys=True) for each in ends)
    return tree["tree"], tree["changed"], tree["total"], plain


def facts(found, mirrored=False):
    """Give what a review says, without its order; `mirrored` as if it had been made the other way round."""
    plain = found.model_dump(mode="json")
    said = {
        name: sorted(_row(row, mirrored) for row in plain[name])
        for name in ("safety", "remedies", "steps", "values", "text")
    }
    said["paths"] = sorted(_paths(each, mirrored) for each in plain["paths"])
    sides = ("after", "before") if mirrored else ("before", "after")
    said["lengths"] = sorted(
        (each["tree"], each["measure"], *(each[side] for side in sides)) for each in plain["lengths"]
    )
    return said
