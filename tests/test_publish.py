"""The whole build from the shell: what it writes, and what it leaves alone when something is wrong."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from guides import edit

from build_tools.__main__ import main

ROOT = Path(__file__).parent.parent
COLD = "trees/cold-pane.yaml"


@pytest.fixture
def project(good: Path) -> Path:
    """The good guide with the site's templates and one chapter, so that it can be built."""
    shutil.copytree(ROOT / "site_overrides", good / "site_overrides")
    settings = (ROOT / "mkdocs.yml").read_text()
    nav = settings.rindex("nav:\n")
    (good / "mkdocs.yml").write_text(settings[:nav] + "nav:\n  - index.md\n")
    (good / "guide" / "index.md").write_text("# The shed\n\n[A walk](walk/potting-shed.html)\n")
    return good


def build(project: Path) -> int:
    return main(["--root", str(project), "build"])


def contents(folder: Path) -> dict[str, bytes]:
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def test_build_writes_every_page_and_says_where(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(project) == 0
    site = project / "site"
    wanted = ["index.html", "walk/potting-shed.html", "paper/cold-pane.html", "remedies/catch-the-drip.html", "sw.js"]
    assert [name for name in wanted if not (site / name).exists()] == []
    assert f"Open {site / 'index.html'} in a browser" in capsys.readouterr().out


def test_same_sources_give_the_same_bytes(project: Path) -> None:
    build(project)
    first = contents(project / "site")
    build(project)
    again = contents(project / "site")
    # MkDocs writes the day of the build into the sitemap, which the guide does not keep.
    assert [name for name in first if first[name] != again[name] and "sitemap" not in name] == []


def test_failed_check_leaves_the_last_site_whole(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(project)
    before = contents(project / "site")
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert contents(project / "site") == before
    assert "The site that was there is untouched." in capsys.readouterr().err


def test_fault_in_the_finished_site_leaves_the_last_one_whole(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    build(project)
    before = contents(project / "site")
    chapter = project / "guide" / "index.md"
    chapter.write_text(f'{chapter.read_text()}\n<a href="walk/nowhere.html">Lost</a>\n')
    assert build(project) == 1
    assert contents(project / "site") == before
    assert 'index.html: "walk/nowhere.html" leads to a file that does not exist' in capsys.readouterr().err


def test_first_build_that_fails_writes_nothing(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert not (project / "site").exists()
    assert "Nothing was written." in capsys.readouterr().err


def test_chapter_that_a_tree_would_overwrite_is_refused(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "guide" / "terms.md").write_text("# Mine\n")
    assert build(project) == 1
    assert "terms.md stands in guide/ and is generated from trees/ too; rename one." in capsys.readouterr().err
