"""Where the places of a review lead: each row to its own revision, and no link where nothing would be found."""

import html5lib
import pytest
from guides import edit
from kept_in_git import git, keep, run

from build_tools.review import PATTERN
from build_tools.review.record.changes import Review, Side, Spot
from build_tools.review.words.links import WrongLink, links
from build_tools.review.words.sentences import Placed

COLD = "trees/cold-pane.yaml"
REWORDED = "why: Drops on the inside", "why: >-\n      Such drops on the inside"


@pytest.fixture
def kept(good):
    """A guide in git with a second commit, in which a line moved down."""
    keep(good)
    edit(good, COLD, *REWORDED)
    edit(good, COLD, "title: ", "# A remark.\ntitle: ")
    git(good, "commit", "-q", "-a", "-m", "Other words")
    return good


def addresses(page):
    tree = html5lib.HTMLParser(namespaceHTMLElements=False).parse(page)
    return [each.get("href") for each in tree.iter("a")]


def test_each_side_leads_to_its_own_revision(kept, capsys):
    before, after = git(kept, "rev-parse", "HEAD~1"), git(kept, "rev-parse", "HEAD")
    assert run(kept, "HEAD~1", "HEAD", "--format", "markdown", "--link-to", PATTERN) == 0
    said = capsys.readouterr().out
    place = f"https://code.example/guide/blob/{after}/{COLD}#L27"
    assert (
        f"(was at [{COLD}:26](https://code.example/guide/blob/{before}/{COLD}#L26); now at [line 27]({place}))" in said
    )
    assert run(kept, "HEAD~1", "HEAD", "--format", "html", "--link-to", PATTERN) == 0
    assert addresses(capsys.readouterr().out) == [place.replace(after, before).replace("L27", "L26"), place]


def test_working_tree_leads_to_its_commit_only_while_nothing_in_it_differs(kept, capsys):
    after = git(kept, "rev-parse", "HEAD")
    (kept / "notes.txt").write_text("Not of the guide.", encoding="utf-8")
    assert run(kept, "HEAD~1", "--format", "markdown", "--link-to", PATTERN) == 0
    assert f"blob/{after}/{COLD}#L27" in capsys.readouterr().out
    edit(kept, COLD, "# A remark.\n", "")
    assert run(kept, "HEAD~1", "--format", "markdown", "--link-to", PATTERN) == 0
    assert "code.example" not in capsys.readouterr().out.replace(git(kept, "rev-parse", "HEAD~1"), "")


def test_without_a_pattern_only_what_stands_in_the_project_folder_is_linked(kept, capsys):
    assert run(kept, "HEAD~1", "--format", "markdown") == 0
    assert f"(was at {COLD}:26; now at [line 27]({COLD}#L27))" in capsys.readouterr().out
    assert run(kept, "HEAD~1", "HEAD", "--format", "html") == 0
    assert addresses(capsys.readouterr().out) == []


def test_folders_are_on_no_code_host(kept, tmp_path, capsys):
    git(kept, "worktree", "add", "-q", str(tmp_path / "before"), "HEAD~1")
    assert run(kept, str(tmp_path / "before"), "HEAD", "--format", "markdown", "--link-to", PATTERN) == 0
    said = capsys.readouterr().out
    assert said.count("](") == 1 and f"blob/{git(kept, 'rev-parse', 'HEAD')}" in said


def test_pattern_without_a_revision_is_of_the_newest(kept, capsys):
    assert run(kept, "HEAD~1", "HEAD", "--format", "markdown", "--link-to", "../{path}?line={line}") == 0
    said = capsys.readouterr().out
    assert f"[line 27](../{COLD}?line=27)" in said and said.count("](") == 1


def test_path_is_written_as_an_address():
    sides = {"before": Side(name="a", revision="1"), "after": Side(name="b", revision="2")}
    lead = links(Review.model_construct(**sides), PATTERN, in_project=False)
    spot = Spot(path="guide/drawings/a b(c){line}.svg", line=3)
    assert lead(Placed("at", "after", spot, "")) == (
        "https://code.example/guide/blob/2/guide/drawings/a%20b%28c%29%7Bline%7D.svg#L3"
    )


@pytest.mark.parametrize(
    ("pattern", "said"),
    [
        ("https://code.example/{commit}/{path}", "The link holds {commit}; it may hold {revision}, {path}, {line}"),
        ("https://code.example/{path", "The link holds {path; it may hold"),
        ("https://code.example/", "The link needs {path}, and no blanks or brackets"),
        ("https://code.example/a b/{path}", "The link needs {path}, and no blanks or brackets"),
    ],
)
def test_pattern_that_is_none_is_one_sentence(kept, capsys, pattern, said):
    assert run(kept, "HEAD~1", "--link-to", pattern) == 2
    out, told = capsys.readouterr()
    assert out == "" and told.startswith(said) and told.endswith(f"as in {PATTERN}\n")
    with pytest.raises(WrongLink):
        links(None, pattern, in_project=True)
