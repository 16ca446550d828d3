"""The workflow that proves and reviews each pull request: its form, and what it does in a scratch repository.

The form is held to the JSON Schema of workflow files of the collection SchemaStore, vendored in tests/workflow.
What it does is seen with a `gh` that only notes what it is asked for.
"""

import hashlib
import json
import os
import re
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from guides import ROOT, good_guide, record, with_program, with_site
from jsonschema import Draft7Validator
from workflow_runner import Runner, read_workflow

FOLDER = Path(__file__).with_name("workflow")
SCHEMA = FOLDER / "github-workflows.json"
FILE = ROOT / ".github" / "workflows" / "review.yml"
WORKFLOW = read_workflow(FILE)
TREE = "trees/potting-shed.yaml"
HERE = "somebody/leak-guide"
GH = """#!/bin/sh
printf '%s\\n' "$@" > "$POSTED/asked"
cat "$(printf '%s' "$7")" > "$POSTED/body"
"""


def git(folder, *words):
    names = ("-c", "user.name=A", "-c", "user.email=a@example.org")
    return subprocess.run(["git", "-C", folder, *names, *words], check=True, capture_output=True, text=True).stdout


def change(folder, path, old, new):
    file = folder / path
    held = file.read_text(encoding="utf-8")
    assert old in held
    file.write_text(held.replace(old, new, 1), encoding="utf-8")


@pytest.fixture(scope="module")
def project(tmp_path_factory):
    """A repository of a small guide with this program, its versions recorded, on `main`."""
    folder = with_site(with_program(good_guide(tmp_path_factory.mktemp("host") / "project")))
    (folder / "README.md").write_text("# The shed\n", encoding="utf-8")
    record(folder)
    git(folder, "init", "-q", "-b", "main")
    git(folder, "add", "--all")
    git(folder, "commit", "-q", "-m", "The guide")
    return folder


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    """What was drawn once need not be drawn again for each merge."""
    return tmp_path_factory.mktemp("drawn")


@pytest.fixture
def request_of(project, drawn, tmp_path):
    """Give the means to run the workflow for a change, as the host does: on its merge with a main that moved on."""

    def runs(*edits, fork=False):
        merge, posted, place = (tmp_path / name for name in ("merge", "posted", "place"))
        subprocess.run(["git", "clone", "-q", project, merge], check=True, capture_output=True)
        git(merge, "switch", "-q", "-c", "proposed")
        for edit in edits:
            edit(merge)
        record(merge)
        git(merge, "commit", "-q", "-a", "--allow-empty", "-m", "A change")
        git(merge, "switch", "-q", "main")
        change(merge, "README.md", "# The shed", "# The garden shed")
        change(merge, TREE, "Look at the roof from the path.", "Look long at the roof from the path.")
        git(merge, "commit", "-q", "-a", "-m", "Main moves on")
        git(merge, "switch", "-q", "--detach", "main")
        git(merge, "merge", "-q", "--no-ff", "-X", "theirs", "-m", "Merge", "proposed")
        record(merge)
        git(merge, "commit", "-q", "-a", "--amend", "--no-edit", "--allow-empty")
        git(merge, "branch", "-D", "main")
        prepare(merge, posted, drawn)
        place.mkdir()
        runner = Runner(merge, environment(tmp_path, posted), github("stranger/leak-guide" if fork else HERE), place)
        return runner, runner.runs(WORKFLOW), posted

    return runs


def prepare(merge, posted, cache):
    """Put this project's set-up where the first step would make it, and a `gh` that only notes what it is asked."""
    (merge / ".venv").symlink_to(sys.prefix)
    (merge / ".cache").symlink_to(cache)
    tools = posted.parent / "tools"
    posted.mkdir()
    tools.mkdir()
    for name, script in (("gh", GH), ("make", '#!/bin/sh\necho "made $*"\n')):
        (tools / name).write_text(script)
        (tools / name).chmod(stat.S_IRWXU)


def environment(folder, posted):
    return {
        "PATH": f"{folder / 'tools'}{os.pathsep}{os.environ['PATH']}",
        "HOME": str(folder),
        "LANG": "C.UTF-8",
        "GITHUB_BASE_REF": "main",
        "GITHUB_REF_NAME": "7/merge",
        "GITHUB_SERVER_URL": "https://code.example",
        "GITHUB_REPOSITORY": HERE,
        "POSTED": str(posted),
    }


def github(head):
    return {
        "github.repository": HERE,
        "github.token": "a-token",
        "github.event.pull_request.number": "7",
        "github.event.pull_request.head.repo.full_name": head,
    }


def reword(folder):
    change(folder, TREE, "question: Does it drip only in rain?", "question: Does it drip on rainy days only?")


def drop_caution(folder):
    change(folder, TREE, "    hazards:\n      - wet-floor\n", "")


def misspell(folder):
    change(folder, TREE, "yes: plain-tiles\n", "yes: plain-tile\n")


def test_schema_is_the_one_that_was_vendored():
    said = re.search(r"SHA-256: ([0-9a-f]{64})", (FOLDER / "README.md").read_text(encoding="utf-8"))
    assert hashlib.sha256(SCHEMA.read_bytes()).hexdigest() == said[1]


def test_workflow_is_valid():
    validator = Draft7Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
    assert [f"{each.json_path}: {each.message}" for each in validator.iter_errors(WORKFLOW)] == []
    assert not validator.is_valid({**WORKFLOW, "jobs": {"prove": {"steps": []}}})


def test_no_job_may_do_more_than_it_needs():
    assert set(WORKFLOW["on"]) == {"pull_request"}, (
        "pull_request_target would give a stranger's code a token that writes"
    )
    assert WORKFLOW["permissions"] == {}
    rights = {name: job["permissions"] for name, job in WORKFLOW["jobs"].items()}
    assert rights == {"prove": {"contents": "read"}, "post": {"pull-requests": "write"}}
    used = {name: [step.get("uses", "") for step in job["steps"]] for name, job in WORKFLOW["jobs"].items()}
    assert not [each for each in used["post"] if "checkout" in each], "who may write runs nothing that was proposed"
    assert all(re.fullmatch(r"actions/[a-z-]+@v\d+", each) for uses in used.values() for each in uses if each)


def test_no_job_runs_for_hours():
    assert all(job["timeout-minutes"] <= 20 for job in WORKFLOW["jobs"].values())


def test_checkout_fetches_the_base_and_keeps_no_token():
    checkout = next(step for step in WORKFLOW["jobs"]["prove"]["steps"] if "checkout" in step.get("uses", ""))
    assert checkout["with"] == {"fetch-depth": 0, "persist-credentials": False}


def test_good_change_is_reviewed_in_one_comment(request_of):
    runner, jobs, posted = request_of(reword)
    assert {name: job.result for name, job in jobs.items()} == {"prove": "success", "post": "success"}, jobs
    assert "made .venv/site.stamp" in jobs["prove"].said
    asked = (posted / "asked").read_text().splitlines()
    assert asked == [
        *("pr", "comment", "7", "--edit-last", "--create-if-none"),
        "--body-file",
        "review/review.markdown",
    ]
    body = (posted / "body").read_text(encoding="utf-8")
    assert body.startswith("## Review: main → pull/7/merge\n")
    assert "on rainy days only" in body and "Look long" not in body, "only what the request itself changes"
    merge = git(runner.checkout, "rev-parse", "HEAD").strip()
    assert f"(https://code.example/{HERE}/blob/{merge}/{TREE}#L" in body
    assert body.endswith("[The same with both diagrams, as a page](https://code.example/artifacts/1)\n")
    assert body.startswith(runner.summary())
    page = (runner.place / "artifacts/review/review.html").read_text(encoding="utf-8")
    assert "on rainy days only" in page and "<svg" in page


def test_caution_that_fell_is_red_after_the_comment(request_of):
    _, jobs, posted = request_of(drop_caution)
    assert (jobs["prove"].result, jobs["post"].result) == ("success", "failure")
    assert list(jobs["post"].outcomes.values()) == ["success", "success", "failure"]
    assert "A second person has to look at each." in (posted / "body").read_text(encoding="utf-8")
    assert jobs["post"].said.startswith("::error title=review::")


@pytest.mark.parametrize(("edit", "result"), [(reword, "success"), (drop_caution, "failure")])
def test_fork_gets_its_review_in_the_summary(edit, result, request_of):
    runner, jobs, posted = request_of(edit, fork=True)
    assert not (posted / "asked").exists()
    assert (jobs["prove"].result, jobs["post"].result) == ("success", result)
    assert runner.summary().startswith("## Review: main")


def test_error_is_annotated_and_reviewed_all_the_same(request_of):
    _, jobs, posted = request_of(misspell)
    assert jobs["prove"].result == "failure"
    assert re.search(rf"::error file={TREE},line=\d+,col=\d+,title=unknown-step::", jobs["prove"].said)
    assert jobs["prove"].outcomes["Build"] == "skipped"
    assert (posted / "body").read_text(encoding="utf-8").startswith("## Review: main")


def test_review_that_cannot_be_made_is_no_good_review(request_of):
    def no_base(folder):
        """Take the program's review away, so that it ends as a program does that fails."""
        (folder / "build_tools/review/command.py").write_text("raise SystemExit(1)\n", encoding="utf-8")

    _, jobs, posted = request_of(no_base)
    assert jobs["prove"].result == "failure" and jobs["post"].result == "skipped"
    assert not (posted / "asked").exists()
