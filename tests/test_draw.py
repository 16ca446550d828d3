"""Drawing: one process for all that is new, the same bytes, and a plain sentence where the engine is missing."""

from __future__ import annotations

import stat
import subprocess
from pathlib import Path
from typing import Any

import pytest

from build_tools.site import draw

DOTS = {"a": "digraph { one -> two }", "b": "digraph { rankdir=LR three -> four -> five }"}


@pytest.fixture
def drawings(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The commands that drew, as they are run."""
    commands: list[list[str]] = []
    run = subprocess.run

    def watched(command: list[str], **settings: Any) -> Any:
        if "-V" not in command:
            commands.append(command)
        return run(command, **settings)

    monkeypatch.setattr(subprocess, "run", watched)
    return commands


def engine(folder: Path, monkeypatch: pytest.MonkeyPatch, script: str) -> None:
    """Put a program called `dot` on the path and choose it."""
    program = folder / "dot"
    program.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{folder}:/usr/bin:/bin")
    monkeypatch.setenv(draw.SETTING, "dot")


OTHER = """[ "$1" = -V ] && { echo other engine 1 >&2; exit; }
shift 2; for file; do echo "<svg>other</svg>" > "$file.svg"; done"""


def test_all_that_is_new_is_drawn_in_one_process(tmp_path: Path, drawings: list[list[str]]) -> None:
    drawn = draw.draw(DOTS, tmp_path)
    assert len(drawings) == 1
    assert list(drawn) == ["a", "b"]
    assert "two" in drawn["a"] and "five" in drawn["b"]


def test_what_is_kept_is_not_drawn_again(tmp_path: Path, drawings: list[list[str]]) -> None:
    first = draw.draw(DOTS, tmp_path)
    assert draw.draw(DOTS, tmp_path) == first
    assert len(drawings) == 1
    draw.draw({**DOTS, "c": "digraph { six }"}, tmp_path)
    assert len(drawings) == 2
    assert sum(word.endswith(".dot") for word in drawings[1]) == 1


def test_the_same_text_gives_the_same_bytes(tmp_path: Path) -> None:
    assert draw.draw(DOTS, tmp_path / "one") == draw.draw(DOTS, tmp_path / "two")


def test_one_engine_is_never_served_what_another_drew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cache = tmp_path / "cache"
    ours = draw.draw(DOTS, cache)
    engine(tmp_path, monkeypatch, OTHER)
    assert draw.draw(DOTS, cache)["a"] == "<svg>other</svg>\n"
    monkeypatch.delenv(draw.SETTING)
    assert draw.draw(DOTS, cache) == ours


def test_a_missing_engine_is_told_in_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr("sys.executable", str(tmp_path / "python"))
    with pytest.raises(draw.EngineMissing) as told:
        draw.draw(DOTS, tmp_path)
    assert str(told.value) == (
        "The diagrams cannot be drawn, for graphviz-pure is not installed: "
        "install what requirements.lock names, as `make site` does."
    )
    monkeypatch.setenv(draw.SETTING, "dot")
    with pytest.raises(draw.EngineMissing, match="for dot is not installed: install Graphviz, or unset DIAGRAM_ENGINE"):
        draw.draw(DOTS, tmp_path)


def test_an_unknown_engine_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(draw.SETTING, "crayon")
    with pytest.raises(draw.EngineMissing, match=r"'crayon', .* by graphviz-pure or dot only"):
        draw.draw(DOTS, tmp_path)


def test_an_engine_that_fails_says_why_and_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    engine(tmp_path, monkeypatch, '[ "$1" = -V ] && exit\necho out of ink >&2; exit 3')
    cache = tmp_path / "cache"
    with pytest.raises(draw.DrawingFailed, match="dot did not draw: out of ink"):
        draw.draw(DOTS, cache)
    assert list(cache.iterdir()) == []


def test_a_text_that_is_not_dot_is_refused(tmp_path: Path) -> None:
    with pytest.raises(draw.DrawingFailed, match="did not draw"):
        draw.draw({"broken": "digraph { one -> "}, tmp_path)
