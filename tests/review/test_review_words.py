"""The words of a review: the changed exit leads, endings follow, titles stand for ids, the grave is counted by kind."""

import pytest
from guides import edit, good_guide, turn_round
from reviewed import read

from build_tools.review.compare import review
from build_tools.review.record.changes import Ending, PathChange, Spot, TreePaths
from build_tools.review.versions.matching import Match
from build_tools.review.words.html import as_html
from build_tools.review.words.naming import Names, names_of
from build_tools.review.words.outline import outline
from build_tools.review.words.pictures import pictures
from build_tools.review.words.text import as_text
from build_tools.review.words.way_entries import way_entries

SHED, COLD = "trees/potting-shed.yaml", "trees/cold-pane.yaml"
CAUTIONS = "trees/tables/cautions.yaml"
STUMBLING = ("asked before only", "asked after only", "raise it)", "met in", " fell", "None.")


@pytest.fixture
def both(tmp_path):
    return good_guide(tmp_path / "before"), good_guide(tmp_path / "after")


def said(both):
    before, after = (read(folder, folder.name) for folder in both)
    return as_text(outline(review(before, after), names_of(Match(before.draft, after.draft))))


def test_changed_exit_leads_and_its_endings_follow(both):
    turn_round(both[1], SHED)
    lines = [line.strip() for line in said(both).splitlines()]
    at = lines.index("Answers that lead elsewhere")
    assert lines[at + 1] == "“Does it drip only in rain?” (potting-shed/drip-in-rain), answered “yes”"
    assert [each for each in lines[at + 2 : at + 6] if each.startswith("le")] == [
        "led to: “Do plain tiles cover the roof?”",
        "leads to: “The pane is wet in dry weather”",
    ]
    endings = next(place for place, line in enumerate(lines) if line.startswith("so in “Water drips in the potting"))
    assert endings > lines.index("“Does it drip only in rain?” (potting-shed/drip-in-rain), answered “no”")
    assert "Questions and exits" not in lines


def test_titles_stand_where_ids_stood(both):
    turn_round(both[1], SHED)
    edit(both[1], CAUTIONS, "fall-from-ladder:\n  signal: warning", "fall-from-ladder:\n  signal: notice")
    text = said(both)
    assert "caution “NOTICE Fall from the ladder” (fall-from-ladder), signal: weakened" in text
    assert "in the walks of: “Water drips in the potting shed”" in text
    assert 'caution "' not in text and "step potting" not in text
    assert [word for word in STUMBLING if word in text] == []


def test_first_line_says_which_findings_are_grave_and_how_many(both):
    edit(both[1], CAUTIONS, "fall-from-ladder:\n  signal: warning", "fall-from-ladder:\n  signal: notice")
    assert said(both).splitlines()[1] == "1 finding is grave (1 caution): a second person has to look at it."
    turn_round(both[1], SHED)
    assert said(both).splitlines()[1].startswith("4 findings are grave (1 pair of endings, 1 caution, 2 steps): a")


def test_new_tree_is_told_once_and_not_by_paths_that_nobody_walked(both):
    (both[0] / COLD).unlink()
    edit(both[0], SHED, "go-to: cold-pane\n", "remedy: catch-the-drip\n")
    text = said(both)
    assert text.count("The pane is wet in dry weather") and "no such tree" not in text
    assert 'tree "cold-pane": added' not in text and "New, in full" in text


def test_name_that_nobody_knows_stays_an_id():
    names = Names({"caution a": "DANGER Fall", "step t/s": "Is it so?"})
    assert names.words('caution "a", signal: weakened') == "caution “DANGER Fall” (a), signal: weakened"
    assert names.words('caution "b": added') == 'caution "b": added'
    assert names.words("step t/s = t, look: changed") == "“Is it so?” (t/s = t), look: changed"


def test_words_of_an_added_step_have_room_beside_them(both):
    text = "  air-it:\n    remedy: air-the-shed\n"
    edit(both[1], COLD, text, f"{text}  wait:\n    remedy: catch-the-drip\n")
    before, after = (read(folder, folder.name) for folder in both)
    (dot,) = pictures(Match(before.draft, after.draft)).values()
    assert 'margin="0.4,0.1"' in dot
    page = as_html(outline(review(before, after)), lambda placed: "", {})
    assert "svg .added text { fill: var(--come); }" in page


def test_paths_that_end_where_they_did_past_one_act_less_are_told_together(both):
    before, after = (read(folder, folder.name) for folder in both)
    names = names_of(Match(before.draft, after.draft))
    ends = ("hang-the-tile-back", "air-the-shed")
    lost = [path_change(each, ("catch-the-drip",), (), count) for each, count in zip(ends, (40, 2), strict=True)]
    come = path_change("air-the-shed", (), ("catch-the-drip",), 3)
    paths = TreePaths(tree="potting-shed", changed=45, total=90, endings=(*lost, come))
    told = list(way_entries(review(before, after).model_copy(update={"paths": (paths,)}), names))
    inner = [each.words for each in told[-1].inner]
    assert inner[0].startswith("42 paths: end where they did, no longer past “")
    assert inner[1].startswith("3 paths: ") and " → " in inner[1] and len(inner) == 2
    ends_told = [note for note in told[-1].inner[0].notes if note.word == "they end with"]
    assert len(ends_told) == 1 and len(ends_told[0].parts[0].words.split("”, “")) == 2


def path_change(name, past, now_past, count):
    ends = [Ending(kind="remedy", name=name, title=name, past=each) for each in (past, now_past)]
    spot = Spot(path=SHED, line=7)
    why = "somebody is no longer led there" if past else ""
    return PathChange(
        before=ends[0], after=ends[1], count=count, example=(), spot_before=spot, spot_after=spot, grave=why
    )
