"""What is undone is made good: the last repair may sit at any light, so each kind has work that follows."""

from __future__ import annotations

import pytest
from guides import ROOT

from build_tools.library import read_library

DRAFT, _, _ = read_library(ROOT)
FOLLOWING = DRAFT.remedies["undo-the-last-repair"].followed_by


@pytest.mark.parametrize("light", DRAFT.vocabulary.light)
def test_what_follows_the_last_repair_has_work_for_each_light(light: str) -> None:
    assert [name for name in FOLLOWING if light in DRAFT.remedies[name].suits.light]
