"""What a review takes a version from: blobs as git holds them, and plain files alone, whatever a repository says."""

import json
import os

import pytest
from guides import edit, good_guide
from kept_in_git import git, keep, run

GATES = "trees/tables/gates.yaml"
COLD = "trees/cold-pane.yaml"
REWORDED = "why: Drops on the inside", "why: Such drops on the inside"
ODD = {
    "a tree": ("trees/far-shed.yaml", "../guide/index.md"),
    "a table": ("trees/tables/terms.yaml", "../../guide/terms.yaml"),
    "a chapter": ("guide/notes.txt", "/proc/self/environ"),
    "a folder of the guide": ("guide/pictures", "../trees"),
    "a formula": ("build_tools/formulas/more.py", "/tmp/more.py"),
    "a stated case": ("trees/cases/far.yaml", "../far.yaml"),
    "what holds the stated cases": ("trees/cases", "/tmp/cases"),
}
LINK = "this is a link, and no file or folder"


@pytest.fixture
def kept(good):
    return keep(good)


def commit(root):
    git(root, "add", "--force", "--all")
    git(root, "commit", "-q", "-m", "A change")


def refused(root, capsys, *arguments):
    assert run(root, *arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    return said.err


def lay_link(root, path, to):
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.unlink(missing_ok=True)
    file.symlink_to(to)


def test_attribute_hides_no_condition_of_a_gate(kept, capsys):
    """On writing out, git would put a newline for the mark, so that the condition after it came back to life."""
    held = (kept / GATES).read_text(encoding="utf-8")
    start = held.index("    - holds: Somebody holds the foot")
    condition = held[start : held.index("  ends-when:")]
    hidden = "".join(f"#$Format:%n${line}\n" for line in condition.splitlines())
    edit(kept, GATES, condition, hidden)
    (kept / ".gitattributes").write_text(f"{GATES} export-subst\n", encoding="utf-8")
    commit(kept)
    assert run(kept, "main~1", "main", "--format", "json") == 1
    (row,) = json.loads(capsys.readouterr().out)["safety"]
    assert (row["subject"], row["change"]) == ('gate "shed-ladder"', "removed")


def test_attribute_hides_no_tree(kept, capsys):
    secret = (kept / COLD).read_text(encoding="utf-8").replace("The pane is wet", "The secret pane is wet")
    (kept / "trees/secret-way.yaml").write_text(secret, encoding="utf-8")
    (kept / ".gitattributes").write_text("trees/secret-way.yaml export-ignore\n", encoding="utf-8")
    commit(kept)
    run(kept, "main~1", "main")
    assert "secret-way" in capsys.readouterr().out


@pytest.mark.parametrize(("path", "to"), ODD.values(), ids=ODD)
def test_link_is_refused_in_a_commit_and_in_a_folder(kept, capsys, path, to):
    lay_link(kept, path, to)
    sentence = f"cannot be reviewed: {path}: {LINK}. Put a plain file here, or take it out.\n"
    assert refused(kept, capsys) == f"working tree {sentence}"
    assert refused(kept, capsys, "main", str(kept)) == f"{kept} {sentence}"
    commit(kept)
    assert refused(kept, capsys, "main~1", "main") == f"main {sentence}"
    assert refused(kept, capsys, "main", "main~1") == f"main {sentence}"


def test_submodule_is_refused(kept, capsys):
    head = git(kept, "rev-parse", "HEAD")
    git(kept, "update-index", "--add", "--cacheinfo", f"160000,{head},guide/more")
    git(kept, "commit", "-q", "-m", "A submodule")
    assert "main cannot be reviewed: guide/more: this is a submodule, and no file" in refused(
        kept, capsys, "main~1", "main"
    )


def test_pipe_in_a_folder_is_refused_and_not_waited_for(kept, capsys):
    os.mkfifo(kept / "guide/pipe.txt")
    assert "guide/pipe.txt: this is a pipe, socket or device" in refused(kept, capsys)


@pytest.mark.parametrize(
    ("path", "content", "fault"),
    [
        ("build_tools/formulas/__pycache__/slope.pyc", b"0", "this is compiled code, which nobody can read"),
        ("build_tools/formulas/slope.so", b"0", "this is compiled code, which nobody can read"),
        ("trees/vast.yaml", b"#" * 1_000_001, "the file is larger than a megabyte"),
    ],
)
def test_what_cannot_be_read_is_refused_before_it_is(kept, capsys, path, content, fault):
    (kept / path).parent.mkdir(parents=True, exist_ok=True)
    (kept / path).write_bytes(content)
    commit(kept)
    assert refused(kept, capsys, "main~1", "main").startswith(f"main cannot be reviewed: {path}: {fault}.")


def test_large_picture_and_name_of_odd_bytes_stop_no_review(kept, capsys):
    (kept / "guide/large.png").write_bytes(b"0" * 1_000_001)
    (kept / os.fsdecode(b"guide/a\nb \xff.txt")).write_text("Words", encoding="utf-8")
    edit(kept, COLD, *REWORDED)
    commit(kept)
    assert run(kept, "main~1", "main") == 0
    assert "why: changed" in capsys.readouterr().out


def test_name_that_leads_out_of_the_folder_is_refused(kept, tmp_path, capsys):
    """Git makes no such entry itself, but holds and sends on one that somebody made."""
    blob = git(kept, "rev-parse", f"HEAD:{COLD}")
    entry = b"100644 ../../escaped.yaml\0" + bytes.fromhex(blob)
    (tmp_path / "entry").write_bytes(entry)
    inner = git(kept, "hash-object", "-t", "tree", "--literally", "-w", str(tmp_path / "entry"))
    (tmp_path / "top").write_bytes(b"40000 trees\0" + bytes.fromhex(inner))
    top = git(kept, "hash-object", "-t", "tree", "--literally", "-w", str(tmp_path / "top"))
    git(kept, "branch", "evil", git(kept, "commit-tree", "-m", "Evil", top))
    assert "no checkout could hold a file of this name" in refused(kept, capsys, "main", "evil")


def test_folder_of_the_name_of_a_revision_is_not_taken_for_it(kept, capsys):
    """Else whoever adds a folder `main` would choose what the change is held against."""
    good_guide(kept / "main")
    head = git(kept, "rev-parse", "main")
    said = refused(kept, capsys, "main")
    assert said == f'"main" is a git revision and a folder: write "./main" or "{head[:12]}".\n'
    assert run(kept, "./main", head[:12]) == 0


def test_replaced_commit_of_this_machine_is_not_what_is_reviewed(kept, capsys):
    edit(kept, COLD, *REWORDED)
    commit(kept)
    git(kept, "replace", "main", "main~1")
    assert run(kept, git(kept, "--no-replace-objects", "rev-parse", "main~1"), "main") == 0
    assert "why: changed" in capsys.readouterr().out
