"""A small sample of what `make mutate` does, so that the command cannot rot, and a proof that it can fail."""

from __future__ import annotations

import random
import signal
from collections import Counter
from collections.abc import Iterator

import mutate
import pytest
from mutations import KINDS

from build_tools.model.problems import Place, Problem
from build_tools.proof import checks

SEED, COUNT = 3, 200
SMALL = COUNT + 1
"""With so many between them, none but number 0 is made in the guide itself."""


@pytest.fixture(autouse=True)
def limited() -> Iterator[None]:
    before = signal.signal(signal.SIGPROF, mutate._too_long)
    yield
    signal.signal(signal.SIGPROF, before)


def test_sample_of_slips_is_told_with_a_place_and_without_a_traceback() -> None:
    outcomes = [mutate.outcome_of(SEED, number, SMALL) for number in range(COUNT)]
    assert [each for each in outcomes if each.what in mutate.BAD] == []
    whats = Counter(each.what for each in outcomes)
    assert whats["refused, this file blamed"] > COUNT / 2 and len(whats) > 4
    assert {each.kind for each in outcomes} == set(KINDS)
    assert f"{COUNT} slips, 1 of them in the guide itself." in mutate.table(outcomes)


def test_slip_follows_from_seed_and_number() -> None:
    assert mutate.outcome_of(SEED, 5, SMALL) == mutate.outcome_of(SEED, 5, SMALL)
    text = (mutate.ROOT / "tests/trees/good/trees/cold-pane.yaml").read_text(encoding="utf-8")
    for make in KINDS.values():
        assert make(random.Random(1), text) == make(random.Random(1), text)
        assert any(make(random.Random(number), text) != text for number in range(9))


@pytest.mark.parametrize(
    ("place", "what"),
    [(Place("trees/gone.yaml", 1, 1), "unplaced"), (Place("trees/cold-pane.yaml", 9999, 1), "unplaced")],
)
def test_error_without_a_place_is_seen(place: Place, what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    odd = Problem(place, "circle", "it goes round", "Mend it.")
    monkeypatch.setattr(mutate, "check", lambda *_: checks.Checked(None, (odd,), {}))
    assert mutate.outcome_of(SEED, 5, SMALL).what == what


def test_traceback_and_hang_are_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise KeyError("gone")

    def hangs(*_: object) -> None:
        while True:
            pass

    monkeypatch.setattr(mutate, "check", fails)
    assert mutate.outcome_of(SEED, 5, SMALL).what == "traceback"
    monkeypatch.setattr(mutate, "LONGEST_SECONDS", 0.05)
    monkeypatch.setattr(mutate, "check", hangs)
    assert mutate.outcome_of(SEED, 5, SMALL).what == "hang"


def test_spoilt_file_is_put_back() -> None:
    small = mutate.guide_of("small")
    before = {path: (small.root / path).read_bytes() for path in small.files}
    for number in range(1, 20):
        mutate.outcome_of(SEED, number, SMALL)
    assert {path: (small.root / path).read_bytes() for path in small.files} == before
