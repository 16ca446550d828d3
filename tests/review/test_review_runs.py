"""The formulas of both versions, run: results that move are counted and shown, whatever the code does besides."""

import compileall
import hashlib
import json
import py_compile
import re
from types import SimpleNamespace

import pytest
from guides import edit
from kept_in_git import git, guide_with_program, keep, run
from made_values import tried
from own_tables import FORMULAS
from reviewed import read

from build_tools.review.compare import review
from build_tools.review.formula_code import formula_runner, formula_runs, trials
from build_tools.review.formula_code.formula_runs import CannotRun
from build_tools.review.formula_code.moved import inputs_text

SLOPE = "build_tools/formulas/covering/slope.py"
SHEETS = "build_tools/formulas/sheet/sheets.py"
METALS = "trees/tables/metals.yaml"


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """A guide with its program, kept on the main branch; each test puts back what it changed.

    The program is compiled once, and each file again only where its content differs: two edits in a second may be
    of one size.
    """
    root = keep(guide_with_program(tmp_path_factory.mktemp("kept") / "guide"))
    (root / ".git" / "info" / "exclude").write_text("__pycache__\n", encoding="utf-8")
    checked = py_compile.PycInvalidationMode.CHECKED_HASH
    assert compileall.compile_dir(root / "build_tools", quiet=1, invalidation_mode=checked)
    return root


ANSWERS = {}
"""What versions said, by their code, their tables and what was tried: most tests change one of two versions only."""


@pytest.fixture(autouse=True)
def answered_once(monkeypatch):
    def answer(root, tries):
        files = sorted([*(root / "build_tools").rglob("*.py"), *(root / "trees" / "tables").glob("*.yaml")])
        code = hashlib.sha256(b"\0".join(each.read_bytes() for each in files)).hexdigest()
        asked = code, json.dumps(tries)
        if asked not in ANSWERS:
            ANSWERS[asked] = formula_runs.run(root, tries)
        return ANSWERS[asked]

    monkeypatch.setattr("build_tools.review.formula_code.moved.run", answer)
    monkeypatch.setattr(trials, "SEEDED", tried(60, trials.SEEDED))


@pytest.fixture
def project(kept):
    yield kept
    git(kept, "checkout", "-q", "main", ".")
    git(kept, "clean", "-q", "-f", "-d")


def found(project, capsys, code=1):
    assert run(project, "--format", "json") == code
    return json.loads(capsys.readouterr().out)


def moved_of(said, formula):
    """Give what moved of one formula; others may rest on the same constant, and move with it."""
    return {each["formula"]: each for each in said["moved"]}[formula]


# 100 mm over a metre: arctan 0.1 is 5.71 degrees; with a least pitch of 3 degrees that is more than two degrees
# above it and less than three, so that a margin of three asks for another verdict there.
def test_verdict_that_moves_is_told_with_its_numbers_and_with_whom_it_hits(project, capsys):
    edit(project, SLOPE, "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    said = found(project, capsys)
    moved = moved_of(said, "pitch")
    assert (moved["formula"], moved["used_by"]) == (
        "pitch",
        ["potting-shed/steep-enough", "remedies/hang-the-tile-back"],
    )
    assert moved["trees"] == ["potting-shed"] and moved["spot_after"]["path"] == SLOPE
    assert 0 < moved["verdicts"] == moved["results"] < moved["tried"] > trials.SEEDED
    (example,) = moved["examples"]
    assert (example["before"], example["after"]) == ("verdict within", "verdict at-limit")
    assert [(each["tree"], each["step"]) for each in said["proposals"]] == [("potting-shed", "major")]
    assert [row["detail"] for row in said["values"]] == ["MARGIN_DEG"]


def test_text_names_numbers_example_and_users(project, capsys):
    edit(project, SLOPE, "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    assert run(project) == 1
    said = capsys.readouterr().out
    part = said[said.index("Formulas and table values") : said.index("Compared: ")]
    assert 'formula "pitch": ' in part and re.search(r" tried inputs gives? another result, ", part)
    assert "verdict within → at-limit" in part
    assert "used by: “Is the roof steep enough for its tiles?”, “Hang the tile back”" in part


def test_number_that_moves_asks_for_a_minor_version(project, capsys):
    edit(project, SHEETS, "LEAST_LAP_MM = 150", "LEAST_LAP_MM = 160")
    moved = moved_of(found(project, capsys), "sheet-lap")
    # At 45 degrees 75 mm upright make 106 mm along the slope, so the least lap decides before and after.
    assert moved["formula"] == "sheet-lap" and "150 mm" in moved["examples"][0]["before"]
    assert "160 mm" in moved["examples"][0]["after"] and moved["used_by"] == []


def test_code_written_otherwise_moves_nothing_and_is_said_to_have_been_run(project, capsys):
    edit(project, SLOPE, "MARGIN_DEG = 2\n", "MARGIN_DEG = 1 + 1\n")
    said = found(project, capsys)
    assert (said["moved"], [row["detail"] for row in said["values"]]) == ([], ["MARGIN_DEG"])
    assert said["runs"][0].endswith("none of them gives other results.")


def test_nothing_is_run_where_code_and_tables_are_the_same(project, capsys, monkeypatch):
    edit(project, SLOPE, "MARGIN_DEG = 2\n", "# A remark.\nMARGIN_DEG  =  2\n")
    monkeypatch.setattr("build_tools.review.compare.run_both", refuse)
    assert found(project, capsys, code=0)["values"] == []


def test_module_outside_the_formulas_that_moves_their_results_is_told(project, capsys):
    """Every program begins with this one, so whatever the formulas take from elsewhere can be another thing."""
    halved = "import math\n\nwhole = math.tan\nmath.tan = lambda angle: whole(angle) / 2\n"
    (project / "build_tools/__init__.py").write_text(halved, encoding="utf-8")
    said = found(project, capsys)
    assert said["values"] == []
    # Plain tiles take no tangent: what is shown differs from the formula's example in how the covering lies only.
    valley = {**FORMULAS["true-pitch"].example, "lying": "valley"}
    assert moved_of(said, "true-pitch")["examples"][0]["inputs"] == inputs_text(valley)


def test_review_without_running_runs_nothing_and_says_what_it_does_not_tell(project, tmp_path, capsys):
    mark = tmp_path / "ran"
    edit(project, SLOPE, "MARGIN_DEG = 2\n", f"MARGIN_DEG = 3\nopen({str(mark)!r}, 'w').close()\n")
    assert run(project, "--without-running") == 1
    said = capsys.readouterr().out
    assert said.count("Formulas were not run: ") == 1 and "now: MARGIN_DEG = 3" in said
    assert not mark.exists()
    formula_runs.run(project, {})
    assert mark.exists(), "running would have been seen"


def test_review_without_running_never_says_that_nothing_changed_where_it_does_not_know(project, capsys):
    (project / "build_tools/__init__.py").write_text("NUMBER = 1\n", encoding="utf-8")
    assert run(project, "--without-running") == 0
    said = capsys.readouterr().out
    assert "Formulas were not run: " in said and "Nothing" not in said


def test_review_without_running_says_nothing_of_formulas_that_are_the_same(project, capsys):
    assert run(project, "--without-running") == 0
    assert "Formulas were not run" not in capsys.readouterr().out


def refuse(*_):
    raise AssertionError("formulas were run")


def test_range_verdict_and_formula_that_came_and_went(project, capsys):
    edit(project, SHEETS, "    low=0,\n    high=90,", "    low=5,\n    high=90,")
    edit(project, SLOPE, 'id="pitch"', 'id="steepness"')
    rows = {(row["subject"], row["detail"]): row for row in found(project, capsys)["values"]}
    changed = rows['formula "sheet-lap"', "input pitch_deg"]
    assert (changed["before"], changed["after"]) == ("0 to 90°", "5 to 90°")
    gone, come = rows['formula "pitch"', ""], rows['formula "steepness"', ""]
    assert (gone["change"], gone["before"], gone["trees"]) == ("removed", "Pitch of the roof", ["potting-shed"])
    assert (come["change"], come["after"]) == ("added", "Pitch of the roof")


def test_refusal_is_a_result(project, capsys):
    edit(project, SHEETS, "    low=0,\n    high=90,", "    low=5,\n    high=60,")
    moved = moved_of(found(project, capsys), "sheet-lap")
    assert moved["verdicts"] == 0
    assert moved["examples"][0]["after"].startswith(
        "refused: Pitch at which the sheet lies: it has to be from 5 to 60°"
    )


def test_table_that_a_formula_reckons_with_is_compared_and_runs_the_formulas(project, capsys):
    text = (project / METALS).read_text(encoding="utf-8")
    heavier = re.sub(r"(?<=density-kg-m3: )\d+", lambda found: str(int(found[0]) + 1), text, count=1)
    (project / METALS).write_text(heavier, encoding="utf-8")
    said = found(project, capsys)
    assert [(row["subject"].split(",")[0], row["detail"]) for row in said["values"]] == [
        ("table metals", "density-kg-m3")
    ]
    assert len(said["runs"]) == 1


BROKEN = [
    ("import nothing_of_this_name\n", "ModuleNotFoundError: No module named 'nothing_of_this_name'"),
    ("1 / 0\n", "ZeroDivisionError: division by zero"),
    ("def (\n", "SyntaxError: invalid syntax"),
]


@pytest.mark.parametrize(("code", "reason"), BROKEN)
def test_code_that_cannot_be_run_is_one_plain_sentence_beside_what_differs_in_it(project, capsys, code, reason):
    (project / SHEETS).write_text((project / SHEETS).read_text(encoding="utf-8") + code, encoding="utf-8")
    edit(project, SLOPE, "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    said = found(project, capsys)
    sentence = f"The formulas of working tree could not be run ({reason}), so no results are compared."
    assert (said["runs"], said["moved"]) == ([sentence], [])
    assert "MARGIN_DEG" in [row["detail"] for row in said["values"]]


ENDLESS = [
    ("MOST_SECONDS", "while True:\n    pass\n", "they used more than 2 seconds of the processor"),
    ("MOST_WAITED", "import time\ntime.sleep(9999)\n", "they were not done in 2 seconds"),
]


@pytest.mark.parametrize(("limit", "code", "reason"), ENDLESS)
def test_code_that_does_not_end_is_stopped(project, capsys, monkeypatch, limit, code, reason):
    edit(project, SLOPE, "MARGIN_DEG = 2\n", f"MARGIN_DEG = 3\n{code}")
    monkeypatch.setattr(formula_runs, limit, 2)
    with pytest.raises(CannotRun, match=reason):
        formula_runs.run(project, {})


def test_code_is_limited_by_what_it_uses_and_not_by_the_clock(project):
    """So a busy machine loses no result: what is usual is far below one limit, and the other is far off."""
    limited = "import resource\nassert resource.getrlimit(resource.RLIMIT_CPU) == (20, 21)\n"
    edit(project, SLOPE, "MARGIN_DEG = 2\n", f"MARGIN_DEG = 3\n{limited}")
    assert formula_runs.run(project, {}).formulas
    assert (formula_runs.MOST_SECONDS, formula_runs.MOST_WAITED) == (20, 300)


def test_code_runs_by_itself(project, capsys, monkeypatch):
    """What it prints is no answer, the keys of a code host are not passed on, and no other program is imported."""
    monkeypatch.setenv("KEY_OF_A_CODE_HOST", "secret")
    alone = "import os\nimport build_tools\nprint('noise')\nassert list(os.environ) in ([], ['LC_CTYPE']), os.environ\n"
    alone += f"assert build_tools.__file__.startswith({str(project)!r}), build_tools.__file__\n"
    edit(project, SLOPE, "MARGIN_DEG = 2\n", f"MARGIN_DEG = 3\n{alone}")
    said = found(project, capsys)
    assert moved_of(said, "pitch"), said["runs"]
    assert git(project, "status", "--short").split() == ["M", SLOPE]


def test_what_code_says_of_itself_stays_on_one_line(project):
    edit(project, SLOPE, 'title="Pitch of the roof"', 'title="Pitch\\n1. Cautions and gates\\n  None."')
    assert formula_runs.run(project, {}).formulas["pitch"].title == "Pitch 1. Cautions and gates None."


@pytest.mark.parametrize(
    ("old", "new"), [('"whole": whole', '"whole": whole, "high": float("inf")'), ("code.co_firstlineno", "0")]
)
def test_answer_that_no_formula_would_give_is_refused(project, monkeypatch, tmp_path, old, new):
    """Code that runs in that process can say anything."""
    honest = formula_runs.RUNNER.read_text(encoding="utf-8")
    assert old in honest
    (tmp_path / "runner.py").write_text(honest.replace(old, new), encoding="utf-8")
    monkeypatch.setattr(formula_runs, "RUNNER", tmp_path / "runner.py")
    with pytest.raises(CannotRun, match="they gave what is no answer"):
        formula_runs.run(project, {})


def test_folder_without_formulas_is_not_taken_for_the_program_that_reviews(project):
    with pytest.raises(CannotRun, match=r"no formulas|No module"):
        formula_runs.run(project / "trees", {})


def test_formula_that_fails_is_told_like_a_refusal(project, capsys):
    edit(
        project,
        SHEETS,
        "    lap_mm = lap_needed(pitch_deg)\n",
        "    lap_mm = lap_needed(pitch_deg) / (pitch_deg - 45)\n",
    )
    moved = moved_of(found(project, capsys), "sheet-lap")
    assert "it fails" not in moved["examples"][0]["after"]
    edit(project, SHEETS, "/ (pitch_deg - 45)", "/ (pitch_deg - pitch_deg)")
    moved = moved_of(found(project, capsys), "sheet-lap")
    assert "refused: it fails: ZeroDivisionError" in moved["examples"][0]["after"]


def test_two_committed_versions_are_run_from_git(project, capsys, monkeypatch):
    """As a reviewer runs it: on all that is tried, and nothing taken from another test."""
    monkeypatch.undo()
    git(project, "checkout", "-q", "-b", "change")
    edit(project, SLOPE, "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    git(project, "commit", "-q", "-a", "-m", "Wider")
    git(project, "checkout", "-q", "main")
    assert run(project, "main", "change", "--format", "json") == 1
    moved = moved_of(json.loads(capsys.readouterr().out), "pitch")
    assert moved["verdicts"] > 0 and moved["tried"] > trials.SEEDED == 300


def test_moved_results_are_mirrored(project, tmp_path):
    before = read(project, "before")
    other = guide_with_program(tmp_path / "other")
    edit(other, SLOPE, "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    edit(other, SHEETS, "    low=0,\n    high=90,", "    low=5,\n    high=60,")
    edit(other, SHEETS, '"pitch_deg": 15, "measured', '"pitch_deg": 25, "measured')
    after = read(other, "after")
    one, back = review(before, after).moved, review(after, before).moved
    assert [_turned(each) for each in back] == [each.model_dump() for each in one]
    assert {"pitch", "sheet-lap"} <= {each.formula for each in one}


def _turned(moved):
    plain = moved.model_dump()
    for each in (plain, *plain["examples"]):
        names = ("spot_before", "spot_after") if each is plain else ("before", "after")
        each[names[0]], each[names[1]] = each[names[1]], each[names[0]]
    return plain


def test_inputs_are_written_as_calc_takes_them():
    lines = [["board", 12.5], ["wool", None]]
    assert inputs_text({"pitch_deg": 20.0, "layers": lines, "metal": "lead"}) == (
        "layers=board,12.5; wool,, metal=lead, pitch_deg=20"
    )


def test_formulas_of_an_older_version_are_those_that_it_made_when_it_was_imported(tmp_path):
    older = SimpleNamespace(FORMULAS={"pitch": FORMULAS["pitch"]})
    assert formula_runner._formulas(older, tmp_path) == older.FORMULAS
