"""Plain values to records: each fault once, at its place, in the author's words."""

import pytest
from guides import GOOD

from build_tools.sources.library import REMEDY, TABLES, TREE
from build_tools.sources.parse import parse
from build_tools.sources.source import SourceFile

SHED = (GOOD / "trees/potting-shed.yaml").read_text(encoding="utf-8")
CATCH = (GOOD / "trees/remedies/catch-the-drip.yaml").read_text(encoding="utf-8")


def parsed(text, kind=TREE):
    return parse(SourceFile("f.yaml", text), kind)


def told(text, kind=TREE):
    return [(each.place.line, each.code) for each in parsed(text, kind)[1]]


def test_good_file_becomes_a_record_with_places():
    found, problems = parsed(SHED)
    assert problems == () and found.record.steps["plain-tiles"].if_so.startswith("Small flat tiles")
    assert found.place(("steps", "plain-tiles", "if-so")).line == SHED.split("\n").index("          looks: >-", 35) + 1


def test_place_of_a_missing_value_is_the_nearest_around_it():
    found, _ = parsed(SHED)
    assert found.place(("steps", "plain-tiles", "carry", 3)) == found.place(("steps", "plain-tiles"))


def test_all_faults_of_a_file_are_told_in_one_run():
    text = (
        SHED.replace("where: ladder", "where: lader")
        .replace("minutes: 1\n", "minutes: soon\n")
        .replace("about", "abut")
    )
    assert sorted(told(text)) == [(1, "missing-key"), (4, "unknown-key"), (18, "wrong-value"), (89, "wrong-value")]


def test_step_of_no_kind_is_told_once():
    assert told(SHED.replace("        gate: shed-ladder\n", "")) == [(82, "unknown-step-kind")]


def test_wrong_items_of_a_list_do_not_make_it_empty():
    assert told(CATCH.replace("  - a dish", "  - 3"), REMEDY) == [(15, "wrong-value")]


@pytest.mark.parametrize(
    ("old", "new", "near"),
    [
        ("    find-out: >-", "    findout: >-", "find-out"),
        ("          looks: >-\n            Slates", "          loks: >-\n            Slates", "looks"),
        (
            "        yes:\n          looks: >-\n            The floor",
            "        yess:\n          looks: >-\n            The floor",
            "yes",
        ),
        ("starts-at:", "start-at:", "starts-at"),
        ("    note: Note", "    notes: Note", "note"),
    ],
)
def test_misspelt_key_is_told_with_the_key_that_is_meant(old, new, near):
    told_mends = [each.mend for each in parsed(SHED.replace(old, new))[1] if each.code == "unknown-key"]
    assert told_mends == [f'Did you mean "{near}"?']


def test_key_of_another_kind_of_record_is_not_suggested():
    wrong = SHED.replace("        note: Note the weather beside each dish.", "        wher: inside")
    assert [each.mend for each in parsed(wrong)[1]] == ["Take it out."]


def test_long_or_many_lined_value_is_quoted_short():
    wrong = SHED.replace("where: ladder", "where: >-\n          " + "up and up " * 40)
    (problem,) = parsed(wrong)[1]
    assert len(problem.what) < 160 and "\n" not in problem.what


@pytest.mark.parametrize("name", TABLES)
def test_table_that_is_a_list_is_told_and_not_read(name):
    found, problems = parsed("- one\n", TABLES[name])
    assert found is None and [each.code for each in problems] == ["wrong-value"]


@pytest.mark.parametrize("name", ["steps", "accept", "gate", "where"])
def test_word_of_the_format_may_be_an_id(name):
    found, problems = parsed(f"{name}:\n  term: a word\n  means: It means.\n", TABLES["terms"])
    assert problems == () and name in found.record


def test_fault_in_an_entry_named_like_a_key_stands_at_its_place():
    assert told("steps:\n  term: a word\n  means: 3\n", TABLES["terms"]) == [(3, "wrong-value")]
