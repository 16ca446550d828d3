"""The proof as a whole: a good guide passes, a broken one never crashes it, and mending brings silence."""

import contextlib
import inspect
import io
import json
import random
import re
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import pytest
from guides import (
    BROKEN,
    CLEAN,
    ROOT,
    broken_guide,
    broken_names,
    codes_of,
    edit,
    good_guide,
    record,
    report_of,
)
from hypothesis import example, given, settings
from hypothesis import strategies as st
from made_values import tried

from build_tools.__main__ import main
from build_tools.model import DATA_TABLES
from build_tools.model.problems import RULES
from build_tools.proof.checks import CONTENT_RULES, FINDS_LESS, WAITS_FOR, check, waivable
from build_tools.proof.report import as_text
from build_tools.sources.library import TABLES, read_library, table_path

COLD, SHED = "trees/cold-pane.yaml", "trees/potting-shed.yaml"
FILES = sorted(
    path.relative_to(good).as_posix() for good in [BROKEN.parent / "good"] for path in (good / "trees").rglob("*.yaml")
)
WORDS = [
    "yes",
    "no",
    "verdicts",
    "unsure",
    "then",
    "as",
    "question",
    "gate",
    "remedy",
    "steps",
    "accept",
    "where",
    "roof",
    "given",
    "opens",
    "sources",
]


def test_good_guide_is_proved_without_a_word(good):
    checked = check(good)
    assert checked.problems == () and checked.guide.draft == read_library(good)[0]
    files = (*(good / "trees").rglob("*.yaml"), *(good / "guide").rglob("*.*"))
    assert set(checked.sources) == {each.relative_to(good).as_posix() for each in files}


def test_good_guide_holds_one_of_everything(good):
    draft = read_library(good)[0]
    assert {type(step).__name__ for tree in draft.trees.values() for step in tree.steps.values()} == {
        "Question",
        "Measure",
        "GateStep",
        "RemedyStep",
        "GoTo",
    }
    assert {each.lasts for each in draft.remedies.values()} == {"stopgap", "lasting", "mends-nothing"}
    assert all(getattr(draft, name) for name in TABLES) and draft.drawings


def test_broken_guide_has_no_proof_and_one_with_warnings_has(tmp_path):
    assert check(broken_guide("ungated", tmp_path / "one")).guide is None
    assert check(broken_guide("deep", tmp_path / "two")).guide is not None


BROKEN_EXIT = """\
trees/potting-shed.yaml:97:11: error: answer "yes" leads to "hang-it", which is not a step in this tree.
  Line 97: then: hang-it
  Mend: Did you mean "hang-it-back"? Correct the name, or add the step.
  Rule: unknown-step

1 error, 0 warnings.
"""


def test_break_and_mend(good):
    assert report_of(good) == f"{CLEAN}\n"
    edit(good, SHED, "then: hang-it-back", "then: hang-it")
    assert report_of(good) == BROKEN_EXIT
    edit(good, SHED, "then: hang-it\n", "then: hang-it-back\n")
    assert report_of(good) == f"{CLEAN}\n"


def test_problems_of_all_files_come_in_one_run_in_order(good):
    for path in FILES:
        (good / path).write_text("a: b: c\n", encoding="utf-8")
    places = [each.place for each in check(good).problems]
    assert places == sorted(places) and {each.path for each in places} == set(FILES)


# Waivers


@pytest.mark.parametrize("code", RULES)
def test_only_good_sense_may_be_waived(code):
    assert waivable(code) == (RULES[code].severity == "warning" and not RULES[code].proves)


def test_what_holds_the_guide_to_readings_says_so_and_warns():
    said = "".join(inspect.getsource(inspect.getmodule(rule)) for rule in CONTENT_RULES)
    assert {code for code in RULES if f'"{code}"' in said} == {code for code, rule in RULES.items() if rule.proves}
    assert {rule.severity for rule in RULES.values() if rule.proves} == {"warning"}


@pytest.mark.parametrize("around", ["    ", ""])
def test_waiver_covers_what_stands_inside_it(good, around):
    edit(good, COLD, "Do drops hang on the inside of the pane?", "Do drops hang on the pane and the putty?")
    record(good)
    assert codes_of(good) == ["question-form"]
    before = "    why: Drops on" if around else "starts-at:"
    edit(good, COLD, before, f"{around}accept:\n{around}  question-form: They are wiped together.\n{before}")
    assert codes_of(good) == []


def test_waiver_of_another_step_covers_nothing(good):
    edit(
        good, COLD, "    remedy: air-the-shed", "    remedy: air-the-shed\n    accept:\n      question-form: No reason."
    )
    assert codes_of(good) == ["idle-accept"]


def test_step_named_accept_is_no_waiver(good):
    text = (good / COLD).read_text(encoding="utf-8")
    (good / COLD).write_text(text.replace("air-it", "accept"), encoding="utf-8")
    record(good)
    assert codes_of(good) == []


# What cannot be judged is not told


@pytest.mark.parametrize("name", TABLES)
def test_table_that_cannot_be_read_is_blamed_alone(good, name):
    (good / table_path(name)).write_text("- one\n", encoding="utf-8")
    assert codes_of(good) == ["wrong-value"]


@pytest.mark.parametrize("path", [path for path in FILES if "/tables/" not in path])
def test_tree_or_remedy_that_cannot_be_read_is_blamed_alone(good, path):
    (good / path).write_text("- one\n", encoding="utf-8")
    assert codes_of(good) == ["wrong-value"]


def test_rules_that_wait_are_rules():
    assert {code for codes in (*WAITS_FOR.values(), *FINDS_LESS.values()) for code in codes} <= set(RULES)
    assert {*WAITS_FOR, *FINDS_LESS} <= set(TABLES)


@pytest.mark.parametrize("table", sorted({*WAITS_FOR, *FINDS_LESS}))
def test_table_that_cannot_be_read_is_blamed_alone_and_says_which_rules_wait(table, tmp_path):
    shutil.copytree(ROOT / "trees", tmp_path / "trees")
    shutil.copytree(ROOT / "guide", tmp_path / "guide")
    (tmp_path / table_path(table)).write_text("- a list\n- of two\n", encoding="utf-8")
    (told,) = check(tmp_path).problems
    waiting = ", ".join((*WAITS_FOR.get(table, ()), *FINDS_LESS.get(table, ())))
    assert told.place.path == table_path(table)
    assert told.mend.endswith(f"Until this table can be read, these rules say nothing, or not all: {waiting}.")


# Nothing that an author can write brings a traceback


def told(root):
    """Check a guide by the program and by the shell, and see that both end well and say the same."""
    checked = check(root)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = main(["--root", str(root), "check"])
    assert code == int(checked.guide is None)
    assert said.getvalue() == as_text(checked.problems, checked.sources) + "\n"
    assert all(each.place.line >= 1 and each.place.column >= 1 and each.mend for each in checked.problems)
    assert all(each.code in RULES and "\n" not in each.what for each in checked.problems)
    return [each.code for each in checked.problems]


@contextlib.contextmanager
def a_good_guide():
    with tempfile.TemporaryDirectory() as folder:
        yield good_guide(Path(folder) / "guide")


def mangle(data, draw):
    """Delete, double, swap or insert bytes, lines or words of a file."""
    for _ in range(draw(st.integers(1, 4))):
        pieces = re.findall(rb"[^\n]*\n|[^\n]+$", data) if draw(st.booleans()) else re.findall(rb"\w+|\W", data)
        if not pieces:
            return data
        one, other = (draw(st.integers(0, len(pieces) - 1)) for _ in range(2))
        kind = draw(st.sampled_from(["delete", "double", "swap", "word", "bytes", "indent"]))
        if kind == "delete":
            del pieces[one : one + draw(st.integers(1, 5))]
        elif kind == "double":
            pieces.insert(other, pieces[one])
        elif kind == "swap":
            pieces[one], pieces[other] = pieces[other], pieces[one]
        elif kind == "word":
            pieces[one] = draw(st.sampled_from(WORDS)).encode()
        elif kind == "bytes":
            pieces.insert(one, draw(st.binary(min_size=1, max_size=4)))
        else:
            pieces[one] = b" " * draw(st.integers(0, 6)) + pieces[one].lstrip(b" ")
        data = b"".join(pieces)
    return data


@given(st.data(), st.sampled_from(FILES))
@settings(max_examples=tried(25, 250))
def test_mangled_file_is_told_and_not_thrown(data, path):
    with a_good_guide() as root:
        (root / path).write_bytes(mangle((root / path).read_bytes(), data.draw))
        told(root)


yaml_like = st.lists(
    st.tuples(
        st.integers(0, 6),
        st.sampled_from(
            ["", "- ", "- - ", "? ", "&a ", "*a ", "!b ", "'", '"', "[", "{", "|\n", "<<: ", "%", "@", "\t"]
        ),
        st.sampled_from([*WORDS, "a", "1", "1.5", "~", "", "\x00", "\ud7ff", "é", "2026-11-25", "#", "---", "..."]),
        st.sampled_from([":", ": ", " #", "", ": >-\n", ":\n", ": - ", "]", "}", "'"]),
    ).map(lambda each: " " * each[0] + "".join(each[1:])),
    max_size=12,
).map("\n".join)


@given(st.sampled_from([*FILES, table_path("versions")]), yaml_like)
@settings(max_examples=tried(25, 200))
def test_text_that_looks_like_yaml_is_told_and_not_thrown(path, text):
    with a_good_guide() as root:
        (root / path).write_bytes(text.encode())
        told(root)


@given(st.sampled_from(FILES), st.binary(max_size=60))
@settings(max_examples=tried(25, 100))
@example(SHED, b"\xff\xfea\x00:\x00")
@example(SHED, b"")
def test_any_bytes_are_told_and_not_thrown(path, data):
    with a_good_guide() as root:
        (root / path).write_bytes(data)
        told(root)


plain = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-9, 9999)
    | st.floats(0, 1e6).map(lambda x: round(x, 2))
    | st.sampled_from(WORDS),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(WORDS), inner, max_size=3),
)


@given(st.data(), st.sampled_from(FILES), plain)
@settings(max_examples=tried(25, 200))
def test_any_value_in_any_place_is_told_and_not_thrown(data, path, value):
    with a_good_guide() as root:
        whole = read_library(root)[0].files[path].composed.value
        keys = data.draw(st.sampled_from(all_keys(whole)))
        (root / path).write_text(as_yaml(with_value(whole, keys, value), random.Random(0)), encoding="utf-8")
        told(root)


def all_keys(value, keys=()):
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, tuple) else ()
    return [keys, *(each for key, item in inside for each in all_keys(item, (*keys, key)))]


def with_value(whole, keys, value):
    if not keys:
        return value
    if isinstance(whole, dict):
        return {key: with_value(item, keys[1:], value) if key == keys[0] else item for key, item in whole.items()}
    return tuple(with_value(item, keys[1:], value) if n == keys[0] else item for n, item in enumerate(whole))


# Order and comments mean nothing


def as_yaml(value, dice, indent=""):
    """Write a value in block style, its keys shuffled and comments strewn in."""
    if isinstance(value, dict) and value:
        keys = dice.sample(list(value), len(value))
        return "".join(f"{note(dice)}{indent}{key}:{below(value[key], dice, indent)}" for key in keys)
    if isinstance(value, list | tuple) and value:
        return "".join(f"{note(dice)}{indent}-{below(item, dice, indent)}" for item in value)
    return "" if value in ([], (), {}) else f"{indent}{json.dumps(value, ensure_ascii=False)}\n"


def below(value, dice, indent):
    inner = as_yaml(value, dice, indent + "  ")
    return f"\n{inner}" if isinstance(value, list | tuple | dict) else f" {inner.strip()}\n"


def note(dice):
    return "# A note: with a colon.\n" * dice.randint(0, 1)


OF_SHAPE = {"not-text", "not-yaml", "too-deep-nesting", "too-many-values", "anchor", "tag", "merge-key", "key-not-text"}
READABLE = [
    name
    for name in broken_names()
    if name.split(".")[0] not in {*OF_SHAPE, "duplicate-key", "swallowed-text", "unexpected-file"}
]


@pytest.mark.parametrize("name", [name for name in READABLE if not name.startswith("wrong-value")])
def test_order_of_keys_and_comments_change_no_finding(name, tmp_path):
    root = broken_guide(name, tmp_path)
    before = Counter(codes_of(root))
    # The rows of a data table are in the order in which a formula goes through them.
    ordered = {table_path(name) for name in DATA_TABLES}
    for path, parsed in ((path, each) for path, each in read_library(root)[0].files.items() if path not in ordered):
        text = as_yaml(parsed.composed.value, random.Random(name + path))
        (root / path).write_text(text, encoding="utf-8")
    assert Counter(codes_of(root)) == before


@pytest.mark.parametrize("folder", ["trees", "trees/tables", "guide", "guide/drawings"])
def test_link_in_place_of_a_whole_folder_is_told_once(good, tmp_path, folder):
    (good / folder).rename(tmp_path / "elsewhere")
    (good / folder).symlink_to(tmp_path / "elsewhere")
    assert [(each.code, each.place.path) for each in check(good).problems] == [("not-plain", folder)]
