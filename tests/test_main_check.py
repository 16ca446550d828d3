"""`python -m build_tools check`, `record` and `schema`: what they print, and how they end."""

import json
import os
import subprocess
import sys

import pytest
from guides import CLEAN, ROOT, broken_guide, edit, report_of

from build_tools.__main__ import main
from build_tools.proof.report import FORMATS

COLD = "trees/cold-pane.yaml"


def run(root, *arguments):
    return main(["--root", str(root), *arguments])


def test_good_guide_ends_with_0(good, capsys):
    assert run(good, "check", "--strict") == 0
    assert capsys.readouterr() == (f"{CLEAN}\n", "")


@pytest.mark.parametrize(("name", "ends", "ends_strict"), [("ungated", 1, 1), ("deep", 0, 1)])
def test_findings_end_with_1_and_warnings_only_when_strict(name, ends, ends_strict, tmp_path, capsys):
    root = broken_guide(name, tmp_path)
    assert (run(root, "check"), run(root, "check", "--strict")) == (ends, ends_strict)
    assert capsys.readouterr().out == report_of(root) * 2


@pytest.mark.parametrize("paths", [[COLD], ["trees/remedies", COLD], ["trees"], ["./trees/../trees"]])
def test_paths_show_only_what_is_in_them(paths, good, capsys):
    edit(good, COLD, "starts-at", "start-at")
    assert run(good, "check", *paths) == 1
    assert "2 errors" in capsys.readouterr().out


@pytest.mark.parametrize("paths", [["trees/remedies"], ["trees/tables", "trees/potting-shed.yaml"]])
def test_paths_hide_what_is_elsewhere(paths, good, capsys):
    edit(good, COLD, "starts-at", "start-at")
    assert (run(good, "check", *paths), capsys.readouterr().out) == (0, f"{CLEAN}\n")


def test_path_is_read_from_where_one_stands(good, capsys, monkeypatch):
    monkeypatch.chdir(good / "trees")
    edit(good, COLD, "starts-at", "start-at")
    assert run(good, "check", "cold-pane.yaml") == 1
    assert "2 errors" in capsys.readouterr().out


@pytest.mark.parametrize("path", ["trees/cold", "trees/cold-pane", "trees/gone.yaml", "/", ".."])
def test_path_that_is_not_in_the_project_is_wrong_use(path, good, capsys):
    assert run(good, "check", path) == 2
    assert capsys.readouterr() == ("", f'"{path}" is not a file or folder of the project.\n')


@pytest.mark.parametrize("path", ["README.md", "tests", "tests/one.yaml"])
def test_path_that_nothing_is_read_of_is_not_called_good(path, good, capsys):
    (good / "README.md").touch()
    (good / "tests").mkdir()
    (good / "tests" / "one.yaml").write_text("tree: nowhere\n", encoding="utf-8")
    assert run(good, "check", COLD, path) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and f'"{path}" is nothing that `check` reads' in shown.err
    assert run(good, "check", str(good)) == run(good, "check", "guide") == 0


@pytest.mark.parametrize("arguments", [["check", "--format", "xml"], ["check", "--loud"], ["chek"], []])
def test_wrong_use_ends_with_2(arguments, good, capsys):
    with pytest.raises(SystemExit) as ended:
        run(good, *arguments)
    assert ended.value.code == 2 and "usage: python -m build_tools" in capsys.readouterr().err


@pytest.mark.parametrize("name", FORMATS)
def test_every_format_is_offered(name, tmp_path, capsys):
    assert run(broken_guide("ungated", tmp_path), "check", "--format", name) == 1
    assert "ungated" in capsys.readouterr().out


def test_json_is_one_document(good, capsys):
    assert run(good, "check", "--format", "json") == 0
    assert json.loads(capsys.readouterr().out) == {"problems": [], "summary": CLEAN}


def test_record_settles_a_new_version(good, capsys):
    edit(good, COLD, "version: 1.0.0", "version: 1.1.0")
    assert (run(good, "check", "--strict"), run(good, "record"), run(good, "check", "--strict")) == (1, 0, 0)
    assert "wrote trees/tables/versions.yaml" in capsys.readouterr().out


def test_record_refuses_a_broken_guide_and_writes_nothing(tmp_path, capsys):
    root = broken_guide("ungated", tmp_path)
    before = (root / "trees/tables/versions.yaml").read_bytes()
    assert run(root, "record") == 1
    assert (root / "trees/tables/versions.yaml").read_bytes() == before
    assert capsys.readouterr().err.startswith("The sources have errors")


def test_schema_writes_into_a_project_that_has_none(good, capsys):
    assert run(good, "schema") == 0
    assert run(good, "check", "--strict") == 0
    assert "wrote trees/schema/tree.schema.json" in capsys.readouterr().out


def test_file_that_cannot_be_written_is_told(good, capsys):
    (good / "trees/schema").touch()
    assert run(good, "schema") == 1
    assert capsys.readouterr().err.endswith("trees/schema: File exists.\n")


def as_program(root, *arguments, **environment):
    call = [sys.executable, "-m", "build_tools", "--root", str(root), *arguments]
    return subprocess.run(call, cwd=ROOT, env=environment, capture_output=True, check=False)


def test_terminal_without_the_letters_shows_their_numbers(tmp_path):
    ran = as_program(broken_guide("long-sentence", tmp_path), "check", PYTHONIOENCODING="ascii")
    assert (ran.returncode, ran.stderr) == (0, b"") and b"\\u2026" in ran.stdout


def test_help_is_shown_on_any_terminal(good):
    ran = as_program(good, "walk", "--help", PYTHONIOENCODING="ascii")
    assert (ran.returncode, ran.stderr) == (0, b"") and b"where to begin" in ran.stdout


@pytest.mark.parametrize("shut", ["stdout", "stderr"])
@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("check",), 1),
        (("reading",), 0),
        (("find", "tile"), 0),
        (("find", "zebra"), 1),
        (("find",), 2),
        (("new", "Compost"), 2),
        (("schema",), 0),
    ],
)
def test_reader_who_leaves_early_changes_nothing_of_what_was_found(words, code, shut, tmp_path):
    """Having read enough is no finding, and hides none; it makes no difference which of both was read."""
    assert ends_unread(broken_guide("ungated", tmp_path), words, shut) == code


@pytest.mark.parametrize("shut", ["stdout", "stderr"])
def test_reader_who_leaves_a_talk_early_changes_nothing_of_its_end(shut, good):
    assert ends_unread(good, ("walk", "potting-shed"), shut) == 0


def ends_unread(root, words, shut):
    """Run a command of whose streams one was closed by its reader; give its exit code."""
    gone, writing = os.pipe()
    os.close(gone)
    call = [sys.executable, "-m", "build_tools", "--root", str(root), *words]
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, shut: writing}
    ran = subprocess.run(call, cwd=ROOT, stdin=subprocess.DEVNULL, check=False, **streams)
    os.close(writing)
    heard = ran.stderr if shut == "stdout" else ran.stdout
    assert b"Traceback" not in heard and b"BrokenPipe" not in heard
    return ran.returncode
