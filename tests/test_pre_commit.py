"""The hook that proves the guide before a commit, run as pre-commit runs a local hook of the system.

That is: when a path to be committed is found by `files`, the words of `entry` run at the root of the repository,
and a commit goes on only after exit 0. The names of the paths are not passed on.
"""

import re
import shlex
import shutil
import subprocess
import sys

import pytest
import yaml
from guides import CLEAN, ROOT, edit

from build_tools.model import DATA_TABLES
from build_tools.sources.data_tables import table_path

CONFIGURATION = yaml.safe_load((ROOT / ".pre-commit-config.yaml").read_text(encoding="utf-8"))
HOOK = CONFIGURATION["repos"][0]["hooks"][0]


@pytest.fixture
def repository(good):
    """The good guide with the program and its set-up, as a clone has them."""
    shutil.copytree(ROOT / "build_tools", good / "build_tools", ignore=shutil.ignore_patterns("__pycache__"))
    (good / ".venv").symlink_to(sys.prefix)
    lay_data_tables(good)
    return good


def lay_data_tables(guide):
    """Give a guide the tables that the program's formulas reckon with; it has the sources of their rows already."""
    for name in DATA_TABLES:
        shutil.copy(ROOT / table_path(name), guide / table_path(name))


def commits(repository):
    return subprocess.run(shlex.split(HOOK["entry"]), cwd=repository, capture_output=True, text=True)


def test_configuration_names_no_other_place():
    assert [each["repo"] for each in CONFIGURATION["repos"]] == ["local"]
    assert (HOOK["language"], HOOK["pass_filenames"]) == ("system", False)


@pytest.mark.parametrize(
    ("path", "runs"),
    [
        ("trees/start-here.yaml", True),
        ("trees/tables/gates.yaml", True),
        ("guide/drawings/lap.svg", True),
        ("build_tools/proof/rules/safety.py", True),
        ("guide/index.md", False),
        ("tests/trees/good/cold-pane.yaml", False),
    ],
)
def test_hook_runs_where_a_check_can_change(path, runs):
    assert bool(re.search(HOOK["files"], path)) == runs


def test_good_guide_is_committed(repository):
    done = commits(repository)
    assert (done.returncode, done.stdout) == (0, f"{CLEAN}\n")


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("starts-at", "start-at", "unknown-key"),
        ("why: Drops on the inside", "why: Some drops on the inside", "version"),
    ],
    ids=["error", "warning"],
)
def test_slip_is_told_and_stops_the_commit(old, new, code, repository):
    edit(repository, "trees/cold-pane.yaml", old, new)
    done = commits(repository)
    assert done.returncode == 1 and f"Rule: {code}" in done.stdout and "trees/cold-pane.yaml:" in done.stdout
