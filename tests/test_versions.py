"""The hash of a tree with all it leads to, and the record of versions."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from guides import CLEAN, edit, record, report_of

import build_tools.versions
from build_tools.checks import check
from build_tools.formulas import FORMULAS
from build_tools.library import read_library, table_path
from build_tools.versions import content_hash, current_versions, versions_text

SHED, COLD = "trees/potting-shed.yaml", "trees/cold-pane.yaml"


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
        ("trees/remedies/hang-the-tile-back.yaml", "In line", "In line", set()),
        ("trees/remedies/hang-the-tile-back.yaml", "Hang the tile back", "Hang it back", {"potting-shed"}),
        ("trees/remedies/catch-the-drip.yaml", "a dish", "a pan", {"potting-shed", "cold-pane"}),
        ("trees/tables/gates.yaml", "It is dry and still.", "It is dry.", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "It moves.", "It sways.", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "The shed burns.", "It burns.", set()),
        (COLD, "version: 1.0.0", "version: 1.0.1", set()),
        (COLD, "revised: 2026-11-25", "revised: 2026-11-26", set()),
        (COLD, "Dry or not, a dish does no harm.", "Another reason.", set()),
        ("trees/tables/sources.yaml", "What practitioners do.", "What is done.", set()),
    ][:1]
    + [
        ("trees/remedies/hang-the-tile-back.yaml", "title: Hang the tile back", "title: Hang it", {"potting-shed"}),
        ("trees/remedies/catch-the-drip.yaml", "  - a dish", "  - a pan", {"potting-shed", "cold-pane"}),
        ("trees/tables/gates.yaml", "It is dry and still.", "It is dry.", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "It moves.", "It sways.", {"potting-shed"}),
        ("trees/tables/cautions.yaml", "The shed burns.", "It burns.", set()),
        (COLD, "version: 1.0.0", "version: 1.0.1", set()),
        (COLD, "revised: 2026-11-25", "revised: 2026-11-26", set()),
        (COLD, "Dry or not, a dish does no harm.", "Another reason.", set()),
        ("trees/tables/sources.yaml", "What practitioners do.", "What is done.", set()),
    ],
)
def test_hash_changes_for_what_a_reader_would_see(good, path, old, new, trees):
    assert changed(good, path, old, new) == trees
