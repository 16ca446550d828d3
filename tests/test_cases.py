"""Stated cases: what a case can state that its walk does not bear out, on the guide and on small drafts."""

from dataclasses import replace

import pytest
from guides import ROOT, draft_of, question, remedy, the_checked, tree

from build_tools.proof.case_walks import answers_of, walked
from build_tools.proof.draft_walks import draft_walks
from build_tools.proof.rules.cases import cases
from build_tools.sources import CASES
from build_tools.sources.library import CASE

DRAFT = the_checked().draft
SMALL = draft_of(
    {
        "a": tree({"one": question("one", "two", "done", "two"), "two": {"go-to": "b"}, "done": {"remedy": "r"}}),
        "b": tree({"three": question("three", "end", "end", "end"), "end": {"remedy": "s"}}),
    },
    {"r": remedy(), "s": remedy({"do": "Lift it.", "where": "inside"}, {"do": "Lay it.", "where": "inside"})},
)
TWO = ({"one": "yes"}, {"three": "no"})


def case(answers=TWO, ends_in="s", **more):
    return CASE.validate_python(
        {"title": "A story", "facts": "So.", "tree": "a", "answers": answers, "ends-in": ends_in, **more}
    )


def found(stated):
    return [(each.code, each.keys) for each in cases(replace(SMALL, cases={"story": stated}))]


def test_every_stated_case_of_the_guide_is_read_and_comes_true():
    assert len(DRAFT.cases) == len(list((ROOT / CASES).glob("*.yaml"))) > 300
    assert list(cases(DRAFT)) == []
    walks = draft_walks(DRAFT)
    courses = {name: walked(walks, each)[0] for name, each in DRAFT.cases.items()}
    asked = {name: [(stop.step) for stop in each if stop.asked and stop.answer] for name, each in courses.items()}
    assert asked == {name: [step for step, _ in answers_of(each)] for name, each in DRAFT.cases.items()}


def test_some_cases_calculate_and_some_hold_the_work():
    assert sum(bool(each.reckoned) for each in DRAFT.cases.values()) > 30
    assert sum(bool(each.work_in_order) and bool(each.must_say) for each in DRAFT.cases.values()) == 4


@pytest.mark.parametrize(
    ("stated", "told"),
    [
        (case(), []),
        (case(ends_in="r"), [("case-elsewhere", ("ends-in",))]),
        (case(TWO[:1]), [("case-elsewhere", ("ends-in",))]),
        (case((*TWO, {"four": "yes"})), [("case-elsewhere", ("answers", 2))]),
        (case(({"one": "yes"}, {"two": "no"})), [("case-elsewhere", ("answers", 1))]),
        (case(({"two": "maybe"}, {"three": "no"})), [("case-elsewhere", ("answers", 0))]),
        (case(({"one": "yes"}, {"three": "maybe"})), [("case-elsewhere", ("answers", 1))]),
        (case(tree="c"), [("case-elsewhere", ("tree",))]),
        (case(reckoned={"one": {"rise_mm": 3}}), [("case-figures", ("reckoned", "one"))]),
        (case(**{"work-in-order": ("Lift", "Lay")}), []),
        (case(**{"work-in-order": ("Lay", "Lift")}), [("case-unsaid", ("work-in-order", 1))]),
        (case(**{"work-in-order": ("Lift", "Nail")}), [("case-unsaid", ("work-in-order", 1))]),
        (case(**{"must-say": {"prove": "Text", "record": "Photo"}}), [("case-unsaid", ("must-say", "record"))]),
        (case(**{"must-say": {"proof": "Text"}}), [("case-unsaid", ("must-say", "proof"))]),
    ],
)
def test_what_does_not_come_true_is_told_where_the_case_states_it(stated, told):
    assert found(stated) == told


@pytest.mark.parametrize("name", [name for name, each in DRAFT.cases.items() if each.reckoned][::6])
def test_another_answer_at_a_measure_is_missed(name):
    held = DRAFT.cases[name]
    step = next(iter(held.reckoned))
    turned = tuple({key: "unsure" if key == step else said for key, said in each.items()} for each in held.answers)
    told = cases(replace(DRAFT, cases={name: held.model_copy(update={"answers": turned})}))
    assert "case-figures" in {each.code for each in told}
