"""What a review reads: each text once, no rule proved, no tree walked that asks and ends as it did."""

import sys

from guides import edit, good_guide
from kept_in_git import keep, run
from reviewed import read
from test_progress import Terminal

from build_tools.proof import checks
from build_tools.review import compare
from build_tools.review.record.changes import Side
from build_tools.sources import library

COLD = "trees/cold-pane.yaml"
REWORDED = "why: Drops on the inside", "why: Such drops on the inside"


def test_text_that_is_the_same_is_read_once(tmp_path, monkeypatch):
    before, after = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    edit(after, COLD, *REWORDED)
    first = read(before, "before")
    parsed = []
    parse = library.parse
    monkeypatch.setattr(library, "parse", lambda source, kind: parsed.append(source.path) or parse(source, kind))
    again = compare.read_version(after, Side(name="after"), first.draft.files)
    assert parsed == [COLD]
    assert again.draft == read(after, "after").draft
    assert [row.detail for row in compare.review(first, again).text] == ["why"]


def test_warnings_of_a_text_that_is_not_read_again_are_kept(good):
    edit(good, COLD, "title: The pane is wet in dry weather", "title: The pane is wet in dry weather # or so")
    draft, _, problems = library.read_library(good)
    assert [each.code for each in problems] == ["swallowed-text"]
    assert library.read_library(good, draft.files)[2] == problems


def test_no_rule_is_proved(good, monkeypatch, capsys):
    keep(good)
    edit(good, COLD, *REWORDED)
    monkeypatch.setattr(checks, "ALL_RULES", None)
    assert run(good) == 0
    assert "why: changed" in capsys.readouterr().out


def test_tree_that_asks_and_ends_as_it_did_is_not_walked(tmp_path, monkeypatch):
    before, after = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    edit(after, COLD, *REWORDED)
    monkeypatch.setattr(compare, "walk_of", None)
    assert compare.review(read(before, "before"), read(after, "after")).paths == ()


def test_progress_is_shown_on_a_terminal_and_not_in_what_is_printed(good, capsys, monkeypatch):
    keep(good)
    edit(good, COLD, '{as: no, since: "Dry or not, a dish does no harm."}', "{as: yes, since: Air does no harm.}")
    monkeypatch.setattr(sys, "stderr", Terminal())
    assert run(good) == 1
    told = sys.stderr.getvalue()
    for words in ("Reading main…", "Reading working tree…", "Walking both versions of tree 1 of 1…"):
        assert words in told
    assert "\x1b" not in capsys.readouterr().out
