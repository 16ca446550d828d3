"""`python -m build_tools review`: git revisions and folders, what is printed, and how it ends."""

import json
import xml.etree.ElementTree as ET

import html5lib
import pytest
from guides import edit, good_guide
from kept_in_git import git, keep, run

CAUTIONS = "trees/tables/cautions.yaml"
COLD = "trees/cold-pane.yaml"
LOWERED = "fall-from-ladder:\n  signal: warning", "fall-from-ladder:\n  signal: notice"
REWORDED = "why: Drops on the inside", "why: Such drops on the inside"


@pytest.fixture
def kept(good):
    """A guide in git, on its main branch."""
    return keep(good)


def test_working_tree_is_held_against_the_main_branch(kept, capsys):
    assert run(kept) == 0
    assert (
        capsys.readouterr().out
        == "Review: main → working tree\nNothing has changed in the trees, remedies and tables.\n"
    )
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept) == 1
    assert "(fall-from-ladder), signal: weakened" in capsys.readouterr().out


def test_two_revisions_are_read_from_git_and_not_from_the_folder(kept, capsys):
    edit(kept, COLD, *REWORDED)
    git(kept, "commit", "-q", "-a", "-m", "Other words")
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept, "main~1", "main") == 0
    said = capsys.readouterr().out
    assert "(cold-pane/drops-inside), why: changed" in said and "signal" not in said
    assert git(kept, "status", "--short") == f"M {CAUTIONS}"


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
    keep(tmp_path)
    edit(root, COLD, *REWORDED)
    assert run(root) == 0
    assert "drops-inside), why: changed" in capsys.readouterr().out


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


def test_version_that_cannot_be_read_is_refused_with_what_to_do(kept, capsys):
    edit(kept, COLD, "starts-at", "start-at")
    edit(kept, CAUTIONS, *LOWERED)
    assert run(kept) == 2
    said = (
        'working tree cannot be reviewed, for it cannot be read: trees/cold-pane.yaml, line 1: "starts-at" is missing, '
        "and 1 more. Mend it (`python -m build_tools check` tells how), or name another version.\n"
    )
    assert capsys.readouterr() == ("", said)
    git(kept, "commit", "-q", "-a", "-m", "Broken")
    assert run(kept, "HEAD", "HEAD~1") == 2
    assert capsys.readouterr().err.startswith("HEAD cannot be reviewed")


def test_version_that_breaks_a_rule_is_reviewed(kept, capsys):
    edit(kept, COLD, '{as: no, since: "Dry or not, a dish does no harm."}', "{then: nowhere}")
    assert run(kept) == 1
    assert "“Catch the drip” (catch-the-drip) → no step “nowhere”" in capsys.readouterr().out


def test_json_is_one_document(kept, capsys):
    edit(kept, COLD, *REWORDED)
    assert run(kept, "--format", "json") == 0
    assert json.loads(capsys.readouterr().out)["text"][0]["detail"] == "why"


def test_html_stands_alone_and_shows_both_versions_in_one_picture(kept, capsys):
    edit(kept, COLD, '{as: no, since: "Dry or not, a dish does no harm."}', "{then: wait}")
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
