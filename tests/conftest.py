"""What all tests share: a good guide to break, and examples that are the same on every run."""

from __future__ import annotations

import fcntl
import os
from pathlib import Path

import pytest
from guides import ROOT, checked_whole, good_guide, the_checked, the_guide
from hypothesis import HealthCheck, settings
from longest_first import place
from made_values import tried

from build_tools.guide.views import GuideView
from build_tools.proof.checks import check
from build_tools.site.publish import publish

# How fast examples are made says something of the machine, and nothing of the program.
settings.register_profile(
    "steady",
    deadline=None,
    derandomize=True,
    database=None,
    max_examples=tried(40, 400),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("steady")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest files first, and leave all else as it stands."""
    items.sort(key=lambda item: place(item.path))


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-expected", action="store_true", help="rewrite tests/trees/broken/*.expected.txt, to be read as a diff"
    )


@pytest.fixture
def good(tmp_path: Path) -> Path:
    """A copy of the good guide, its versions recorded."""
    return good_guide(tmp_path / "guide")


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the whole site once for all processes of a run, as `make site` does; nobody writes in it."""
    run = tmp_path_factory.getbasetemp()
    run = run.parent if os.environ.get("PYTEST_XDIST_WORKER") else run
    out = run / "built" / "site"
    with (run / "built.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        # A build puts its site there whole, by one renaming, so a site that is there is finished.
        if not out.exists():
            publish(ROOT, the_checked(), out)
    return out


@pytest.fixture
def proved_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let commands take the guide itself as it was proved for all tests."""
    monkeypatch.setattr(
        "build_tools.proof.checks.check", lambda root: checked_whole() if root.resolve() == ROOT else check(root)
    )


@pytest.fixture(scope="session")
def guide() -> GuideView:
    """The guide itself, proved, as its pages show it."""
    return the_guide()
