"""The workflow that judges each pull request: its form, and what it does in a scratch repository.

The form is held to the JSON Schema of workflow files of the collection SchemaStore, vendored in tests/workflow.
What it does is seen on the smallest guide, with a `gh` that keeps comments in a file. With THOROUGH=1 the guide
itself is reviewed in the same way.
"""

import hashlib
import json
import os
import re
import shutil
import stat
import subprocess
import sys
from collections import namedtuple
from pathlib import Path

import pytest
from guides import ROOT, good_guide, record, turn_round, with_program, with_site
from jsonschema import Draft7Validator
from made_values import tried
from workflow_runner import ADDRESS, Runner, read_workflow

FOLDER = Path(__file__).with_name("workflow")
SCHEMA = FOLDER / "github-workflows.json"
FILE = ROOT / ".github" / "workflows" / "review.yml"
WORKFLOW = read_workflow(FILE)
SCRIPTS = ROOT / ".github" / "scripts"
TREE = "trees/potting-shed.yaml"
COLD = "trees/cold-pane.yaml"
HERE = "somebody/leak-guide"
JUDGED = ("judge", "post")
"""The jobs in which nothing runs that was proposed."""
STORY = """title: A wet pane in a dry week
facts: The pane is wet, and no rain has fallen.
tree: cold-pane
answers:
  - drops-inside: yes
ends-in: air-the-shed
"""
GH = FOLDER / "gh"
MAKE = """#!/bin/sh
echo "made $*"
[ -z "$MAKE_FAILS" ] || exit 2
[ -e .venv ] || ln -s "$PREFIX" .venv
[ -e .cache ] || ln -s "$DRAWN" .cache
"""
OTHERS = [
    {"id": 1, "user": {"login": "somebody"}, "body": "<!-- The review of the guide: one comment, written anew …"},
    {"id": 2, "user": {"login": "github-actions[bot]"}, "body": "Of another workflow."},
]
Went = namedtuple("Went", "jobs comments summary place head base merge")
"""How a request went: its jobs, all comments on it, the summary, the jobs' folders, and the three commits."""


def git(folder, *words):
    names = ("-c", "user.name=A", "-c", "user.email=a@example.org")
    done = subprocess.run(["git", "-C", folder, *names, *words], check=True, capture_output=True, text=True)
    return done.stdout.strip()


def change(folder, path, old, new):
    file = folder / path
    held = file.read_text(encoding="utf-8")
    assert old in held
    file.write_text(held.replace(old, new, 1), encoding="utf-8")


def on_main(folder):
    git(folder, "init", "-q", "-b", "main")
    git(folder, "add", "--all")
    git(folder, "commit", "-q", "-m", "The guide")
    return folder


@pytest.fixture(scope="module")
def project(tmp_path_factory):
    """A repository of a small guide with this program, its versions recorded, on `main`."""
    folder = with_site(with_program(good_guide(tmp_path_factory.mktemp("host") / "project")))
    shutil.copytree(ROOT / ".github", folder / ".github")
    (folder / "README.md").write_text("# The shed\n", encoding="utf-8")
    (folder / "trees/cases").mkdir(parents=True)
    (folder / "trees/cases/wet-pane.yaml").write_text(STORY, encoding="utf-8")
    record(folder)
    return on_main(folder)


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    """What was drawn once need not be drawn again for each merge."""
    return tmp_path_factory.mktemp("drawn")


@pytest.fixture(scope="module")
def host(tmp_path_factory, drawn):
    """Give the means to run the workflow for a change, as the host does: on its merge with a main that moved on."""

    def runs(project, *edits, fork=False, only=JUDGED, comments=OTHERS, **environment):
        place = tmp_path_factory.mktemp("request")
        merge, head, base = merged(project, place / "merge", edits)
        (place / "comments.json").write_text(json.dumps(comments), encoding="utf-8")
        known = environment_of(place, drawn) | environment
        runner = Runner(merge, known, github("stranger/leak-guide" if fork else HERE, head, base), place / "jobs")
        jobs = runner.runs(WORKFLOW, only)
        posted = json.loads((place / "comments.json").read_text(encoding="utf-8"))
        return Went(jobs, posted, runner.summary(), runner.place, head, base, git(merge, "rev-parse", "HEAD"))

    return runs


def merged(project, merge, edits):
    """Make a request and merge it with a main that moved on. Gives the repository, and the commits of both."""
    subprocess.run(["git", "clone", "-q", project, merge], check=True, capture_output=True)
    git(merge, "switch", "-q", "-c", "proposed")
    for edit in edits:
        edit(merge)
    record(merge)
    git(merge, "add", "--all")
    git(merge, "commit", "-q", "--allow-empty", "-m", "A change")
    git(merge, "switch", "-q", "main")
    change(merge, "README.md", "#", "# Of the garden:")
    git(merge, "commit", "-q", "-a", "-m", "Main moves on")
    git(merge, "switch", "-q", "--detach", "main")
    git(merge, "merge", "-q", "--no-ff", "-m", "Merge", "proposed")
    commits = [git(merge, "rev-parse", each) for each in ("proposed", "main")]
    git(merge, "branch", "-D", "main")
    return merge, *commits


def environment_of(place, drawn):
    """Put a `gh` that keeps comments, and what stands for set-up, on the path."""
    tools = place / "tools"
    tools.mkdir()
    shutil.copy(GH, tools / "gh")
    for name, script in (("make", MAKE), ("sudo", '#!/bin/sh\necho "as root: $*"\n')):
        (tools / name).write_text(script)
        (tools / name).chmod(stat.S_IRWXU)
    return {
        "PATH": os.pathsep.join((str(tools), str(Path(sys.prefix) / "bin"), os.environ["PATH"])),
        "HOME": str(place),
        "LANG": "C.UTF-8",
        "PREFIX": sys.prefix,
        "DRAWN": str(drawn),
        "GITHUB_BASE_REF": "main",
        "GITHUB_REF_NAME": "7/merge",
        "GITHUB_SERVER_URL": "https://code.example",
        "GITHUB_REPOSITORY": HERE,
        "COMMENTS": str(place / "comments.json"),
    }


def github(owner, head, base):
    return {
        "github.repository": HERE,
        "github.server_url": "https://code.example",
        "github.run_id": "99",
        "github.token": "a-token",
        "github.event.pull_request.number": "7",
        "github.event.pull_request.head.repo.full_name": owner,
        "github.event.pull_request.head.sha": head,
        "github.event.pull_request.base.sha": base,
    }


def reword(folder):
    change(folder, TREE, "question: Does it drip only in rain?", "question: Does it drip on rainy days only?")


def drop_caution(folder):
    change(folder, TREE, "        hazards: [wet-floor]\n", "")


def lead_elsewhere(folder):
    turn_round(folder, COLD)


def blind_the_review(folder):
    """Let the program find nothing grave, and leave a trace of where it runs."""
    change(folder, "build_tools/review/record/changes.py", "return self.grave or bool(self.unagreed)", "return False")
    with (folder / "build_tools/review/record/changes.py").open("a", encoding="utf-8") as program:
        program.write("\n\nReview.is_red = property(lambda review: False)\nprint('I ran')\n")


def misname(folder):
    change(folder, COLD, "starts-at", "start-at")


@pytest.fixture(scope="module")
def plain(project, host):
    """A harmless request, with all jobs."""
    return host(project, reword, only=())


@pytest.fixture(scope="module")
def strangers(project, host):
    """A fork's request that leads an answer elsewhere and drops a caution."""
    return host(project, lead_elsewhere, drop_caution, fork=True)


@pytest.fixture(scope="module")
def cunning(project, host):
    """A request that drops a caution, and changes the program so that it finds nothing grave in that."""
    return host(project, drop_caution, blind_the_review)


@pytest.fixture(scope="module")
def unreadable(project, host, plain):
    """A push that no review can read, after a good one."""
    return host(project, misname, comments=plain.comments)


def outcomes(went):
    return {name: job.result for name, job in went.jobs.items()}


def the_comment(went):
    """Give the one comment that is neither of the others'."""
    assert went.comments[:2] == OTHERS, "what others wrote stays as it is"
    (own,) = went.comments[2:]
    return own["body"]


def test_schema_is_the_one_that_was_vendored():
    said = re.search(r"SHA-256: ([0-9a-f]{64})", (FOLDER / "README.md").read_text(encoding="utf-8"))
    assert hashlib.sha256(SCHEMA.read_bytes()).hexdigest() == said[1]


def test_workflow_is_valid():
    validator = Draft7Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
    assert [f"{each.json_path}: {each.message}" for each in validator.iter_errors(WORKFLOW)] == []
    assert not validator.is_valid({**WORKFLOW, "jobs": {"judge": {"steps": []}}})


def test_no_job_may_do_more_than_it_needs():
    assert set(WORKFLOW["on"]) == {"pull_request"}, (
        "pull_request_target would give a stranger's code a token that writes"
    )
    assert WORKFLOW["permissions"] == {}
    rights = {name: job["permissions"] for name, job in WORKFLOW["jobs"].items()}
    read = {"contents": "read"}
    assert rights == {"judge": read, "post": {**read, "pull-requests": "write"}, "run": read}
    checkouts = {name: [s["with"] for s in job["steps"] if "checkout" in s.get("uses", "")] for name, job in JOBS}
    assert all(each["persist-credentials"] is False for given in checkouts.values() for each in given)
    assert [each["ref"] for each in checkouts["post"]] == ["${{ github.event.pull_request.base.sha }}"], (
        "who may write runs nothing that was proposed"
    )
    # What is judged stands before what runs, so no proposed code has been on a machine of the first two jobs.
    assert [name for name, job in JOBS if "judge" in job.get("needs", "")] == ["post", "run"]


JOBS = tuple(WORKFLOW["jobs"].items())


def test_every_action_is_named_by_its_commit():
    used = re.findall(r"uses: (.*)", FILE.read_text(encoding="utf-8"))
    assert len(used) > 5
    assert all(re.fullmatch(r"actions/[a-z-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+", each) for each in used), used


def test_no_job_runs_for_hours():
    assert all(job["timeout-minutes"] <= 60 for job in WORKFLOW["jobs"].values())


def test_nothing_is_kept_between_requests():
    assert not [step for _, job in JOBS for step in job["steps"] if "cache" in step.get("with", {})]


def test_good_request_is_judged_run_and_posted(plain):
    assert outcomes(plain) == {"judge": "success", "post": "success", "run": "success"}, plain.jobs
    body = the_comment(plain)
    lines = body.splitlines()
    assert lines[1] == f"Commit `{plain.head}`, as merged with `main` at `{plain.base}`."
    assert lines[3] == "## Review: main → pull/7/merge"
    assert "on rainy days only" in body and "Of the garden" not in body, "only what the request itself changes"
    assert f"(https://code.example/{HERE}/blob/{plain.merge}/{TREE}#L" in body
    assert body.endswith(f"[The same with both diagrams, as a page]({ADDRESS})\n")
    assert plain.summary in body and "The request changes the program" not in body
    page = (plain.place / "artifacts/review/review.html").read_text(encoding="utf-8")
    assert "on rainy days only" in page and "<svg" in page


def test_proposed_program_is_checked_built_and_tested_by_itself(plain):
    said = plain.jobs["run"].said
    for words in ("made .venv/test.stamp", "No errors, no warnings.", "pages, checked and built", "made test"):
        assert words in said
    assert "Review: HEAD^1 → HEAD" in said


def test_fork_gets_its_review_in_the_summary(strangers):
    assert strangers.comments == OTHERS, "a fork's token may not write"
    assert strangers.summary.splitlines()[2] == "## Review: main → pull/7/merge"
    assert "removed" in strangers.summary
    assert strangers.jobs["post"].result == "failure"
    assert "::error title=review::" in strangers.jobs["post"].said


def test_stated_case_that_ends_elsewhere_is_red_and_the_review_is_made_all_the_same(strangers):
    judge = strangers.jobs["judge"]
    assert (judge.outcomes["Check"], judge.outcomes["Stated cases"]) == ("failure", "failure")
    assert "wet-pane.yaml" in judge.said and "air-the-shed" in judge.said
    assert judge.outcomes["Review"] == "success"


def test_program_of_the_base_judges_who_changes_the_program(cunning):
    """The proposed program would end with 0; what is posted comes from the one that it wants to replace."""
    assert outcomes(cunning) == {"judge": "success", "post": "failure"}
    body = the_comment(cunning)
    assert "> **The request changes the program that judges it: build_tools." in body
    assert "removed" in body
    assert body.count("Formulas were not run: ") == 1
    assert "warnings are told here and do not count" in cunning.jobs["judge"].said
    assert "I ran" not in cunning.jobs["judge"].said + cunning.jobs["post"].said + body


def test_what_cannot_be_read_replaces_the_comment_of_the_push_before(unreadable, plain):
    assert outcomes(unreadable) == {"judge": "failure", "post": "success"}
    judge = unreadable.jobs["judge"]
    assert re.search(rf"::error file={COLD},line=\d+,col=\d+,title=missing-key::", judge.said), judge.said
    body = the_comment(unreadable)
    assert body != the_comment(plain)
    assert f"Commit `{unreadable.head}`, as merged" in body and "## Not reviewed\n" in body
    assert "    pull/7/merge cannot be reviewed, for it cannot be read: trees/cold-pane.yaml" in body
    assert "on rainy days only" not in body and "as a page" not in body


def test_review_that_was_never_begun_is_told_in_the_comment(project, host, plain):
    went = host(project, reword, comments=plain.comments, MAKE_FAILS="yes")
    assert outcomes(went) == {"judge": "failure", "post": "success"}
    assert the_comment(went).splitlines()[1:] == [
        f"Commit `{went.head}`.",
        "",
        "## Not reviewed",
        "",
        "The review of this commit could not be made, so nothing is known of it: "
        f"[what happened](https://code.example/{HERE}/actions/runs/99)",
    ]


FAILING = {
    "it crashes": "echo '## All is well' >&2; exit 1",
    "it is killed": "echo '## All is well' >&2; kill -9 $$",
    "it says nothing": "echo '## All is well' >&2",
    "it crashes halfway": "echo '## Review'; echo '## All is well' >&2; exit 70",
}


@pytest.mark.parametrize("program", FAILING.values(), ids=FAILING)
def test_program_that_fails_makes_no_review(tmp_path, program):
    """What it wrote is shown as code, for it can hold what others have written."""
    (tmp_path / ".venv/bin").mkdir(parents=True)
    python = tmp_path / ".venv/bin/python"
    python.write_text(f"#!/bin/sh\n{program}\n", encoding="utf-8")
    python.chmod(stat.S_IRWXU)
    git(on_main(tmp_path), "switch", "-q", "--detach")
    files = {"GITHUB_OUTPUT": str(tmp_path / "given"), "GITHUB_STEP_SUMMARY": str(tmp_path / "summary")}
    known = {**os.environ, **environment_of(tmp_path, tmp_path), **files, "DIFFERS": "", "HEAD_SHA": "0123abc"}
    head = git(tmp_path, "rev-parse", "HEAD")
    done = subprocess.run([SCRIPTS / "review.sh", head], cwd=tmp_path, env=known, capture_output=True)
    assert done.returncode == 1
    assert (tmp_path / "given").read_text(encoding="utf-8") == "told=refusal\n"
    told = (tmp_path / "review/review.markdown").read_text(encoding="utf-8")
    assert [line for line in told.splitlines() if "##" in line] == ["## Not reviewed", "    ## All is well"]
    assert "Commit `0123abc`" in told and (tmp_path / "summary").read_text(encoding="utf-8") == told


@pytest.mark.skipif(not shutil.which("jq"), reason="there is no jq to ask")
def test_own_comment_is_found_by_its_mark_and_its_author(plain):
    """`gh` takes what jq takes; the one of these tests only knows what this query means."""
    script = (SCRIPTS / "post.sh").read_text(encoding="utf-8")
    marker = re.search(r"^marker='(.*)'$", script, re.M)[1]
    query = re.search(r'^own="(.*)"$', script, re.M)[1].replace('\\"', '"').replace("$marker", marker)
    copied = {"id": 3, "user": {"login": "somebody"}, "body": plain.comments[2]["body"]}
    asked = json.dumps([*OTHERS, copied, *plain.comments[2:]])
    done = subprocess.run(["jq", query], input=asked, check=True, capture_output=True, text=True)
    assert done.stdout.split() == [str(plain.comments[2]["id"])]


def laid_out(project, folder, edit):
    """Lay a request out in a checkout of its base, and give that and what it says of the request."""
    merge, _, _ = merged(project, folder / "merge", [edit])
    (merge / ".git/info/attributes").unlink(missing_ok=True)
    git(merge, "worktree", "add", "--quiet", "--detach", folder / "base", "HEAD^1")
    said = {**os.environ, "GITHUB_OUTPUT": str(folder / "said")}
    head = git(merge, "rev-parse", "HEAD")
    subprocess.run([SCRIPTS / "lay_out.sh", head], cwd=folder / "base", env=said, check=True, capture_output=True)
    return folder / "base", (folder / "said").read_text(encoding="utf-8")


def test_attributes_of_a_request_change_nothing_that_is_judged(project, tmp_path):
    def attributed(folder):
        """Let git write a name into a comment on writing out, and all letters in another encoding."""
        (folder / ".git/info/attributes").write_text("* !ident !working-tree-encoding\n", encoding="utf-8")
        (folder / "trees/.gitattributes").write_text("*.yaml ident working-tree-encoding=UTF-16\n", encoding="utf-8")
        (folder / COLD).write_text((folder / COLD).read_text(encoding="utf-8") + "# $Id$\n", encoding="utf-8")

    base, said = laid_out(project, tmp_path, attributed)
    assert said == "differs=.gitattributes\n"
    assert (base / COLD).read_text(encoding="utf-8").endswith("\n# $Id$\n")


def test_nothing_that_runs_is_laid_out(project, tmp_path):
    def add_code(folder):
        for path in ("yaml.py", "build_tools/more.py", "tests/more.py", ".github/scripts/check.sh", "Makefile"):
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_text("exit(1)\n", encoding="utf-8")
        (folder / "trees/cases/wet-pane.yaml").unlink()
        (folder / "guide/more.md").write_text("# More\n", encoding="utf-8")

    base, said = laid_out(project, tmp_path, add_code)
    assert said == "differs=build_tools .github Makefile\n"
    assert not [path for path in ("yaml.py", "build_tools/more.py", "tests", "Makefile") if (base / path).exists()]
    assert (base / ".github/scripts/check.sh").read_bytes() == (SCRIPTS / "check.sh").read_bytes()
    assert (base / "guide/more.md").exists()


@pytest.mark.skipif(tried(0, 1) == 0, reason="the guide itself is reviewed with THOROUGH=1")
def test_whole_guide_is_judged(tmp_path, host):
    folder = tmp_path / "guide"
    for name in ("trees", "guide", "build_tools", "site_overrides", ".github"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("mkdocs.yml", "LICENSE", "README.md"):
        shutil.copy(ROOT / name, folder)
    went = host(
        on_main(folder), lambda root: change(root, "trees/soakers.yaml", "about: >-", "about: >-\n  Some words.")
    )
    assert outcomes(went) == {"judge": "success", "post": "success"}, went.jobs
    assert "Some words." in the_comment(went)
