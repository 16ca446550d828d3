"""A review in words: one order of sections in every format, rows of one thing together, long comments cut."""

import json
import re

import html5lib
import pytest
from guides import question, tree
from hypothesis import given, settings
from hypothesis import strategies as st
from reviewed import edited, reviewed

from build_tools.review.record.changes import SECTIONS, Moved, Proposal, Review, Row, Side
from build_tools.review.versions.matching import aligned
from build_tools.review.words.as_json import as_json
from build_tools.review.words.html import as_html
from build_tools.review.words.markdown import MOST_LETTERS, as_markdown
from build_tools.review.words.outline import outline
from build_tools.review.words.sentences import parts_of
from build_tools.review.words.text import as_text

TITLES = list(SECTIONS.values())
EMPTY = {"trees": {}, "remedies": {}}


def nowhere(placed):
    return ""


def made(**rows):
    """Give a review with some rows, and nothing else in it."""
    rest = ("unwalked", "uncounted", "moved", "runs", "proposals", "agreements", "agreed_idly")
    none = {**dict.fromkeys((*SECTIONS, *rest), ()), "compared": ("trees",)}
    sides = {"before": Side(name="a"), "after": Side(name="b")}
    return Review(**sides, **{**none, **rows}, step="minor")


def row(**more):
    return Row(
        **{"change": "changed", "subject": 'remedy "r"', "detail": "who", "before": "You", "after": "We", **more}
    )


# The order that the issues of this command state: stories, safety, paths, remedies, questions, values, lengths, text.
def test_order_of_reading():
    assert list(SECTIONS) == [
        "stories",
        "safety",
        "paths",
        "whole",
        "remedies",
        "steps",
        "values",
        "lengths",
        "text",
        "unread",
    ]


@settings(max_examples=20)
@given(edited(least=1))
def test_every_format_has_the_sections_that_say_something_in_their_order(versions):
    found = reviewed(*versions)
    said = outline(found)
    titles = [each.title for each in said.sections]
    assert titles == [each for each in TITLES if each in titles] and all(each.entries for each in said.sections)
    assert [line for line in as_text(said).split("\n") if line in TITLES] == titles
    markdown = re.findall(r"^(?:### |<details><summary><b>)([^(<\n]+)", as_markdown(said, nowhere), re.M)
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(as_html(said, nowhere, {}))
    heads = ["".join(each.itertext()).partition(" (")[0] for each in page.iter() if each.tag in ("h2", "summary")]
    for written in (markdown, heads):
        assert [each for each in written if each in TITLES] == titles
    assert [key for key in json.loads(as_json(found)) if key in SECTIONS] == list(SECTIONS)


def test_nothing_that_did_not_change_is_said_seven_times():
    said = outline(made(text=(row(),), compared=("trees", "tables")))
    assert [each.title for each in said.sections] == ["Text only"] and "None." not in as_text(said)
    assert as_text(said).endswith("Compared: the trees and tables. Nothing else differs in these.")


def test_versions_stand_at_the_end_and_folded():
    proposal = Proposal(tree="t", step="patch", before="1.0.0", after="1.0.0", proposed="1.0.1")
    said = outline(made(safety=(row(subject='caution "c"'),), compared=("trees",), proposals=(proposal,)))
    text = as_text(said)
    assert text.index('caution "c"') < text.index("Versions to state")
    assert "<summary><b>Versions to state</b> (1)</summary>" in as_markdown(said, nowhere)
    assert "<details><summary>Versions to state (1)</summary>" in as_html(said, nowhere, {})


def test_rows_of_one_thing_stand_together():
    rows = (row(), row(detail="prove"), row(subject='remedy "r", work step', detail="do"), row(subject='remedy "s"'))
    (section,) = (each for each in outline(made(remedies=rows)).sections if each.name == "remedies")
    assert [(each.words, [inner.words for inner in each.inner]) for each in section.entries] == [
        ('remedy "r"', ["who: changed", "prove: changed", "work step, do: changed"]),
        ('remedy "s", who: changed', []),
    ]


def test_whose_walk_meets_a_shared_thing_is_said_and_of_many_only_a_few():
    trees = tuple(f"t{number}" for number in range(9))
    said = as_text(outline(made(safety=(row(subject='caution "c"', detail="call", trees=trees),))))
    assert "    in the walks of: t0, t1, t2, t3, t4, t5 and 3 more\n" in said


@pytest.mark.parametrize(
    ("before", "after", "differing"),
    [
        ("Lay it on dry wood.", "Lay it on sound dry wood.", ([], ["sound"])),
        ("Lay it on wood.", "Lay it on tiles.", (["wood."], ["tiles."])),
        ("Nothing in common", "altogether other words", ([], [])),
    ],
)
def test_words_that_differ_are_told_from_those_in_common(before, after, differing):
    parts = parts_of(before, after)
    assert tuple([part.words for part in side if part.differs] for side in parts) == differing


texts = st.lists(st.sampled_from("abc"), max_size=5).map(" ".join)


@given(texts, texts)
def test_parts_put_together_are_the_texts(before, after):
    parts = parts_of(before, after)
    assert tuple(" ".join(part.words for part in side) for side in parts) == (before, after)


@given(st.lists(texts, max_size=4), st.lists(texts, max_size=4))
def test_lists_are_paired_whole_and_the_same_from_either_side(before, after):
    pairs = aligned(before, after, lambda each: each)
    back = aligned(after, before, lambda each: each)
    assert sorted(place for place, _ in pairs if place is not None) == list(range(len(before)))
    assert sorted(place for _, place in pairs if place is not None) == list(range(len(after)))
    held = [sorted((before[h] if h is not None else "-", after[t] if t is not None else "-") for h, t in pairs)]
    held.append(sorted((before[h] if h is not None else "-", after[t] if t is not None else "-") for t, h in back))
    assert held[0] == held[1]


def test_reworded_text_is_paired_whatever_came_and_went_beside_it():
    before = ["It is dry, with no frost.", "The ladder is held."]
    after = ["Nobody stands below.", "It is daylight and dry, with no frost.", "Somebody is sober."]
    assert (0, 1) in aligned(before, after, lambda each: each)


def test_comment_keeps_every_caution_and_cuts_the_rest_to_its_room():
    cautions = tuple(row(subject=f'caution "c{number}"', change="removed", after=None) for number in range(300))
    others = tuple(row(subject=f'remedy "r{number}"', before="a " * 200) for number in range(300))
    said = as_markdown(outline(made(safety=cautions, remedies=others, text=others)), nowhere)
    assert len(said) < MOST_LETTERS + 1_000
    assert all(f'caution "c{number}"' in said for number in range(300))
    assert re.search(r"^- and \d+ more, for which a comment has no room", said, re.M)


def test_cautions_and_paths_are_never_folded():
    many = tuple(row(subject=f'caution "c{number}"') for number in range(99))
    said = as_markdown(outline(made(safety=many, remedies=many)), nowhere)
    assert "### Cautions and gates" in said and "<summary><b>Remedies</b> (99)</summary>" in said
    page = as_html(outline(made(safety=many, remedies=many)), nowhere, {})
    assert "<h2>Cautions and gates</h2>" in page and "<summary>Remedies (99)</summary>" in page


def test_results_that_move_are_never_folded():
    moved = Moved(formula="f", tried=9, results=3, verdicts=1, examples=(), used_by=("a/p",), trees=("a",))
    many = tuple(row(subject=f'source "s{number}"') for number in range(99))
    said = as_markdown(outline(made(values=many, moved=(moved,))), nowhere)
    words = '**formula "f": 3 of 9 tried inputs give another result, 1 another verdict**'
    assert f"### Formulas and table values\n\n- {words}\n" in said and "  - used by: a/p" in said


def runs_of(plain, **more):
    run = {"steps": ("p", "q"), **more}
    asked = {"p": question("p", "q", "r", "r", minutes=5), "q": question("q", "r", "r", "r", minutes=9)}
    return {**plain, "trees": {"a": tree({**asked, "r": {"go-to": "b"}}, **{"any-order": (run,)})}}


def test_run_of_any_order_is_for_authors_and_told_as_text():
    found = reviewed(runs_of(EMPTY, chance={"p": 0.25, "q": 0.75}), runs_of(EMPTY, chance={"p": 0.5, "q": 0.5}))
    assert [(each.subject, each.detail, each.change) for each in found.text] == [('tree "a"', "any-order", "changed")]
    assert "p 0.25; q 0.75" in found.text[0].before and "p 0.5; q 0.5" in found.text[0].after
    assert not any((found.safety, found.paths, found.remedies, found.steps, found.values, found.lengths))
    assert found.step == "patch"


def test_run_whose_keys_stand_in_another_order_is_the_same():
    one, other = {"p": 0.25, "q": 0.75}, {"q": 0.75, "p": 0.25}
    assert reviewed(runs_of(EMPTY, chance=one), runs_of(EMPTY, chance=other)).empty


def test_run_of_a_renamed_step_is_the_same_run():
    after = runs_of(EMPTY, chance={"p": 0.25, "q": 0.75})
    steps = after["trees"]["a"]["steps"]
    after["trees"]["a"]["steps"] = {"new": steps["p"], "q": steps["q"], "r": steps["r"]}
    after["trees"]["a"].update(
        {"starts-at": "new", "any-order": ({"steps": ("new", "q"), "chance": {"new": 0.25, "q": 0.75}},)}
    )
    found = reviewed(runs_of(EMPTY, chance={"p": 0.25, "q": 0.75}), after)
    assert found.text == () and [each.same_as for each in found.steps] == ["new", "p"]
