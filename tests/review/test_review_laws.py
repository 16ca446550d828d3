"""What holds of every review, on guides made by chance and on the guide itself."""

import copy
import re

import yaml
from guides import good_guide
from hypothesis import given, settings
from hypothesis import strategies as st
from reviewed import edited, facts, guides, read, reviewed

from build_tools.model import DATA_TABLES
from build_tools.review.compare import review


@given(guides())
def test_version_against_itself_is_empty(plain):
    found = reviewed(plain, copy.deepcopy(plain))
    assert (found.empty, found.grave, found.step, found.proposals) == (True, False, "none", ())


@settings(max_examples=50)
@given(edited())
def test_review_the_other_way_round_is_the_mirror(versions):
    before, after = versions
    assert facts(reviewed(after, before)) == facts(reviewed(before, after), mirrored=True)


@settings(max_examples=50)
@given(edited(), st.randoms(use_true_random=False))
def test_order_of_keys_says_nothing(versions, chance):
    before, after = versions
    assert facts(reviewed(before, after)) == facts(reviewed(shuffled(before, chance), shuffled(after, chance)))
    assert reviewed(after, shuffled(after, chance)).empty


def shuffled(value, chance):
    """Put the keys of every mapping in another order."""
    if isinstance(value, dict):
        keys = list(value)
        chance.shuffle(keys)
        return {key: shuffled(value[key], chance) for key in keys}
    return value


@settings(max_examples=50)
@given(edited(least=1))
def test_review_is_empty_only_where_nothing_was_changed(versions):
    before, after = versions
    assert reviewed(before, after).empty == (before == after)


def test_comments_reflowed_text_and_order_in_files_say_nothing(tmp_path):
    before, after = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    # The rows of a data table are in the order in which a formula goes through them.
    for file in (each for each in (after / "trees").rglob("*.yaml") if each.stem not in DATA_TABLES):
        held = yaml.load(file.read_text(encoding="utf-8"), yaml.BaseLoader)
        text = yaml.safe_dump(held, sort_keys=True, width=40, allow_unicode=True)
        numbers_bare = re.sub(r"'(\d{1,4})'$", r"\1", text, flags=re.M)
        file.write_text(re.sub("^(?=[a-z])", "# A remark.\n", numbers_bare, flags=re.M), encoding="utf-8")
    versions = read(before, "before"), read(after, "after")
    assert review(*versions).empty
