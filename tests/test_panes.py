"""Nobody tries a pane by hand before it is looked at and stopped at its foot, and nobody pushes one up the slope."""

from dataclasses import replace

import pytest
from guides import ROOT, draft_of, question, remedy, the_checked, tree

from build_tools.proof.rules.panes import WORDS, Care, pane_chapter, panes, tried
from build_tools.sources.guide_files import chapters
from build_tools.sources.source import SourceFile

DRAFT = the_checked().draft
WORDS_OF_PANES = DRAFT.proofs[WORDS]
LOOK = "Look at bed, edge and seal of the glass."
STOP = "Fix padded clips at its foot."
FEEL = "Feel each corner of the glass for movement, downhill and sideways only."
KINDS = {"not looked at": "looked", "nothing stops": "stopped", "up the slope": "up"}


def faults(texts):
    """Name what is wrong with the tries in texts that are done in this order."""
    care, found = Care(), []
    for text in texts:
        said, care = tried(WORDS_OF_PANES, text, care)
        found += said
    return kinds(what for what, _ in found)


def kinds(told):
    return [kind for what in told for words, kind in KINDS.items() if words in what]


def test_no_way_of_the_guide_tries_a_pane_that_nothing_stops():
    assert list(panes(DRAFT)) == []
    files, _ = chapters(ROOT)
    assert [each for chapter in files for each in pane_chapter(chapter, DRAFT)] == []


def test_the_work_at_the_edge_of_a_pane_tries_it():
    trying = {
        name
        for name, each in DRAFT.remedies.items()
        if any(pattern.search(getattr(step, "do", "")) for step in each.steps for pattern in WORDS_OF_PANES.tries)
    }
    assert {"side-gutter-under-the-tiles", "renew-the-gasket", "re-seal-a-lantern-joint"} <= trying


@pytest.mark.parametrize(
    ("texts", "found"),
    [
        ([LOOK, STOP, FEEL], []),
        ([STOP, LOOK, FEEL], ["stopped"]),
        ([LOOK, FEEL, STOP], ["stopped"]),
        ([STOP, FEEL], ["looked", "stopped"]),
        ([LOOK, STOP, "Push gently at each corner of the glass, sideways and upward, with flat gloved hands."], ["up"]),
        ([LOOK, STOP, "Press gently at both lower corners with flat gloved hands."], ["up"]),
        ([LOOK, STOP, "With nobody below, press each corner of the pane with a flat hand."], ["up"]),
        ([LOOK, STOP, "Push at each corner of the pane, sideways and upward."], ["up"]),
        ([LOOK, STOP, "Feel the pane for movement, downhill and uphill."], ["up"]),
        (["Do not push at the pane to see whether it moves.", "Nobody rocks the glass by hand."], []),
        (["Push the new gasket in with soapy water.", "Press the tape down with the roller."], []),
    ],
)
def test_a_try_out_of_its_order_is_found(texts, found):
    assert faults(texts) == found
    chapter = SourceFile("guide/panes.md", "# Panes\n\n" + "\n".join(texts) + "\n")
    assert kinds(each.what for each in pane_chapter(chapter, DRAFT)) == found
    work = draft_of({}, {"r": remedy(*({"do": text, "where": "inside"} for text in texts))})
    assert sorted(kinds(each.what for each in panes(with_words(work)))) == sorted(found)


def with_words(draft):
    return replace(draft, hazards=DRAFT.hazards, proofs={WORDS: WORDS_OF_PANES})


@pytest.mark.parametrize(("round_it", "found"), [("look", []), ("feel", ["looked", "stopped"])])
def test_a_way_round_the_stop_is_found(round_it, found):
    first = {
        "first": question("first", "look", round_it, "look"),
        "look": question("look", "feel", "feel", "feel", look=f"{LOOK} {STOP}"),
    }
    feel = {"feel": question("feel", "end", "end", "end", look=FEEL), "end": {"remedy": "r"}}
    one = draft_of({"a": tree({**first, **feel})}, {"r": remedy()})
    assert sorted(kinds(each.what for each in panes(with_words(one)))) == found
    begun = {"begin": question("begin", "end", "end", "end"), **feel}
    two = draft_of({"a": tree({**first, "feel": {"go-to": "b/feel"}}), "b": tree(begun)}, {"r": remedy()})
    assert sorted(kinds(each.what for each in panes(with_words(two)))) == found
