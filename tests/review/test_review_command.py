"""`python -m build_tools review`: git revisions and folders, what is printed, and how it ends."""

import json
import subprocess
import xml.etree.ElementTree as ET

import html5lib
import pytest
from guides import edit, good_guide

from build_tools.__main__ import main

CAUTIONS = "trees/tables/cautions.yaml"
COLD = "trees/cold-pane.yaml"
LOWERED = "fall-from-ladder:\n  signal: warning", "fall-from-ladder:\n  signal: notice"
REWORDED = "why: Drops on the inside", "why: Such drops on the inside"


def run(root, *arguments):
    return main(["--root", str(root), "review", *arguments])


def git(root, *arguments):
    named = ("-c", "user.name=A", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false")
    subprocess.run(["git", "-C", str(root), *named, *arguments], check=True, capture_output=True)


@pytest.fixture
def kept(good):
    """A guide in git, on its main branch."""
    git(good, "init", "-q", "-b", "main")
    git(good, "add", ".")
    git(good, "commit", "-q", "-m", "A guide")
    return good


def test_working_tree_is_held_against_the_main_branch(kept, capsys):
    assert run(kept) == 0
    assert capsys.readouterr().out == "Review: main → working tree\nNothing that a reader would notice has changed.\n"
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept) == 1
    assert 'caution "fall-from-ladder", signal: weakened' in capsys.readouterr().out


def test_two_revisions_are_read_from_git_and_not_from_the_folder(kept, capsys):
    edit(kept, COLD, *REWORDED)
    git(kept, "commit", "-q", "-a", "-m", "Other words")
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept, "main~1", "main") == 0
    said = capsys.readouterr().out
    assert "cold-pane/drops-inside, why: changed" in said and "signal" not in said
    assert git_status(kept) == f" M {CAUTIONS}\n"


def git_status(root):
    return subprocess.run(["git", "-C", str(root), "status", "--short"], capture_output=True, text=True).stdout


def test_main_branch_is_found_where_only_the_remote_one_is(kept, capsys):
    git(kept, "update-ref", "refs/remotes/origin/main", "main")
    git(kept, "checkout", "-q", "-b", "change")
    git(kept, "branch", "-q", "-D", "main")
    assert run(kept) == 0
    assert capsys.readouterr().out.startswith("Review: origin/main → working tree\n")


def test_two_folders_are_compared(tmp_path, capsys):
    before, after = good_guide(tmp_path / "before"), good_guide(tmp_path / "after")
    edit(after, CAUTIONS, *LOWERED)
    assert run(tmp_path, str(before), "after") == 1
    assert run(tmp_path, "after", str(before)) == 0
    assert "signal: made stricter\n    was: notice\n    now: warning" in capsys.readouterr().out


def test_project_in_a_folder_of_its_repository(tmp_path, capsys):
    root = good_guide(tmp_path / "inner")
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "A guide")
    edit(root, COLD, *REWORDED)
    assert run(root) == 0
    assert "drops-inside, why: changed" in capsys.readouterr().out


def test_what_is_no_version_is_one_sentence(kept, capsys):
    assert run(kept, "gone") == 2
    assert capsys.readouterr() == ("", '"gone" is neither a git revision nor a folder that holds trees/.\n')
    git(kept, "rm", "-q", "-r", "--cached", "trees")
    git(kept, "commit", "-q", "-m", "No trees")
    assert run(kept, "main") == 2
    assert capsys.readouterr().err == '"main" holds no trees/ folder.\n'


def test_folder_outside_git_has_no_main_branch(good, capsys, monkeypatch):
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(good.parent))
    assert run(good) == 2
    said = "There is no main branch to review against: name a git revision or a folder.\n"
    assert capsys.readouterr() == ("", said)


def test_version_that_does_not_pass_is_reviewed_as_far_as_it_can_be_read(kept, capsys):
    edit(kept, COLD, "starts-at", "start-at")
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept) == 1
    said = capsys.readouterr().out
    assert "working tree does not pass the check (" in said and f"without {COLD}" in said
    assert "signal: weakened" in said and "“Air the shed” (air-the-shed) → no such tree" in said


def test_json_is_one_document(kept, capsys):
    edit(kept, COLD, *REWORDED)
    assert run(kept, "--format", "json") == 0
    assert json.loads(capsys.readouterr().out)["text"][0]["detail"] == "why"


def test_html_stands_alone_and_shows_both_versions_in_one_picture(kept, capsys):
    edit(kept, COLD, "      unsure: catch-it", "      unsure: wait")
    edit(kept, COLD, "  air-it:\n", "  wait:\n    remedy: catch-the-drip\n    note: <Later> & again\n  air-it:\n")
    edit(kept, COLD, "question: Do drops", "question: Do any drops")
    assert run(kept, "--format", "html") == 0
    said = capsys.readouterr().out
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(said)
    assert not page.findall(".//script") and "://" not in said.replace("http://www.w3.org/", "")
    kinds = {kind for group in page.iter("{http://www.w3.org/2000/svg}g") for kind in group.get("class", "").split()}
    assert {"kept", "added", "removed", "changed", "yes", "no", "unsure"} <= kinds
    words = {"".join(each.itertext()) for each in page.iter("{http://www.w3.org/2000/svg}text")}
    assert {"ADDED wait", "CHANGED drops-inside", "unsure (added)", "unsure (removed)", "catch-it", "no"} <= words
    assert len(page.findall(".//figure")) == 1 and ET.tostring(page)
