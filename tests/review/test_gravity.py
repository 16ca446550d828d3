"""What somebody must look at, and the reason that is given; and what nobody is called for."""

import copy

import pytest
from guides import question, tree
from reviewed import REMEDIES, TABLES, reviewed

from build_tools.review.differences.turns import numbers_changed, turned
from build_tools.review.words.outline import outline


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("Never stand on glass.", "Stand on glass.", 'the words lost "never"'),
        ("Touch nothing.", "Touch everything.", 'the words lost "nothing"'),
        ("Don't go up.", "Go up.", 'the words lost "n\'t"'),
        ("Look. Nobody goes up.", "Look.", 'the words lost "nobody"'),
        ("Only a glazier lifts it.", "A glazier lifts it.", 'the words lost "only"'),
        ("Lap it over the tile.", "Lap it under the tile.", 'the words have "under" for "over"'),
        ("Touch the bare wire.", "Do not touch the bare wire.", 'the words gained "not"'),
        ("Do not go up.", "Never go up.", ""),
        ("Stand on glass.", "Never stand on glass.", ""),
        ("Look up.", "Look up. Do not touch it.", ""),
        ("Look up, then wait.", "Wait after a look up.", ""),
        (None, "Not this.", ""),
    ],
)
def test_words_that_turn_the_sense(before, after, said):
    assert turned(before, after) == said


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("Lap it 150 mm.", "Lap it 75 mm.", "numbers: 150 mm → 75 mm"),
        ("Lap it 150 mm.", "Lap it 150 cm.", "numbers: 150 mm → 150 cm"),
        ("Two people lift it.", "People lift it.", "numbers: two → none"),
        ("From 5 to 9.", "From 9 to 5.", "numbers: 5, 9 → 9, 5"),
        ("Lap it 150 mm over.", "Over it goes, by 150 mm.", ""),
    ],
)
def test_numbers_that_are_others(before, after, said):
    assert numbers_changed(before, after) == said


def guide(**steps):
    remedies = copy.deepcopy(REMEDIES)
    remedies["r"]["urgent"] = True
    remedies["r"].update({"who": "A roofer with scaffold.", "tools": ("Ladder", "Mask"), "glass": "comes-out"})
    return {"trees": {"a": tree(steps)}, "remedies": remedies, **copy.deepcopy(TABLES)}


BASE = guide(
    start=question("start", "safe", "later", "safe", **{"if-so": "It hangs in a belly.", "if-not": "It is flat."}),
    later=question("later", "first", "end", "end", minutes=5),
    first={"remedy": "r", "then": "end"},
    safe={"remedy": "r"},
    end={"remedy": "s"},
)
START = ("trees", "a", "steps", "start")
R = ("remedies", "r")


def told(*changes):
    """Change values by their keys, and give the reasons of the review."""
    after = copy.deepcopy(BASE)
    for *keys, last, value in changes:
        entry = after
        for key in keys:
            entry = entry[key]
        entry[last] = value
    return reviewed(BASE, after).reasons


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ([(*START, "exits", "unsure", "later")], "whoever cannot tell is no longer led to “Text.”, which makes safe"),
        ([(*START[:3], "later", "exits", "yes", "end")], "somebody is no longer led to “Text.”, which makes safe"),
        (
            [(*START, "exits", "yes", "later"), (*START, "exits", "no", "safe")],
            '"yes" now leads where "no" led, and "no" leads elsewhere',
        ),
        (
            [(*START, "if-so", "It is flat."), (*START, "if-not", "It hangs in a belly.")],
            "what yes and what no look like changed places",
        ),
        ([(*START[:3], "first", "then", "safe")], "the walk goes on elsewhere when this is done"),
        ([(*R, "urgent", False)], "it is no longer urgent"),
        ([(*R, "glass", "not-touched")], "it asks for less care: not-touched, not comes-out"),
        ([(*R, "tools", ("Ladder",))], "tools no longer names Mask"),
        ([(*R, "who", "Anybody.")], "other people may do it, and only a person can tell whether they know less"),
        (
            [(*R, "who", "A roofer with scaffold or a handy person.")],
            "other people may do it, and only a person can tell whether they know less",
        ),
        (
            [("remedies", "s", "steps", ({"do": "Fetch it.", "where": "ground"}, *REMEDIES["s"]["steps"][1:]))],
            "hazards no longer names wet",
        ),
        ([("remedies", "s", "steps", REMEDIES["s"]["steps"][:2])], "a step of the work is gone"),
        ([("remedies", "s", "cautions", ("mind", "care"))], "it comes later than it did"),
        ([("settings", {"first-tree": "a", "make-safe": "s"})], "Stop, come down offers something else"),
    ],
)
def test_what_somebody_must_look_at(changes, reason):
    before = BASE
    if changes[0][0] == "settings":
        before = {**BASE, "settings": {"first-tree": "a", "make-safe": "r"}}
        assert reviewed(before, {**before, "settings": changes[0][1]}).reasons == (reason,)
    else:
        assert reason in told(*changes)


@pytest.mark.parametrize(
    "changes",
    [
        [(*START, "look", "Look. Never touch it.")],
        [(*START[:3], "later", "minutes", 9)],
        [(*START, "minutes", 9)],
        [(*R, "who", "A licensed roofer with scaffold.")],
        [(*R, "tools", ("Ladder", "Good mask"))],
        [(*R, "tools", ("Ladder", "Mask", "Rope"))],
        [(*R, "cures", "Other text.")],
        [("remedies", "s", "glass", "comes-out")],
        [("trees", "a", "title", "Another tree")],
    ],
)
def test_nobody_is_called_for_nothing(changes):
    assert told(*changes) == ()


def test_grave_finding_stands_first_and_is_never_folded():
    before = copy.deepcopy(BASE)
    before["trees"]["b"] = tree({"b0": {"remedy": "r"}}, title="Do not go up")
    after = copy.deepcopy(before)
    after["trees"]["a"]["title"], after["trees"]["b"]["title"] = "Another tree", "Do go up"
    found = reviewed(before, after)
    (section,) = (each for each in outline(found).sections if each.name == "text")
    assert [each.words for each in section.entries] == ['tree "b", title: changed', 'tree "a", title: changed']
    assert [note.word for note in section.entries[0].notes] == ["grave", "was", "now"]
    assert section.is_open and not section.is_folded


def test_warning_counts_what_is_grave_and_what_is_not_agreed():
    after = copy.deepcopy(BASE)
    after["remedies"]["r"]["glass"] = "not-touched"
    assert outline(reviewed(BASE, after)).warning == "1 finding is grave (1 remedy): a second person has to look at it."
    after["trees"]["a"]["steps"]["later"]["exits"]["unsure"] = "first"
    said = outline(reviewed(BASE, after)).warning
    one = "1 finding is grave (1 remedy): a second person has to look at it."
    assert said == f"{one} 1 tree leads elsewhere, and nobody has agreed."
