"""Findings as people read them and as programs do: the same in every form."""

import json
import re

import pytest
from guides import broken_guide

from build_tools.model.letters import HIDDEN
from build_tools.model.problems import RULES, Place, Problem
from build_tools.proof.checks import check
from build_tools.proof.report import FORMATS, as_text, summary
from build_tools.sources.source import SourceFile

ERROR = Problem(Place("trees/a.yaml", 2, 4), "unknown-key", 'the key "b" is odd.', "Take it out.")
WARNING = Problem(Place("trees/a.yaml", 9, 1), "deep", "it is deep", "Ask less.")


def shown(problem, text):
    return as_text((problem,), {"trees/a.yaml": SourceFile("trees/a.yaml", text)}).split("\n")


def test_text_shows_place_line_mend_and_rule():
    assert shown(ERROR, "a:\n  - b: c\n") == [
        'trees/a.yaml:2:4: error: the key "b" is odd.',
        "  Line 2: - b: c",
        "  Mend: Take it out.",
        "  Rule: unknown-key",
        "",
        "1 error, 0 warnings.",
    ]


def test_text_without_the_line_quotes_nothing():
    assert shown(WARNING, "a: b\n") == as_text((WARNING,), {}).split("\n")
    assert not any("Line" in line for line in shown(WARNING, "a: b\n"))


@pytest.mark.parametrize(
    ("column", "start", "end"), [(1, "Line 2: w0 w1", " …"), (900, "Line 2: … ", " …"), (2880, "Line 2: … ", " w599")]
)
def test_long_line_is_shown_from_its_column(column, start, end):
    line = " ".join(f"w{number}" for number in range(600))
    problem = Problem(Place("trees/a.yaml", 2, column), "deep", "it is deep", "Ask less.")
    _, quoted, *_ = shown(problem, f"a:\n{line}\n")
    said = quoted.strip()
    assert said.startswith(start) and said.endswith(end) and len(said) < 180
    assert line[column - 1 : column + 20].strip() in said


def test_text_shows_nothing_that_a_terminal_would_obey():
    odd = Problem(ERROR.place, ERROR.code, "it is \x1b[2J", "Mend \x07 it.")
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", "\n".join(shown(odd, "\nab\x1b[31mc\n")))


@pytest.mark.parametrize(
    ("problems", "line"),
    [
        ((), "No errors, no warnings."),
        ((ERROR,), "1 error, 0 warnings."),
        ((WARNING, ERROR, WARNING), "1 error, 2 warnings."),
    ],
)
def test_summary_counts(problems, line):
    assert summary(problems) == line


@pytest.fixture
def checked(tmp_path):
    return check(broken_guide("ungated", tmp_path))


def test_json_holds_what_was_found(checked):
    found = json.loads(FORMATS["json"](checked.problems, checked.sources))
    rows = [(row["path"], row["line"], row["column"], row["code"], row["severity"]) for row in found["problems"]]
    assert rows == [(p.place.path, p.place.line, p.place.column, p.code, p.severity) for p in checked.problems]
    assert found["summary"] == summary(checked.problems)


# OASIS, Static Analysis Results Interchange Format 2.1.0 (schema seen, see test_sarif.py): version and runs at the top,
# tool.driver.name in a run, message.text in a result, lines and columns from 1, ruleIndex into the driver's rules.
def test_sarif_holds_what_was_found(checked):
    log = json.loads(FORMATS["sarif"](checked.problems, checked.sources))
    (run,) = log["runs"]
    assert log["version"] == "2.1.0" and run["tool"]["driver"]["name"]
    assert [rule["id"] for rule in run["tool"]["driver"]["rules"]] == list(RULES)
    for result, problem in zip(run["results"], checked.problems, strict=True):
        spot = result["locations"][0]["physicalLocation"]
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"] == problem.code
        assert spot["region"] == {"startLine": problem.place.line, "startColumn": problem.place.column}
        assert spot["artifactLocation"]["uri"] == problem.place.path and result["level"] == problem.severity
        assert problem.mend in result["message"]["text"]


def test_sarif_writes_a_path_as_an_address():
    spaced = Problem(Place("trees/a b.yaml", 1, 1), "deep", "it is deep", "Ask less.")
    assert '"uri": "trees/a%20b.yaml"' in FORMATS["sarif"]((spaced,), {})


# The code host's own pages on workflow commands (reported at github.community, thread 118465): %25, %0A and %0D
# stand for what would end the line; in a property the colon and comma are written so too (from memory).
def test_annotation_escapes_what_would_end_it():
    odd = Problem(Place("trees/a,b:c.yaml", 3, 5), "deep", "100% deep,\nreally", "Ask less.")
    line, count = FORMATS["annotations"]((odd,), {}).split("\n")
    assert line == ("::warning file=trees/a%2Cb%3Ac.yaml,line=3,col=5,title=deep::100%25 deep,%0Areally. Ask less.")
    assert count == "0 errors, 1 warning."


@pytest.mark.parametrize("name", FORMATS)
def test_no_form_shows_what_a_terminal_would_obey(name):
    odd = Problem(Place("trees/\x1b]0;a.yaml", 1, 1), "deep", "it is \x1b[2J\u202e", "Mend \x07 it.")
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", FORMATS[name]((odd,), {}))


# Of the halves of a pair only these stand in a name: Python writes a byte that is no UTF-8 as one of them.
LETTERS = [chr(each) for each in range(0x110000) if not 0xD800 <= each < 0xDC80 and not 0xDD00 <= each < 0xE000]


@pytest.mark.parametrize("name", FORMATS)
def test_no_form_shows_a_letter_that_nobody_can_see(name):
    hidden = "".join(each for each in LETTERS if HIDDEN.match(each))
    assert len(hidden) > 140_000
    odd = Problem(Place(f"trees/{hidden}.yaml", 1, 1), "deep", f"it is {hidden}", f"Mend {hidden} it.")
    shown = FORMATS[name]((odd,), {odd.place.path: SourceFile(odd.place.path, f"a: {hidden}\n")})
    assert HIDDEN.findall(shown) == []
    if name == "json":
        assert json.loads(shown)["problems"][0]["what"] == f"it is {hidden}"


@pytest.mark.parametrize("name", FORMATS)
def test_every_form_tells_of_nothing_when_nothing_is_wrong(name):
    assert not any(code in FORMATS[name]((), {}).split('"rules"')[0] for code in RULES)
