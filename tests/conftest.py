"""What all tests share: a good guide to break, and examples that are the same on every run."""

from __future__ import annotations

from pathlib import Path

import pytest
from guides import ROOT, good_guide, the_checked, the_guide
from hypothesis import HealthCheck, settings

from build_tools.publish import publish
from build_tools.views import GuideView

# How fast examples are made says something of the machine, and nothing of the program.
settings.register_profile(
    "steady", deadline=None, derandomize=True, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")


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
    """Build the whole site once, as `make site` does."""
    out = tmp_path_factory.mktemp("built") / "site"
    publish(ROOT, the_checked(), out)
    return out


@pytest.fixture(scope="session")
def guide() -> GuideView:
    """The guide itself, proved, as its pages show it."""
    return the_guide()
