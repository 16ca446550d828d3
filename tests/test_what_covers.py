"""What covers what: the lasting remedies that a walk can end in, by sign, kind of light and covering."""

import pytest
from guides import edit, the_guide

from build_tools.guide.pages import guide_view
from build_tools.guide.what_covers import cover_views, lasting_ends
from build_tools.proof.checks import check

VOCABULARY = the_guide().vocabulary


def ends(root, tree, light, covering):
    return lasting_ends(guide_of(root), tree, {"light": light, "covering": covering})


def guide_of(root):
    return guide_view(check(root).guide)


# Walked by hand: air-the-shed stands in the tree that potting-shed hands over to; catch-the-drip is a stopgap.
@pytest.mark.parametrize(
    ("tree", "light", "covering", "found"),
    [
        ("potting-shed", "shed-pane", "plain-tile", {"air-the-shed", "hang-the-tile-back"}),
        ("potting-shed", "shed-pane", "slate", {"air-the-shed"}),
        ("potting-shed", "dome", "slate", set()),
        ("cold-pane", "shed-pane", "slate", {"air-the-shed"}),
    ],
    ids=["certain", "answer of another covering", "tree of another light", "no hand-over"],
)
def test_only_what_this_light_on_this_covering_can_come_to_is_found(tree, light, covering, found, good):
    assert ends(good, tree, light, covering) == found


def test_table_holds_the_trees_that_begin_with_a_sign(good):
    edit(good, "trees/potting-shed.yaml", "starts-at", "begins-with: sign\nstarts-at")
    table = good / "trees/tables/vocabulary.yaml"
    table.write_text(table.read_text() + "found-on:\n  shed-pane:\n    - plain-tile\n    - slate\n")
    (view,) = cover_views(guide_of(good))
    assert (view.light, view.coverings) == ("a single pane in putty", ("plain tiles", "slates"))
    assert [(row.tree, row.counts) for row in view.rows] == [("potting-shed", (2, 1))]


def test_every_light_is_found_on_some_covering():
    assert set(VOCABULARY.found_on) == set(VOCABULARY.light)
    assert all(VOCABULARY.found_on.values())


# A patch away from a light is followed up through tiles and slates. Where the roof above it is flat or of sheet,
# the signs lead to the lights of a flat roof, or to a roofer, before that tree is reached.
def test_only_a_walk_for_tiled_slopes_leaves_blanks_and_on_other_roofs_alone():
    rows = [(view, row) for view in cover_views(the_guide()) for row in view.rows]
    blank = {
        (row.tree, name)
        for view, row in rows
        for name, count in zip(view.coverings, row.counts, strict=True)
        if not count
    }
    words = VOCABULARY.covering
    assert blank == {("patch-away-from-the-light", words[each]) for each in ("metal-sheet", "membrane")}
