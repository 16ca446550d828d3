"""New trees, remedies, gates and cautions are shown whole, as a reader gets them, with where they go up first."""

import json

from guides import draft_of, gate, good_guide, opens, question, remedy, the_checked, tree
from reviewed import CAUTION, read, reviewed

from build_tools.model import every_value
from build_tools.proof.titles import name_words
from build_tools.review.compare import review
from build_tools.review.differences.whole import new_things
from build_tools.review.versions.matching import Match
from build_tools.review.words.markdown import MOST_LETTERS, as_markdown
from build_tools.review.words.outline import outline
from build_tools.review.words.text import as_text
from build_tools.sources.library import TABLES

TABLE = {
    "cautions": {"care": CAUTION},
    "gates": {"up": {**opens("ladder"), "cautions": ("care",)}},
    "hazards": {"fall": {"title": "Fall", "least-signal": "warning", "where": ("ladder", "roof")}},
}
BEFORE = {"trees": {"a": tree({"p": question("p", "e", "e", "e"), "e": {"remedy": "r"}})}, "remedies": {"r": remedy()}}
NEW = tree(
    {
        "first": question("first", "way-up", "e", "e", hazards=("fall",)),
        "way-up": gate("up", "tile", "e", "e"),
        "tile": question("tile", "e", "e", "e", where="ladder"),
        "e": {"remedy": "r"},
    }
)


def with_new(**more):
    return {**BEFORE, **TABLE, "trees": {**BEFORE["trees"], "b": NEW}, **more}


def whole(before, after):
    return {(each.kind, each.name): each for each in reviewed(before, after).whole}


def said(each):
    return [(line.word, line.words) for line in each.said]


def nowhere(placed):
    return ""


def test_new_tree_says_first_where_it_goes_up_behind_which_gate_and_its_hazards():
    new = whole({**BEFORE, **TABLE}, with_new())
    assert list(new) == [("tree", "b")]
    assert said(new["tree", "b"])[:2] == [("goes up", "On a ladder, behind “Up”"), ("hazards declared", "Fall")]
    assert [each.title for each in new["tree", "b"].steps] == [
        "1. Is it first? [Inside]",
        "2. Gate: Up",
        "3. Is it tile? [On a ladder]",
        "4. Remedy: Text.",
    ]


def test_look_of_an_answer_and_where_it_leads_stand_in_one_line():
    first = whole({**BEFORE, **TABLE}, with_new())["tree", "b"].steps[0]
    assert ("Yes", "So. → “Up”") in said(first) and ("Can't tell", "→ “Text.”") in said(first)


def test_place_behind_no_gate_is_said_loudly():
    bare = tree({"tile": question("tile", "e", "e", "e", where="ladder"), "e": {"remedy": "r"}})
    new = whole({**BEFORE, **TABLE}, with_new(trees={**BEFORE["trees"], "b": bare}))
    assert said(new["tree", "b"])[0] == ("goes up", "On a ladder, behind NO GATE")


def test_new_remedy_gate_caution_and_hazard_and_a_new_step_of_an_old_tree():
    work = remedy({"gate": "up"}, {"do": "Lay it.", "where": "ladder"}, urgent=True)
    steps = {**BEFORE["trees"]["a"]["steps"], "q": question("q", "e", "e", "e")}
    steps["p"] = question("p", "q", "e", "e")
    after = {**TABLE, "trees": {"a": tree(steps)}, "remedies": {**BEFORE["remedies"], "s": work}}
    new = whole(BEFORE, after)
    assert list(new) == [("remedy", "s"), ("step", "a/q"), ("gate", "up"), ("caution", "care"), ("hazard", "fall")]
    assert said(new["remedy", "s"])[0] == ("goes up", "On a ladder, behind “Up”")
    assert [each.title for each in new["remedy", "s"].steps] == [
        "1. Gate: Up",
        "2. Lay it. [On a ladder]",
        "Afterwards",
    ]
    assert "urgent" in dict(said(new["remedy", "s"]))
    assert new["step", "a/q"].title == "Is it q? [Inside]" and ("in", "A tree") in said(new["step", "a/q"])
    assert ("must hold", "It is dry.") in said(new["gate", "up"])
    assert ("how to avoid it", "Stay down.") in said(new["caution", "care"])


def test_what_was_only_renamed_is_not_new():
    steps = {"new": question("p", "e", "e", "e"), "e": {"remedy": "r"}}
    assert reviewed(BEFORE, {**BEFORE, "trees": {"a": tree(steps)}}).whole == ()


def test_every_word_of_the_guide_is_shown_where_all_of_it_is_new():
    draft = the_checked().draft
    bare = draft_of({}, {}, vocabulary=TABLES["vocabulary"].dump_python(draft.vocabulary, by_alias=True))
    new = {(each.kind, each.name): each for each in new_things(Match(bare, draft))}
    for kind, records in (("tree", draft.trees), ("remedy", draft.remedies), ("gate", draft.gates)):
        for name, record in records.items():
            shown = json.dumps(new[kind, name].model_dump(mode="json"), ensure_ascii=False)
            missing = [
                (keys, value)
                for keys, value in every_value(record)
                if isinstance(value, str) and " " in value and "accept" not in keys and keys[0] != "parts"
                if json.dumps(name_words(value), ensure_ascii=False)[1:-1] not in shown
                and not {"any-order", "establishes", "take-off"} & set(keys)
            ]
            assert missing == [], (kind, name)
            assert len(new[kind, name].steps) == len(getattr(record, "steps", ())) + (kind == "remedy")


def test_new_remedy_that_names_what_is_not_there_is_shown_all_the_same():
    lost = remedy({"gate": "gone"}, {"do": "Lay it.", "where": "roof"}, **{"after-failed-proof": "nowhere"})
    after = {
        "trees": {"b": tree({"p": question("p", "q", "r", "r"), "r": {"remedy": "none"}})},
        "remedies": {"s": lost},
    }
    new = whole({"trees": {}, "remedies": {}}, after)
    assert ("gate", "there is no gate “gone”") in said(new["remedy", "s"].steps[0])
    assert ("Yes", "So. → no step “q”") in said(new["tree", "b"].steps[0])


def test_steps_are_folded_and_the_first_lines_are_not(tmp_path):
    before, after = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    (before / "trees/remedies/hang-the-tile-back.yaml").unlink()
    found = review(read(before, "before"), read(after, "after"))
    lines = as_markdown(outline(found), nowhere).splitlines()
    folded = lines.index("  <details><summary>Its work, step by step</summary>")
    assert any("goes up: On a ladder, behind" in line for line in lines[:folded])
    assert any("2. Gate: " in line for line in lines[folded:])


def test_steps_for_which_a_comment_has_no_room_leave_their_first_lines():
    long = {name: remedy(*({"do": "Lay it. " * 900, "where": "inside"},) * 5) for name in ("s", "t", "u")}
    found = reviewed(BEFORE, {**BEFORE, "remedies": {**BEFORE["remedies"], **long}})
    told = as_markdown(outline(found), nowhere)
    assert len(told) < MOST_LETTERS + 1_000
    assert told.count("**new remedy: ") == 3 and told.count("a comment has no room for this") >= 1
    assert as_text(outline(found)).count("Lay it. Lay it.") > 0
