"""`walk` and `calc` from the shell: the same data as the page, no traceback for a slip."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from build_tools.__main__ import main
from build_tools.guide.words import SCOPE


def run(root: Path, *words: str) -> int:
    return main(["--root", str(root), *words])


def test_walk_gives_the_way_and_its_end(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(good, "walk", "potting-shed", "--answers", "yes,yes,within,yes,yes") == 0
    assert capsys.readouterr().out.splitlines()[-2:] == ["Ends in: Hang the tile back", SCOPE]


def test_walk_as_json_has_every_step_with_its_answer(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(good, "walk", "potting-shed", "--answers", "yes,no", "--format", "json") == 0
    found = json.loads(capsys.readouterr().out)
    assert [(each["step"], each["answer"]) for each in found["steps"]][:2] == [
        ("drip-in-rain", "yes"),
        ("plain-tiles", "no"),
    ]
    assert found["ended"] is True
    assert found["scope"] == SCOPE


@pytest.mark.parametrize(
    "words",
    [("calc", "pitch", "rise_mm=312"), ("take-off", "back-gutter-at-the-head", "width_mm=1600")],
    ids=["calc", "take-off"],
)
def test_what_is_reckoned_says_where_its_numbers_hold(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*words]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == SCOPE


def test_walk_that_waits_says_so(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(good, "walk", "potting-shed", "--answers", "yes") == 0
    assert capsys.readouterr().out.splitlines()[-2] == "Waits for an answer: Do plain tiles cover the roof?"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["walk", "poting-shed"], 'Did you mean "potting-shed"?'),
        (["walk", "potting-shed", "--answers", "maybe"], '"maybe" is not an answer to "Does it drip only in rain?"'),
        (["walk", "potting-shed", "--answers", "yes,no,yes"], "with 1 answer left over"),
        (["calc", "pich"], 'Did you mean "pitch"?'),
        (["calc", "pitch", "rise_mm=abc"], "rise_mm"),
    ],
)
def test_slip_is_told_in_one_line(good: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str) -> None:
    assert run(good, *words) == 2
    assert said in capsys.readouterr().err


def test_walk_asks_in_the_terminal_until_the_end(
    good: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = iter(["y", "perhaps", "no"])
    monkeypatch.setattr("builtins.input", lambda _: next(typed))
    assert run(good, "walk", "potting-shed") == 0
    shown = capsys.readouterr().out
    assert "Type one of: yes, no, unsure." in shown
    assert "Ends in: Catch the drip" in shown


def test_walk_of_broken_sources_is_refused(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tree = good / "trees" / "potting-shed.yaml"
    tree.write_text(tree.read_text().replace("then: steep-enough", "then: steep-enuf"))
    assert run(good, "walk", "potting-shed") == 1
    assert "run `python -m build_tools check`" in capsys.readouterr().err


def test_calc_lists_explains_and_reckons(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert [run(good, "calc"), run(good, "calc", "sheet-lap"), run(good, "calc", "sheet-lap", "pitch_deg=15")] == [
        0,
        0,
        0,
    ]
    shown = capsys.readouterr().out
    assert "dew-point" in shown
    assert "290 mm" in shown


def test_calc_as_json_has_the_contract_keys(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(good, "calc", "sheet-lap", "pitch_deg=15", "measured_lap_mm=300", "--format", "json")
    found = json.loads(capsys.readouterr().out)
    assert list(found) == ["name", "inputs", "outputs", "verdict", "working", "sources"]
    assert (found["outputs"]["lap_mm"], found["verdict"]) == (290, "enough")


def typed(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    left = iter(lines)
    monkeypatch.setattr("builtins.input", lambda _: next(left))


def test_walk_takes_the_numbers_that_decide(
    good: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = ("rise_mm=abc", "rise_mm=312", "rise=312", "within=")
    typed(monkeypatch, "yes", "yes", *wrong, "rise_mm=312 least_pitch_deg=15", "no")
    assert run(good, "walk", "potting-shed") == 0
    shown = capsys.readouterr().out
    assert "“abc” is not a number" in shown
    assert "That decides nothing yet. Give least_pitch_deg too." in shown
    assert 'Did you mean "rise_mm"?' in shown
    # 1000 mm is given by the step; arctan 0.312 is 17.33°, which is more than two degrees above 15.
    assert "The angle with this tangent is 17.33°" in shown and "So: within." in shown
    assert "potting-shed/steep-enough: Is the roof steep enough for its tiles?  -> within" in shown


def test_walk_shows_each_caution_before_what_it_guards(
    good: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    typed(monkeypatch, "yes", "yes", "within", "yes", "yes")
    assert run(good, "walk", "potting-shed") == 0
    shown = capsys.readouterr().out
    order = [
        "CAUTION. Wet floor.",
        "1. Does it drip only in rain?",
        "WARNING. Fall from the ladder.",
        "4. Going up the ladder at the shed",
        "[ ] It is dry and still. The smoke of the next chimney rises straight.",
        "If not: Stay on the ground and catch the drip.",
        "Fall from the ladder: keep to what the gate told you.",
        "5. Has a tile slipped? [On a ladder]",
        "Read this on the ground. Climb, look, come down.",
        "8. Hang the tile back",
        "WARNING. Fall from the ladder.",
        "3. Hook the tile over its batten.",
    ]
    places = [0]
    for words in order:
        places.append(shown.index(words, places[-1]))
    assert "[[" not in shown


def test_walk_that_is_stopped_ends_quietly(
    good: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(_: str) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("builtins.input", stopped)
    assert run(good, "walk", "potting-shed") == 130
    assert capsys.readouterr().err == "\nStopped.\n"
