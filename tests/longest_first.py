"""The order in which files of tests begin: each process takes one at a time, and none is to wait at the end."""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).parent
LONGEST = (
    *("browser/test_printed.py", "browser/test_paper.py", "test_workflow.py", "browser/test_walk.py"),
    *("test_writing_a_tree.py", "browser/test_walk_looks.py", "test_publish.py", "review/test_review_runs.py"),
)
"""By what `make costs` tells, and for tests in a browser by the clock."""
PLACES = {HERE / name: number for number, name in enumerate(LONGEST)}


def place(file: Path) -> int:
    """Give the place of a file: the longest first, and all others after them as they stand."""
    return PLACES.get(file, len(PLACES))
