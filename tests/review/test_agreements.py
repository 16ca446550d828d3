"""Trees that lead elsewhere: red until the request agrees to that very change, with a reason that stands first."""

import copy

import pytest
from guides import edit, question, tree
from kept_in_git import keep, run
from reviewed import REMEDIES, TABLES, reviewed

from build_tools.review.words.html import as_html
from build_tools.review.words.markdown import as_markdown
from build_tools.review.words.outline import outline
from build_tools.review.words.text import as_text

SINCE = {"since": "Who sees <it> goes\n  there first."}


def guide(yes="one", **agreed):
    steps = {"start": question("start", yes, "two", "two"), "one": {"remedy": "s"}, "two": {"remedy": "r"}}
    plain = {"trees": {"a": tree(steps), "b": tree({"b0": {"remedy": "r"}})}, "remedies": copy.deepcopy(REMEDIES)}
    return {**plain, **copy.deepcopy(TABLES), "agreed": agreed}


def wanted():
    (agreement,) = reviewed(guide(), guide("two")).agreements
    return agreement


def test_tree_that_leads_elsewhere_is_red_until_it_is_agreed():
    found = reviewed(guide(), guide("two"))
    assert (found.step, found.grave, found.is_red) == ("major", False, True)
    agreed = reviewed(guide(), guide("two", a={"change": wanted().change, **SINCE}))
    assert (agreed.step, agreed.grave, agreed.is_red, agreed.agreed_idly) == ("major", False, False, ())
    assert [each.since for each in agreed.agreements] == ["Who sees <it> goes there first."]


def test_agreement_to_something_else_agrees_to_nothing():
    other = {"change": "0" * 16, **SINCE}
    found = reviewed(guide(), guide("two", a=other))
    assert found.is_red and found.agreed_idly == ("a",)
    found = reviewed(guide(), guide(a={"change": wanted().change, **SINCE}))
    assert not found.is_red and not found.empty and found.agreed_idly == ("a",)


def test_what_an_earlier_request_agreed_to_does_not_count():
    entry = {"change": wanted().change, **SINCE}
    found = reviewed(guide(a=entry), guide("two", a=entry))
    assert found.is_red and found.agreed_idly == ()
    again = reviewed(guide(a=entry), guide("two", a={**entry, "since": "It is right again."}))
    assert not again.is_red


def test_hash_is_of_what_was_and_what_is_now():
    there, back = reviewed(guide(), guide("two")), reviewed(guide("two"), guide())
    assert there.agreements[0].change != back.agreements[0].change
    other = guide("two")
    other["trees"]["a"]["steps"]["start"]["exits"]["no"] = "one"
    assert reviewed(guide(), other).agreements[0].change != there.agreements[0].change
    reworded = guide("two")
    reworded["trees"]["a"]["steps"]["start"]["why"] = "It tells all."
    assert reviewed(guide(), reworded).agreements == there.agreements


def test_what_is_grave_stays_red_whatever_is_written():
    after = guide("two")
    after["cautions"]["care"]["signal"] = "notice"
    after["agreed"] = {"a": {"change": reviewed(guide(), after).agreements[0].change, **SINCE}}
    found = reviewed(guide(), after)
    assert found.unagreed == () and found.grave and found.is_red


def test_tree_that_is_gone_has_to_be_agreed_to_and_a_new_one_has_not():
    after = guide()
    del after["trees"]["b"]
    assert [each.tree for each in reviewed(guide(), after).agreements] == ["b"]
    assert not reviewed(after, guide()).is_red


@pytest.mark.parametrize("agreed", [True, False])
def test_agreement_stands_first_in_every_form(agreed):
    entry = {"a": {"change": wanted().change, **SINCE}} if agreed else {}
    said = outline(reviewed(guide(), guide("two", **entry)))
    first = "Agreed: a leads elsewhere. Who sees" if agreed else f"under a, the key change with {wanted().change}"
    for text in (as_text(said), as_markdown(said, lambda placed: ""), as_html(said, lambda placed: "", {})):
        assert text.index(first) < text.index("Proposed version step")
    assert "<it>" not in as_html(said, lambda placed: "", {})


def test_entry_of_the_file_is_read_and_ends_with_0(good, capsys):
    keep(good)
    edit(good, "trees/cold-pane.yaml", "then: air-it", "as: no\n      since: A dish does no harm.")
    assert run(good) == 1
    said = capsys.readouterr().out
    change = said.partition("the key change with ")[2][:16]
    (good / "trees/tables/agreed.yaml").write_text(f"cold-pane:\n  change: {change}\n  since: Air does not help.\n")
    assert run(good) == 0
    assert (
        capsys.readouterr().out.splitlines()[1]
        == "Agreed: “The pane is wet in dry weather” leads elsewhere. Air does not help."
    )
