"""The hash of a tree with all it leads to, and the record of versions."""

import subprocess
import sys
from dataclasses import replace

import pytest
from guides import CLEAN, edit, record, report_of
from own_tables import FORMULAS

from build_tools.model import Versions
from build_tools.proof.versions import content_hash, current_versions, versions_text
from build_tools.sources.library import read_library, table_path

COLD = "trees/cold-pane.yaml"


def hashes(root):
    return {name: each.content for name, each in current_versions(read_library(root)[0]).items()}


def changed(root, path, old, new):
    """Edit a guide and name the trees whose hash is another."""
    before = hashes(root)
    edit(root, path, old, new)
    return {name for name, content in hashes(root).items() if content != before[name]}


@pytest.mark.parametrize(
    ("path", "old", "new", "trees"),
    [
        (COLD, "Wipe the pane with a finger.", "Wipe it.", {"cold-pane"}),
        ("trees/remedies/hang-the-tile-back.yaml", "title: Hang the tile back", "title: Hang it", {"potting-shed"}),
        ("trees/remedies/catch-the-drip.yaml", "  - a dish", "  - a pan", {"potting-shed", "cold-pane"}),
        ("trees/tables/gates.yaml", "Somebody holds the foot", "A person holds the foot", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "It moves.", "It sways.", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "The shed burns.", "It burns.", set()),
        (COLD, "version: 1.0.0", "version: 1.0.1", set()),
        (COLD, "revised: 2026-11-25", "revised: 2026-11-26", set()),
        (COLD, "Dry or not, a dish does no harm.", "Another reason.", {"cold-pane"}),
        (COLD, "starts-at:", "accept:\n  deep: It has to be.\nstarts-at:", set()),
        ("trees/tables/sources.yaml", "What practitioners do.", "What is done.", set()),
    ],
)
def test_hash_changes_for_what_a_reader_would_see(good, path, old, new, trees):
    assert changed(good, path, old, new) == trees


def test_hash_changes_with_a_formula_that_measures_or_sizes(good, monkeypatch):
    before = hashes(good)
    shifted = {**FORMULAS, "pitch": replace(FORMULAS["pitch"], title="Another")}
    monkeypatch.setattr("build_tools.sources.library.formulas_of", lambda _: shifted)
    assert hashes(good)["potting-shed"] != before["potting-shed"] and hashes(good)["cold-pane"] == before["cold-pane"]


def test_hash_changes_with_the_formula_of_a_material(good, monkeypatch):
    edit(good, "trees/remedies/catch-the-drip.yaml", "water-leaves", MATERIAL + "water-leaves")
    before = hashes(good)
    shifted = {**FORMULAS, "sheet-lap": replace(FORMULAS["sheet-lap"], title="Another")}
    monkeypatch.setattr("build_tools.sources.library.formulas_of", lambda _: shifted)
    assert {name for name, content in hashes(good).items() if content != before[name]} == set(before)


MATERIAL = "materials:\n  - item: a dish\n    quantity: One.\n    formula: sheet-lap\n"


def test_hash_does_not_hang_on_the_order_of_steps_and_keys(good):
    draft = read_library(good)[0]
    shed = draft.trees["potting-shed"]
    turned = shed.model_copy(update={"steps": dict(reversed(shed.steps.items()))})
    assert content_hash(draft, turned) == content_hash(draft, shed)


def test_hash_is_the_same_in_every_process(good):
    lines = "import sys; sys.path.insert(0, 'tests'); from pathlib import Path; from test_versions import hashes; "
    call = [sys.executable, "-c", lines + "print(hashes(Path(sys.argv[1])))", str(good)]
    seeds = ({"PYTHONHASHSEED": seed, "PYTHONPATH": "."} for seed in ("1", "2"))
    said = {subprocess.run(call, env=env, capture_output=True, text=True, check=True).stdout for env in seeds}
    assert said == {f"{hashes(good)}\n"}


def test_change_is_told_until_the_version_is_raised_and_recorded(good):
    edit(good, COLD, "Wipe the pane with a finger.", "Wipe it.")
    assert "changed since version 1.0.0 was recorded" in report_of(good)
    edit(good, COLD, "version: 1.0.0", "version: 1.1.0")
    assert "version 1.1.0 is not recorded yet" in report_of(good)
    record(good)
    assert report_of(good).strip() == CLEAN


def test_versions_text_is_read_back_as_it_was(good):
    versions = current_versions(read_library(good)[0])
    (good / table_path("versions")).write_text(versions_text(versions), encoding="utf-8")
    assert read_library(good)[0].versions == versions


def test_hash_of_digits_alone_is_read_back_as_text(good):
    (good / table_path("versions")).write_text(
        versions_text({"cold-pane": Versions(version="1.0.0", content="0123456789012345")}), encoding="utf-8"
    )
    assert read_library(good)[0].versions["cold-pane"].content == "0123456789012345"
