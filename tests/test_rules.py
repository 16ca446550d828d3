"""Every rule has a guide that breaks it, and the report of that guide stands beside it word for word."""

import re

import pytest
from guides import BROKEN, CLEAN, broken_guide, broken_names, held_guide, report_of

from build_tools.model.problems import RULES

TOLD = re.compile(
    r"^\S+:\d+:\d+: (error|warning): .*[^.]\.\n(?:  Line \d+: .*\n)?  Mend: .*\n  Rule: ([a-z-]+)\n$", re.M
)
"""Each problem: place, severity, one sentence; the line that it stands in, the mend and the code."""


def test_guide_that_is_not_broken_is_held_to_its_readings(tmp_path):
    assert report_of(held_guide(tmp_path)) == f"{CLEAN}\n"


@pytest.mark.parametrize("name", broken_names())
def test_broken_guide_is_told_as_expected(name, tmp_path, request):
    expected = BROKEN / f"{name}.expected.txt"
    report = report_of(broken_guide(name, tmp_path))
    if request.config.getoption("--update-expected"):
        expected.write_text(report, encoding="utf-8")
    assert report == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", broken_names())
def test_expected_report_names_the_code_it_is_for(name):
    told = TOLD.findall((BROKEN / f"{name}.expected.txt").read_text(encoding="utf-8"))
    code = name.split(".")[0]
    assert (RULES[code].severity, code) in told
    assert all(RULES[each].severity == severity for severity, each in told)


@pytest.mark.parametrize("code", RULES)
def test_rule_has_a_broken_guide_and_says_what_it_asks(code):
    assert code in {name.split(".")[0] for name in broken_names()}
    assert RULES[code].says.endswith(".")


def test_no_expected_report_is_left_over():
    assert {each.name.removesuffix(".expected.txt") for each in BROKEN.glob("*.txt")} == set(broken_names())


def test_broken_guides_are_told_apart():
    reports = [each.read_text(encoding="utf-8") for each in BROKEN.glob("*.expected.txt")]
    assert len(reports) == len(set(reports))


@pytest.mark.parametrize("name", broken_names())
def test_broken_guide_says_first_what_is_wrong(name):
    first = (BROKEN / f"{name}.edit").read_text(encoding="utf-8").split("\n")[0]
    assert first[:1].isupper() and first.endswith(".")


def test_report_is_the_same_from_another_folder(tmp_path):
    one, other = (report_of(broken_guide("ungated", tmp_path / name)) for name in ("one", "other"))
    assert one == other and str(tmp_path) not in one
