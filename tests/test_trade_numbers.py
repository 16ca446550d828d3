"""Numbers in the trees against what was published: none stands without an anchor, each names its source."""

from dataclasses import replace

import pytest
from guides import the_checked

from build_tools.model import Looked, PublishedNumbers, every_value
from build_tools.proof.rules.published_numbers import NUMBERS, published_numbers
from build_tools.proof.rules.sense import NUMBER_WITH_UNIT

DRAFT = the_checked().draft
ANCHORS = DRAFT.proofs[NUMBERS].numbers


def told(draft):
    return [(each.code, each.keys[-1]) for each in published_numbers(draft)]


def with_anchors(*anchors):
    return replace(DRAFT, proofs={NUMBERS: PublishedNumbers.model_construct(numbers=anchors)})


def test_every_number_of_the_guide_was_published():
    assert len(ANCHORS) > 50 and told(DRAFT) == []


def test_a_number_whose_anchor_is_taken_out_is_missed():
    codes = [code for code, _ in told(with_anchors())]
    assert set(codes) == {"number-unanchored"} and len(codes) > 50
    alone = next(each for each in ANCHORS if each.label == "physics")
    left = [each for each in ANCHORS if each is not alone]
    assert {code for code, _ in told(with_anchors(*left))} == {"number-unanchored"}


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"says": "nobody says this"}, "says"),
        ({"source": "no-such-source"}, "source"),
        ({"label": "memory"}, "label"),
        ({"published": "nothing with a number"}, "published"),
    ],
)
def test_what_is_wrong_with_an_anchor_is_told_at_its_key(changes, key):
    anchor = next(each for each in ANCHORS if each.label == "reported" and not each.converted)
    others = [each for each in ANCHORS if each is not anchor]
    assert ("anchor-astray", key) in told(with_anchors(anchor.model_copy(update=changes), *others))


def test_a_number_whose_source_is_not_named_beside_it_is_missed():
    tree, name, step = next(
        (tree, name, step)
        for tree, each in DRAFT.trees.items()
        for name, step in each.steps.items()
        if isinstance(step, Looked) and any(NUMBER_WITH_UNIT.search(str(value)) for _, value in every_value(step))
    )
    moved = step.model_copy(update={"sources": ("project-choice-of-nobody",)})
    steps = {**DRAFT.trees[tree].steps, name: moved}
    trees = {**DRAFT.trees, tree: DRAFT.trees[tree].model_copy(update={"steps": steps})}
    assert "number-unanchored" in {code for code, _ in told(replace(DRAFT, trees=trees))}


def test_wind_limit_in_metres_a_second_is_force_5():
    # Beaufort force 5 is 8.0 to 10.7 m/s, force 4 ends at 7.9 (World Meteorological Organization scale; from memory).
    metres_a_second = 23 * 1609.344 / 3600
    assert round(metres_a_second) == 10
    assert 8.0 <= metres_a_second <= 10.7
    assert [each.converted for each in ANCHORS if each.converted] == [("10",)]


def test_glass_weighs_what_its_density_gives():
    # EN 572-1, density of soda-lime silicate glass 2500 kg/m3 (from memory).
    assert 2500 * 0.001 == 2.5
