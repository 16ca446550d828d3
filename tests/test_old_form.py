"""Trees from before answers were blocks: refused with the command to run, and written anew without a loss."""

import pytest
from guides import CLEAN, codes_of, edit, good_guide, record, report_of

from build_tools.__main__ import main
from build_tools.proof.checks import check
from build_tools.review.command import Side
from build_tools.review.compare import read_version, review
from build_tools.sources.library import read_library
from build_tools.sources.old_form import in_new_form
from build_tools.sources.source import SourceFile

HEAP = "trees/compost-heap.yaml"
OLD = """\
# Of the heap.
title: The heap steams
version: 1.0.0
revised: 2026-11-25
about: Start here at the heap.
assumes:
  light:
    - shed-pane
starts-at: ash
parts:
  # What nobody climbs for.
  low: Down here
  high: Up there
steps:
  # The ash is never wet by itself.
  ash:
    part: low
    question: Is the ash wet?
    where: inside
    effort: look
    carry:
      - a lamp
      - a stick
    look: >-
      Look at it
      from above.
    # Yes is what most see.
    if-so: >-
      It shines
      like glass.
    if-not: It is dull, or grey.
    why: A wet ash has a cause of its own.
    exits:
      yes: dish
      # Whoever sees nothing goes up.
      no: go-up
      unsure: dish
    accept:
      same-target: A dish does no harm.
      question-form: It is short.

  go-up:
    part: high
    gate: shed-ladder
    exits:
      yes: slope
      no: dish
      unsure: dish

  slope:
    part: high
    measure: pitch
    question: Is the heap steep?
    where: ladder
    effort: touch
    look: Hold a level to it.
    why: A steep heap slips.
    exits:
      below: dish
      at-limit: air
      within: air
      unsure: dish
    accept:
      same-target: Steep heaps are aired, whatever they hold.

  dish:
    part: low
    remedy: catch-the-drip
  air:
    remedy: air-the-shed
"""
NEW = """\
# Of the heap.
title: The heap steams
version: 1.0.0
revised: 2026-11-25
about: Start here at the heap.
assumes:
  light:
    - shed-pane
starts-at: ash
parts:
  # What nobody climbs for.
  low:
    title: Down here
    steps:
      # The ash is never wet by itself.
      ash:
        question: Is the ash wet?
        where: inside
        effort: look
        carry: [a lamp, a stick]
        look: >-
          Look at it
          from above.
        # Whoever sees nothing goes up.
        # Yes is what most see.
        yes:
          looks: >-
            It shines
            like glass.
          then: dish
        no: {looks: "It is dull, or grey.", then: go-up}
        unsure: {as: yes, since: A dish does no harm.}
        why: A wet ash has a cause of its own.
        accept:
          question-form: It is short.

      dish:
        remedy: catch-the-drip

  high:
    title: Up there
    steps:
      go-up:
        gate: shed-ladder
        yes: {then: slope}
        no: {then: dish}
        unsure: {as: no}

      slope:
        measure: pitch
        question: Is the heap steep?
        where: ladder
        effort: touch
        look: Hold a level to it.
        why: A steep heap slips.
        verdicts:
          below: {then: dish}
          at-limit: {then: air}
          within: {as: at-limit, since: "Steep heaps are aired, whatever they hold."}
        unsure: {as: below}

steps:
  air:
    remedy: air-the-shed
"""


def anew(text):
    return in_new_form(SourceFile(HEAP, text))


@pytest.fixture
def old(good):
    (good / HEAP).write_text(OLD, encoding="utf-8")
    return good


def test_tree_is_written_anew_with_its_comments_order_and_folding():
    assert anew(OLD) == NEW


@pytest.mark.parametrize(
    "text", [NEW, "a: b: c\n", "", "- one\n", OLD.replace("    exits:\n      yes: dish", "    exits: {")]
)
def test_what_is_no_tree_of_the_old_form_stays_as_it_is(text):
    assert anew(text) == text


def test_old_keys_between_brackets_stay_as_they_are():
    text = "title: A\nsteps:\n  a: {question: Is it?, exits: {yes: b, no: b}}\n"
    assert anew(text) == text


def test_line_ends_of_another_system_and_a_last_line_without_one_stay():
    assert anew(OLD.replace("\n", "\r\n")) == NEW.replace("\n", "\r\n")
    assert anew(OLD.rstrip("\n")) == NEW


def test_tree_without_parts_keeps_its_steps_where_they_are():
    text = OLD.replace("    part: low\n", "").replace("    part: high\n", "")
    text = text.replace("parts:\n  # What nobody climbs for.\n  low: Down here\n  high: Up there\n", "")
    written = anew(text)
    assert "parts:" not in written and written.index("  ash:") < written.index("  go-up:") < written.index("  dish:")
    assert anew(written) == written


def test_answers_that_all_lead_one_way_each_say_why():
    written = anew(OLD.replace("      no: go-up\n", "      no: dish\n"))
    assert '        no: {looks: "It is dull, or grey.", as: yes, since: A dish does no harm.}\n' in written
    assert "        unsure: {as: yes, since: A dish does no harm.}\n" in written


def test_check_names_the_command_and_the_command_mends(old, capsys):
    (problem,) = [each for each in check(old).problems if each.place.path == HEAP]
    assert (problem.code, problem.place.line) == ("old-form", 10)
    assert f"python -m build_tools migrate {HEAP}" in problem.mend
    assert main(["--root", str(old), "migrate", HEAP]) == 0
    assert capsys.readouterr().out == f"wrote {HEAP}\n"
    assert (old / HEAP).read_text(encoding="utf-8") == NEW
    record(old)
    assert set(codes_of(old)) <= {"idle-accept"}


def test_migrate_writes_all_trees_of_the_old_form_and_no_other(old, capsys):
    assert main(["--root", str(old), "migrate"]) == 0
    assert main(["--root", str(old), "migrate"]) == 0
    assert capsys.readouterr().out.splitlines()[0] == f"wrote {HEAP}"


@pytest.mark.parametrize("path", ["trees/nowhere.yaml", "/etc/hosts"])
def test_migrate_refuses_what_is_no_file_of_the_guide(path, good, capsys):
    assert main(["--root", str(good), "migrate", path]) in (1, 2)
    assert capsys.readouterr().err.count("\n") == 1


def test_review_reads_the_old_form_and_finds_nothing_changed(old, tmp_path):
    now = good_guide(tmp_path / "now")
    (now / HEAP).write_text(NEW, encoding="utf-8")
    found = review(read_version(old, Side(name="old")), read_version(now, Side(name="now")))
    assert found.empty
    edit(now, HEAP, "It shines", "It gleams")
    assert not review(read_version(old, Side(name="old")), read_version(now, Side(name="now"))).empty


def test_what_is_read_is_what_was_written(old):
    (old / HEAP).write_text(NEW, encoding="utf-8")
    tree = read_library(old)[0].trees["compost-heap"]
    assert tree.steps["ash"].exits == {"yes": "dish", "no": "go-up", "unsure": "dish"}
    assert tree.steps["ash"].since == {"unsure": "A dish does no harm."}
    assert (tree.steps["ash"].if_so, tree.steps["ash"].if_not) == ("It shines like glass.", "It is dull, or grey.")
    assert tree.steps["go-up"].exits == {"yes": "slope", "no": "dish", "unsure": "dish"}
    assert tree.steps["slope"].exits == {"below": "dish", "at-limit": "air", "within": "air", "unsure": "dish"}
    assert [each.part for each in tree.steps.values()] == ["low", "low", "high", "high", None]
    assert tree.parts == {"low": "Down here", "high": "Up there"}


def test_places_of_a_tree_in_parts_point_into_its_answers(old):
    (old / HEAP).write_text(NEW, encoding="utf-8")
    parsed = read_library(old)[0].files[HEAP]
    lines = NEW.split("\n")

    def said(*keys):
        return lines[parsed.place(("steps", *keys)).line - 1].strip()

    assert said("ash", "if-not").startswith("no: {looks:")
    assert said("ash", "exits", "yes") == "then: dish"
    assert said("ash", "since", "unsure").startswith("unsure: {as: yes")
    assert said("slope", "exits", "below") == "below: {then: dish}"
    assert said("air", "remedy") == "remedy: air-the-shed"
    assert report_of(good_guide(old.parent / "whole")) == f"{CLEAN}\n"
