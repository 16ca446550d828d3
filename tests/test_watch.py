"""The preview's watch: what it tells of edits, and what it leaves out."""

from pathlib import Path
from threading import Thread

import pytest
from previews import LONG_SECONDS

from build_tools.preview.watch import Watch


@pytest.fixture
def watch(tmp_path: Path) -> Watch:
    """Watches a folder with one file, a folder that is not there yet, and a single file."""
    (tmp_path / "trees" / "tables").mkdir(parents=True)
    (tmp_path / "trees" / "shed.yaml").write_text("title: Shed\n")
    return Watch((tmp_path / "trees", tmp_path / "guide", tmp_path / "mkdocs.yml"))


def told(watch: Watch, *wanted: Path) -> set[Path]:
    """Wait until all of these are told; gives all that was told till then."""
    seen: set[Path] = set()

    def hear() -> None:
        while not seen.issuperset(wanted):
            seen.update(watch.wait())

    hearing = Thread(target=hear, daemon=True)
    hearing.start()
    hearing.join(LONG_SECONDS)
    assert seen.issuperset(wanted)
    return seen


def test_written_new_moved_and_deleted_files_are_told(watch: Watch, tmp_path: Path) -> None:
    shed, terms = tmp_path / "trees" / "shed.yaml", tmp_path / "trees" / "tables" / "terms.yaml"
    shed.write_text("title: The shed\n")
    assert told(watch, shed) == {shed}
    terms.write_text("sill: low\n")
    assert told(watch, terms) <= {shed, terms}
    shed.rename(shed.with_name("barn.yaml"))
    assert told(watch, shed, shed.with_name("barn.yaml"))
    terms.unlink()
    assert told(watch, terms)


def test_what_lies_beside_the_files_or_the_places_is_left_out(watch: Watch, tmp_path: Path) -> None:
    for name in (".shed.yaml.swp", "#shed.yaml#", "shed.yaml~", "__pycache__/shed.pyc", ".git/index"):
        file = tmp_path / "trees" / name
        file.parent.mkdir(exist_ok=True)
        file.write_text("x")
    (tmp_path / "notes.txt").touch()
    shed, settings = tmp_path / "trees" / "shed.yaml", tmp_path / "mkdocs.yml"
    assert shed.read_text() == "title: Shed\n", "reading changes nothing"
    for each in (shed, settings):
        each.write_text("title: The shed\n")
    assert told(watch, shed, settings) == {shed, settings}


def test_file_that_is_replaced_by_renaming_is_told(watch: Watch, tmp_path: Path) -> None:
    """As many editors write."""
    for path in ("mkdocs.yml", "trees/shed.yaml"):
        beside = (tmp_path / path).with_name(".new")
        beside.write_text("title: The shed\n")
        beside.rename(tmp_path / path)
        assert told(watch, tmp_path / path)


def test_folder_that_comes_later_and_anew_is_watched(watch: Watch, tmp_path: Path) -> None:
    guide = tmp_path / "guide"
    for _ in range(2):
        guide.mkdir()
        assert told(watch, guide)
        (guide / "index.md").write_text("# Shed\n")
        assert told(watch, guide / "index.md")
        (guide / "index.md").unlink()
        guide.rmdir()
        assert told(watch, guide)


def test_folder_that_is_moved_in_is_watched_with_all_in_it(watch: Watch, tmp_path: Path) -> None:
    (tmp_path / "more" / "remedies").mkdir(parents=True)
    (tmp_path / "more" / "remedies" / "dry.yaml").write_text("title: Dry\n")
    (tmp_path / "more" / "remedies").rename(tmp_path / "trees" / "remedies")
    dry = tmp_path / "trees" / "remedies" / "dry.yaml"
    assert told(watch, dry.parent)
    dry.write_text("title: Dry it\n")
    assert told(watch, dry)
