"""Stories that end elsewhere: stated cases walked in both versions, and what is said where their ways part."""

from dataclasses import replace

import pytest
from guides import edit, good_guide, the_checked, the_guide, turn_round
from reviewed import read

from build_tools.guide.walk import walk_data
from build_tools.proof.draft_walks import draft_walks
from build_tools.review.compare import Unreadable, review
from build_tools.review.differences.stories import stories
from build_tools.review.record.changes import Story
from build_tools.review.versions.matching import Match
from build_tools.review.words.outline import outline
from build_tools.review.words.text import as_text

SHED, COLD = "trees/potting-shed.yaml", "trees/cold-pane.yaml"
CASE = "trees/cases/morning.yaml"
MORNING = """\
title: A wet pane on a dry morning
facts: The pane is wet, and no rain has fallen.
tree: potting-shed
answers:
  - drip-in-rain: no
  - drops-inside: yes
ends-in: air-the-shed
"""
CATCH, AIR = "Catch the drip", "Air the shed"
FIRST = "Does it drip only in rain?"


@pytest.fixture
def both(tmp_path):
    """Two folders of the good guide with one stated case."""
    folders = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    for each in folders:
        (each / "trees/cases").mkdir(parents=True)
        (each / CASE).write_text(MORNING, encoding="utf-8")
    return folders


def found(both):
    return review(*(read(folder, name) for folder, name in zip(both, ("before", "after"), strict=True)))


def story(both) -> Story:
    (told,) = found(both).stories
    return told


def test_case_that_ends_as_before_is_no_story(both):
    edit(both[1], SHED, "Think of the last dry week.", "Think of the last week that was dry.")
    assert found(both).stories == () and not found(both).grave


def test_exchanged_exits_are_told_by_the_case_that_they_send_elsewhere(both):
    turn_round(both[1], COLD)
    told = story(both)
    assert (told.title, told.case, bool(told.grave)) == ("A wet pane on a dry morning", "kept", True)
    assert (told.before.title, told.after.title) == (AIR, CATCH)
    assert (told.step, told.answer) == ("cold-pane/drops-inside", "yes")
    assert told.spot_after.path == COLD and told.spot_after.line > 1
    assert found(both).grave


def test_stories_stand_first_and_say_where_the_ways_part(both):
    turn_round(both[1], COLD)
    said = as_text(outline(found(both)))
    lines = [each.strip() for each in said.splitlines()]
    at = lines.index("Stories that end elsewhere")
    assert lines[at + 1 : at + 6] == [
        "“A wet pane on a dry morning”",
        "grave: a story no longer ends as its case states",
        f"was: ends with “{AIR}”",
        f"now: ends with “{CATCH}”",
        "the ways part at: “Do drops hang on the inside of the pane?”, answered “yes”",
    ]


def test_case_whose_question_is_not_answered_says_which(both):
    turn_round(both[1], SHED)
    told = story(both)
    assert (told.before.kind, told.after.kind) == ("remedy", "question")
    assert (told.after.title, told.question, told.answer) == ("Do plain tiles cover the roof?", FIRST, "no")


def test_case_bent_to_the_new_ending_is_told_and_not_grave(both):
    turn_round(both[1], COLD)
    edit(both[1], CASE, "ends-in: air-the-shed", "ends-in: catch-the-drip")
    told = story(both)
    assert (told.case, told.before.title, told.after.title, bool(told.grave)) == ("changed", AIR, CATCH, False)
    assert "“A wet pane on a dry morning”, of which the case itself was changed" in as_text(outline(found(both)))


def test_case_changed_to_an_end_that_it_does_not_come_to_is_grave(both):
    edit(both[1], CASE, "ends-in: air-the-shed", "ends-in: hang-the-tile-back")
    told = story(both)
    assert (told.case, told.after.title, told.states, bool(told.grave)) == ("changed", AIR, "Hang the tile back", True)


def test_case_taken_out_is_grave_only_where_it_would_end_elsewhere(both):
    (both[1] / CASE).unlink()
    assert (story(both).case, bool(story(both).grave)) == ("removed", False)
    turn_round(both[1], COLD)
    assert (story(both).case, story(both).after.title, bool(story(both).grave)) == ("removed", CATCH, True)


def test_case_that_cannot_be_read_any_more_makes_its_version_unreadable(both):
    (both[1] / CASE).write_text("title: Nothing\n", encoding="utf-8")
    with pytest.raises(Unreadable, match=f"{CASE}, line 1: "):
        found(both)


def test_case_that_states_less_is_told(both):
    more = "work-in-order:\n  - Prop the door open\n"
    edit(both[0], CASE, "ends-in:", f"{more}ends-in:")
    assert (story(both).case, bool(story(both).grave)) == ("changed", False)


def test_new_case_is_told_only_where_it_does_not_end_as_it_states(both):
    (both[0] / CASE).unlink()
    assert found(both).stories == ()
    edit(both[1], CASE, "ends-in: air-the-shed", "ends-in: catch-the-drip")
    assert (story(both).case, story(both).before, bool(story(both).grave)) == ("added", None, True)


def test_case_that_ends_as_it_states_at_last_is_told_and_not_grave(both):
    (both[0] / COLD).unlink()
    assert (story(both).before.kind, story(both).after.title, bool(story(both).grave)) == ("missing", AIR, False)


def test_order_of_questions_and_new_names_of_steps_are_the_same_story(both):
    text = (both[1] / COLD).read_text(encoding="utf-8")
    (both[1] / COLD).write_text(text.replace("drops-inside", "wet-inside"), encoding="utf-8")
    assert found(both).stories == ()


def test_exit_to_no_step_and_tree_that_is_gone(both):
    edit(both[1], SHED, "then: to-cold-pane", "then: nowhere")
    assert (story(both).after.kind, story(both).after.title) == ("missing", "nowhere")
    (both[1] / SHED).unlink()
    assert (story(both).after.kind, bool(story(both).grave)) == ("nothing", True)


def test_ways_that_go_round_are_not_walked_and_that_is_said(both):
    edit(both[1], COLD, "  air-it:\n    remedy: air-the-shed", "  air-it:\n    go-to: potting-shed")
    assert found(both).stories == ()
    assert "were not walked: the ways of a version go round in a circle." in as_text(outline(found(both)))


def test_walks_of_a_draft_are_those_of_the_pages():
    lean = draft_walks(the_checked().draft)
    for tree in the_guide().trees:
        whole = walk_data(the_guide(), tree)
        assert lean[tree.id]["start"] == whole["start"]
        assert lean[tree.id]["steps"].keys() == whole["steps"].keys()
        for name, step in lean[tree.id]["steps"].items():
            assert within(step, whole["steps"][name])


def within(part, whole):
    """Tell whether all that one mapping says, another says too."""
    if isinstance(part, dict):
        return all(within(value, whole[key]) for key, value in part.items())
    return part == (" ".join(whole.split()) if isinstance(whole, str) else whole)


def test_every_stated_case_of_the_guide_ends_as_it_states():
    draft = the_checked().draft
    assert stories(Match(replace(draft, cases={}), draft)) == ((), ())
