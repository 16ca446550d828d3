"""What was changed and is compared by nothing: listed, and "nothing has changed" is said of what was compared only."""

import os
import shutil
import subprocess

import pytest
from guides import edit, good_guide, held_guide
from kept_in_git import git, guide_with_program, keep, run

from build_tools.review.versions.listing import listed

CHAPTER = "guide/safe-access.md"
OTHER = "guide/index.md"
DRAWING = "guide/drawings/shed-section.svg"
CASE = "title: A\nfacts: B\ntree: potting-shed\nanswers:\n  - drip-in-rain: yes\nends-in: x\n"
NOTHING = "Nothing has changed in the trees, remedies and tables."


@pytest.fixture
def kept(good):
    """A guide in git with two chapters and a Makefile."""
    (good / CHAPTER).write_text("# Up\n\nStay off the roof. Never go up alone.\nCall somebody.\n", encoding="utf-8")
    (good / OTHER).write_text("# The shed\n\nIt leaks.\n", encoding="utf-8")
    (good / "Makefile").write_text("all:\n", encoding="utf-8")
    return keep(good)


def said(capsys):
    return [line.strip() for line in capsys.readouterr().out.splitlines()]


def test_nothing_is_said_only_of_what_was_compared(kept, capsys):
    assert run(kept) == 0
    assert said(capsys) == ["Review: main → working tree", NOTHING]


def test_formulas_are_named_only_where_both_versions_hold_them(tmp_path, capsys):
    for name in ("before", "after"):
        guide_with_program(tmp_path / name)
    assert run(tmp_path, "before", "after") == 0
    assert said(capsys)[1] == "Nothing has changed in the trees, remedies, tables and formulas."
    shutil.rmtree(tmp_path / "before/build_tools")
    assert run(tmp_path, "before", "after") == 0
    lines = said(capsys)
    assert lines[1] == NOTHING and any(line.startswith("build_tools/: ") for line in lines)


def test_module_of_a_formula_is_compared_in_whichever_room_it_stands(tmp_path, capsys):
    for name in ("before", "after"):
        guide_with_program(tmp_path / name)
    edit(tmp_path, "after/build_tools/formulas/covering/slope.py", "MARGIN_DEG = 2", "MARGIN_DEG = 3")
    assert run(tmp_path, "before", "after", "--without-running") == 1
    told = "\n".join(said(capsys))
    assert "formula code slope.py" in told and "not compared here" not in told


def test_words_of_a_chapter_are_told_and_safety_comes_first(kept, capsys):
    edit(kept, CHAPTER, "Never go up alone.", "Go up alone.")
    edit(kept, OTHER, "It leaks.", "It drips.")
    (kept / "Makefile").write_text("all: nothing\n", encoding="utf-8")
    assert run(kept) == 0
    lines = said(capsys)
    at = lines.index("Also changed, and not compared here")
    assert lines[1] == NOTHING
    assert lines[at + 1 : at + 6] == [
        f"{CHAPTER}: changed",
        "other words",
        "was: Never go up alone.",
        "now: Go up alone.",
        f"at {CHAPTER}:3",
    ]
    assert lines[at + 6] == f"{OTHER}: changed" and lines[-1] == "beside the folders: 1 changed (Makefile)"


def test_number_in_a_drawing_is_told(kept, capsys):
    (kept / DRAWING).write_text("<svg><title>Lap</title>\n<text x='1'>150 mm</text></svg>\n", encoding="utf-8")
    git(kept, "commit", "-q", "-a", "-m", "A lap")
    edit(kept, DRAWING, "150 mm", "50 mm")
    assert run(kept, "HEAD") == 0
    lines = said(capsys)
    assert lines[lines.index(f"{DRAWING}: changed") :][2:4] == ["was: 150 mm", "now: 50 mm"]


@pytest.mark.parametrize(
    "path",
    [
        "build_tools/guide/words.py",
        "site_overrides/walk.js",
        ".github/workflows/review.yml",
        "tests/test_x.py",
        "x.lock",
    ],
)
def test_every_other_file_that_came_is_listed(kept, path, capsys):
    (kept / path).parent.mkdir(parents=True, exist_ok=True)
    (kept / path).write_text("x", encoding="utf-8")
    assert run(kept) == 0
    text = "\n".join(said(capsys))
    assert path.rpartition("/")[2] in text and "1 added" in text


def test_what_is_compared_is_not_listed_too(kept, capsys):
    edit(kept, "trees/cold-pane.yaml", "why: Drops on", "why: Such drops on")
    (kept / "trees/cases").mkdir()
    (kept / "trees/cases/a.yaml").write_text(CASE, encoding="utf-8")
    assert run(kept) == 1
    assert "Also changed, and not compared here" not in said(capsys)


def test_same_files_have_the_same_names_in_a_commit_and_in_a_folder(kept, tmp_path):
    commit = git(kept, "rev-parse", "HEAD")
    (kept / "link").symlink_to("Makefile")
    git(kept, "add", ".")
    git(kept, "commit", "-q", "-m", "A link")
    copied = shutil.copytree(kept, tmp_path / "copy", symlinks=True, ignore=shutil.ignore_patterns(".git"))
    head = git(kept, "rev-parse", "HEAD")
    assert dict(listed(kept, tmp_path, head)) == dict(listed(kept, kept, "")) == dict(listed(copied, copied, ""))
    assert listed(kept, tmp_path, commit).keys() ^ listed(kept, kept, "").keys() == {"link"}


def test_what_git_ignores_and_what_tools_make_is_passed_over(kept, tmp_path):
    (kept / ".gitignore").write_text("made/\n", encoding="utf-8")
    for name in ("made", "__pycache__"):
        (kept / name).mkdir()
        (kept / name / "x").write_text("x", encoding="utf-8")
    assert "made/x" not in listed(kept, kept, "") and ".gitignore" in listed(kept, kept, "")
    shutil.rmtree(kept / ".git")
    bare = listed(kept, kept, "")
    assert "made/x" in bare and "__pycache__/x" not in bare


def test_link_and_pipe_are_never_followed(tmp_path):
    root = good_guide(tmp_path / "guide")
    (root / "zero").symlink_to("/dev/zero")
    os.mkfifo(root / "pipe")
    found = listed(root, root, "")
    hashed = subprocess.run(["git", "hash-object", "--stdin"], input=b"/dev/zero", capture_output=True, check=True)
    assert found["zero"] == hashed.stdout.decode().strip() and "pipe" not in found


READ = "trees/proofs/hazards-read.yaml"


def test_readings_that_are_weakened_or_taken_out_are_listed(tmp_path, capsys):
    kept = keep(held_guide(tmp_path / "guide"))
    edit(kept, READ, "air-the-shed:\n  wet-floor: Prop the door open\n", "")
    (kept / "trees/proofs/pane-words.yaml").unlink()
    run(kept)
    lines = said(capsys)
    at = lines.index("Also changed, and not compared here")
    assert lines[at + 1 : at + 4] == [
        f"{READ}: changed",
        "taken out",
        "was: air-the-shed: wet-floor: Prop the door open",
    ]
    assert "trees/proofs/pane-words.yaml: removed" in lines
