"""The report on the order of checks, as the author of a tree reads it on the tree's page."""

import re
from html import unescape

import pytest
from guides import ROOT, broken_guide, edit, record

from build_tools.guide.pages import guide_view
from build_tools.proof.checks import check
from build_tools.site.render import Renderer

HEAP = "trees/compost-heap.yaml"


def page_of(root, tree_id, template="overview.html"):
    """Render one page of a tree, its diagrams left out."""
    checked = check(root)
    guide = guide_view(checked.guide)
    tree = next(each for each in guide.trees if each.id == tree_id)
    renderer = Renderer(ROOT / "site_overrides", {}, checked.guide.draft.sources)
    pictures = {part.id: "" for part in tree.parts}
    return renderer.page(template, "../", guide=guide, tree=tree, pictures=pictures, address="", qr="")


def said(html):
    """Give the words of the report."""
    report = re.search(r"<details class=\"for-authors\".*?</details>", html, re.S)[0]
    return " ".join(unescape(re.sub(r"<[^>]*>", "", report)).split())


@pytest.fixture
def heap(tmp_path):
    """V4 as a tree: 8.3 minutes likeliest first, 7.1 at best."""
    return broken_guide("order", tmp_path)


def test_report_states_the_run_its_cheapest_order_and_the_formula(heap):
    report = said(page_of(heap, "compost-heap"))
    for words in (
        "Step 1. Is the ash wet? Inside, 4 minutes, chance 40 %.",
        "Step 4. Is the dung wet? Inside, 1 minute, chance 10 %.",
        "One cause at most is there.",
        "The numbers rest on: Common practice, no source.",
        "As it stands: 8.3 minutes on average.",
        "Cheapest order under the same gates: 2, 1, 4, 3, with 7.1 minutes. As it stands it takes 17 % longer.",
        "Chance over minutes, the greatest first",
        "Kadane and Simon's P-over-C, as Ottosen and Jensen (arXiv 1203.3502) report it",
    ):
        assert words in report
    assert "Left as it stands" not in report and "question first" not in report and "look again" not in report


def test_report_is_folded_at_the_end_and_left_out_of_the_search(heap):
    html = page_of(heap, "compost-heap")
    assert re.search(r'<details class="for-authors" data-search-exclude>\s*<summary>', html)
    assert html.rstrip().endswith("</details>")


@pytest.mark.parametrize(("tree_id", "template"), [("cold-pane", "overview.html"), ("compost-heap", "paper.html")])
def test_neither_a_tree_without_a_run_nor_the_checklist_has_a_report(heap, tree_id, template):
    assert "for-authors" not in page_of(heap, tree_id, template)


def test_reason_for_a_dearer_order_is_told(heap):
    edit(heap, HEAP, "    chance:\n", "    accept:\n      order: The ash is nearest.\n    chance:\n")
    assert "Left as it stands: The ash is nearest." in said(page_of(heap, "compost-heap"))


def test_what_good_sense_keeps_back_is_told(heap):
    edit(heap, HEAP, "effort: look\n    minutes: 2\n", "effort: lift\n    minutes: 2\n")
    report = said(page_of(heap, "compost-heap"))
    assert "An order that takes less still is not advised, because nothing cheap comes after lifting." in report


def test_step_without_minutes_is_not_reckoned(heap):
    edit(heap, HEAP, "    minutes: 2\n", "")
    report = said(page_of(heap, "compost-heap"))
    assert "Inside, minutes not given, chance 30 %." in report
    assert "Not reckoned: a step here gives no minutes." in report and "on average" not in report


def test_question_put_first_is_told_with_what_it_saves(tmp_path):
    # 2 + 0.7 × 4 + 0.3 × 10 + 0.1 × 10 without it; 1 + 0.7 × (2 + 4/7 × 4) + 0.3 × (10 + 1/3 × 10) with it.
    report = said(page_of(broken_guide("order.ask-first", tmp_path), "compost-heap"))
    assert "A question first, “Is it wet on the left?”, takes 1 minute." in report
    assert "With it the cheapest order takes 8.0 minutes in place of 8.8 minutes." in report
    assert "It pays while it takes less than 1.8 minutes." in report
    assert "Heckerman, Breese and Rommelse" in report


def test_look_that_can_miss_is_told_with_where_to_look_again(heap):
    edit(
        heap,
        HEAP,
        "    chance:\n",
        "    missed:\n      ash: 0.5\n      clay: 0.5\n    access:\n      inside: 5\n    chance:\n",
    )
    record(heap)
    report = said(page_of(heap, "compost-heap"))
    # p a is 0.2 and 0.1, so 67 % and 33 %; 0.67 × 0.5 / 4 is the greater.
    assert "chance 40 %, overlooked 50 %." in report
    assert "Getting ready inside, once: 5 minutes." in report
    assert "look again first at 1. The chances are then 67 % at 1, 33 % at 3, 0 % at 2, 0 % at 4." in report
    assert "Bayes' rule" in report


def test_every_tree_of_the_guide_that_declares_a_run_has_its_report(guide):
    for tree in guide.trees:
        runs = tree.order.runs if tree.order else ()
        assert [each.run for each in runs] == list(tree.tree.any_order)
        assert all(each.weighed and (not each.weighed.is_told or each.left_because) for each in runs)
    assert any(tree.order for tree in guide.trees)
