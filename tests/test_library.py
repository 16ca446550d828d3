"""The folder trees/ as a draft: what is read, what is known by name, what is refused."""

import pytest
from guides import edit

from build_tools.sources.library import TABLES, read_library, table_path
from build_tools.sources.source import LARGEST_BYTES


def told(root):
    return [(each.code, each.place.path) for each in read_library(root)[2]]


def test_good_guide_is_read_whole(good):
    draft, sources, problems = read_library(good)
    assert problems == () and draft.unread == frozenset()
    assert list(draft.trees) == ["cold-pane", "potting-shed"]
    assert list(draft.remedies) == ["air-the-shed", "ask-the-neighbour", "catch-the-drip", "hang-the-tile-back"]
    assert draft.drawings == {"shed-section"} and draft.settings.first_tree == "potting-shed"
    assert {each.path for each in sources} == set(draft.files)
    assert all(getattr(draft, name) for name in TABLES)


def test_broken_tree_is_known_by_name_and_absent_as_a_record(good):
    edit(good, "trees/cold-pane.yaml", "starts-at", "start")
    draft = read_library(good)[0]
    assert "cold-pane" in draft.named["trees"] and "cold-pane" not in draft.trees
    assert draft.unread == {"trees"}


@pytest.mark.parametrize("name", [name for name in TABLES if name != "settings"])
def test_table_may_be_missing(good, name):
    (good / table_path(name)).unlink()
    draft, _, problems = read_library(good)
    assert problems == () and name not in draft.unread


@pytest.mark.parametrize("name", TABLES)
def test_broken_table_is_told_once_and_named(good, name):
    (good / table_path(name)).write_text("- one\n", encoding="utf-8")
    assert told(good) == [("wrong-value", table_path(name))]
    assert read_library(good)[0].unread == {name}


def test_empty_folder_is_no_guide(tmp_path):
    assert told(tmp_path) == told(tmp_path / "gone") == [("missing-file", "trees/tables/settings.yaml")]


@pytest.mark.parametrize(
    "path",
    ["trees/a.yml", "trees/remedies/a.txt", "trees/tables/tool.yaml", "trees/more/a.yaml", "trees/schema/a.json"],
)
def test_stranger_is_refused_in_every_folder(good, path):
    (good / path).parent.mkdir(exist_ok=True)
    (good / path).write_text("a: b\n", encoding="utf-8")
    assert told(good) == [("unexpected-file", path)]


def test_schema_belongs(good):
    (good / "trees/schema").mkdir()
    (good / "trees/schema/tree.schema.json").write_text("{}", encoding="utf-8")
    assert told(good) == []


def test_folder_in_the_place_of_a_file_is_told(good):
    (good / "trees/attic.yaml").mkdir()
    assert told(good) == [("not-text", "trees/attic.yaml")]


def test_link_to_nothing_is_told(good):
    (good / "trees/attic.yaml").symlink_to("gone.yaml")
    assert set(told(good)) == {("not-plain", "trees/attic.yaml")}


def test_largest_file_is_read_and_one_letter_more_is_not(good):
    file, text = good / table_path("terms"), (good / table_path("terms")).read_text(encoding="utf-8")
    file.write_text(text + "#" * (LARGEST_BYTES - len(text)), encoding="utf-8")
    assert told(good) == []
    file.write_text(text + "#" * (LARGEST_BYTES - len(text) + 1), encoding="utf-8")
    assert told(good) == [("not-text", table_path("terms"))]


def test_place_of_what_is_not_utf8_counts_letters(good):
    (good / table_path("terms")).write_bytes(b"\xef\xbb\xbfa: b\n\xc3\xa9: \xe9\n")
    (problem,) = read_library(good)[2]
    assert (problem.place.line, problem.place.column) == (2, 4)


@pytest.mark.parametrize(
    "path", ["trees/.DS_Store", "trees/._cold-pane.yaml", "trees/remedies/.a.yaml.swp", "trees/.x/a"]
)
def test_what_a_desktop_or_editor_hides_is_passed_over(good, path):
    before = read_library(good)[0]
    (good / path).parent.mkdir(exist_ok=True)
    (good / path).write_bytes(b"\x00\x01")
    assert told(good) == [] and read_library(good)[0] == before
