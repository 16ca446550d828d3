"""The code of the formulas: a number that moves is told with its place, comments and layout say nothing."""

from pathlib import Path

import pytest
from reviewed import read, version

from build_tools.review.compare import Version, review
from build_tools.review.formula_code.formula_content import formula_content, programs_differ, read_formulas
from build_tools.review.versions.matching import Match

ROOT = Path(__file__).parent.parent.parent
NONE = {"trees": {}, "remedies": {}}
MODULE = "build_tools/formulas/covering/slope.py"
CODE = '''"""A module."""

LEAST_MM = 150  # a remark


def lap(rise_mm: float) -> float:
    """Give a lap."""
    doubled = rise_mm * 2
    return doubled + LEAST_MM


from math import ceil
'''


def told(before, after, path=MODULE):
    match = Match(version(NONE).draft, version(NONE).draft)
    rows = formula_content(match, {path: before}, {path: after})
    return [(section, row.change, row.detail, row.before, row.after, row.spot_after.line) for section, row in rows]


@pytest.mark.parametrize(
    ("old", "new", "row"),
    [
        ("= 150", "= 100", ("values", "changed", "LEAST_MM", "LEAST_MM = 150", "LEAST_MM = 100", 3)),
        ("* 2", "* 3", ("values", "changed", "lap", "doubled = rise_mm * 2", "doubled = rise_mm * 3", 6)),
        ("Give a lap", "Give the lap", ("text", "changed", "lap, docstring", "Give a lap.", "Give the lap.", 6)),
        ("# a remark", "; LEAST_MM += 1", ("values", "added", "LEAST_MM += 1", None, "LEAST_MM += 1", 3)),
        (
            "\n\n\ndef",
            "\nif LEAST_MM:\n    LEAST_MM = 50\n\n\ndef",
            ("values", "added", "if LEAST_MM:", None, "if LEAST_MM: / LEAST_MM = 50", 4),
        ),
        (
            "import ceil",
            "import floor as ceil",
            ("values", "changed", "ceil", "from math import ceil", "from math import floor as ceil", 12),
        ),
    ],
)
def test_what_differs_is_told_at_its_place(old, new, row):
    assert told(CODE, CODE.replace(old, new)) == [row]


@pytest.mark.parametrize(
    "statement",
    [
        "for LEAST_MM in range(50): pass",
        "while LEAST_MM > 50: LEAST_MM -= 1",
        "with open('numbers'): LEAST_MM = 50",
        "try:\n    LEAST_MM = 50\nfinally:\n    pass",
        "if LEAST_MM:\n    if LEAST_MM > 1:\n        LEAST_MM = 50",
        "match LEAST_MM:\n    case _:\n        LEAST_MM = 50",
        "(LEAST_MM := 50)",
        "del LEAST_MM",
        "globals()['LEAST_MM'] = 50",
        "lap.__defaults__ = (50,)",
        "async def lap(rise_mm): return 50",
    ],
)
def test_statement_of_any_kind_is_told(statement):
    (row,) = told(CODE, f"{CODE}{statement}\n")
    assert (row[0], row[1], row[5]) == ("values", "added", 13)


def test_value_that_is_given_and_taken_back_is_told():
    new = CODE.replace("LEAST_MM = 150", "LEAST_MM = 50\nHALF_MM = LEAST_MM / 2\nLEAST_MM = 150")
    rows = [(detail, before, after) for _, _, detail, before, after, _ in told(CODE, new)]
    assert rows[0] == ("LEAST_MM", "LEAST_MM = 150", "LEAST_MM = 50")
    assert ("LEAST_MM (2)", None, "LEAST_MM = 150") in rows


@pytest.mark.parametrize("text", ["(" * 20_000, "A = " + "+".join("1" * 9_000), "\0", "def ("])
def test_code_that_no_parser_goes_through_is_no_traceback(text):
    match = Match(version(NONE).draft, version(NONE).draft)
    rows = list(formula_content(match, {MODULE: CODE}, {MODULE: text}))
    assert {row.change for _, row in rows} == {"removed"}


def test_programs_are_told_apart_by_what_any_module_does(tmp_path):
    def program(name, text):
        (tmp_path / name / "build_tools/model").mkdir(parents=True)
        (tmp_path / name / "build_tools/model/more.py").write_text(text, encoding="utf-8")
        return tmp_path / name

    one, remarked = program("one", "A = 1\n"), program("remarked", '"""A module."""\nA = 1  # one\n')
    assert not programs_differ(one, remarked)
    assert programs_differ(one, program("other", "A = 2\n"))
    assert programs_differ(one, program("broken", "A = (\n"))
    assert programs_differ(one, tmp_path)


@pytest.mark.parametrize(
    ("old", "new"), [("a remark", "another"), ("rise_mm * 2", "(\n        rise_mm * 2\n    )"), ("\n\n\n", "\n\n\n\n")]
)
def test_comments_and_layout_say_nothing(old, new):
    assert told(CODE, CODE.replace(old, new)) == []


def test_long_code_is_shown_where_it_differs():
    words = " ".join(f"'w{number}'," for number in range(99))
    ((_, _, _, before, after, _),) = told(f"WORDS = [{words}]\n", f"WORDS = [{words}]\n".replace("'w50'", "'other'"))
    assert (before, after) == (
        "… 'w47', 'w48', 'w49', 'w50', 'w51', 'w52', 'w53', …",
        "… 'w47', 'w48', 'w49', 'other', 'w51', 'w52', 'w53', …",
    )
    ((_, _, _, before, after, _),) = told("A = 1\n", f"A = 1\nWORDS = [{words}]\n")
    assert before is None and len(after) < 220 and after.endswith("…")


def test_formula_that_moves_asks_for_a_version_of_the_trees_that_use_it():
    now = read(ROOT, "now")
    module = "build_tools/formulas/sheet/sheets.py"
    code = now.formulas[module] + "\n\nMORE_MM = 1\n"
    found = review(now, Version(now.side, now.draft, {**now.formulas, module: code}))
    using = {name for name, tree in now.draft.trees.items() if "sheet-lap" in str(tree.model_dump())}
    assert [(each.detail, each.change) for each in found.values] == [("MORE_MM", "added")]
    assert (found.step, found.reasons) == (
        "minor",
        ("the formulas were not run, so nobody knows which results move",),
    )
    assert using and using <= {each.tree for each in found.proposals}


def test_formulas_are_read_from_the_program():
    assert MODULE in read_formulas(ROOT)
