"""A guide kept in a git repository of its own, with the program beside it where its formulas are to be run."""

import shutil
import subprocess
from pathlib import Path

from guides import ROOT, good_guide

from build_tools.__main__ import main
from build_tools.model import DATA_TABLES
from build_tools.sources.library import table_path

PROGRAM = Path("build_tools")


def git(root, *arguments):
    named = ("-c", "user.name=A", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false")
    done = subprocess.run(["git", "-C", str(root), *named, *arguments], check=True, capture_output=True, text=True)
    return done.stdout.strip()


def keep(root):
    """Put a folder under git, all of it on the main branch."""
    git(root, "init", "-q", "-b", "main")
    git(root, "add", ".")
    git(root, "commit", "-q", "-m", "A guide")
    return root


def guide_with_program(root):
    """Make the good guide with this program and the tables that its formulas reckon with."""
    good_guide(root)
    shutil.copytree(ROOT / PROGRAM, root / PROGRAM, ignore=shutil.ignore_patterns("__pycache__"))
    for name in DATA_TABLES:
        shutil.copy(ROOT / table_path(name), root / table_path(name))
    return root


def run(root, *arguments):
    return main(["--root", str(root), "review", *arguments])
