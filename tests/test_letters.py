"""Letters that nobody can see: refused in the sources, and shown as a mark by every command."""

from __future__ import annotations

import shutil
import unicodedata
from pathlib import Path

import pytest
from guides import codes_of, edit, record

from build_tools.__main__ import main
from build_tools.model.letters import HIDDEN, visible
from build_tools.proof.checks import check
from build_tools.proof.report import FORMATS

COLD = "trees/cold-pane.yaml"
TITLE = "title: The pane is wet in dry weather"
SEEN = "°×μ−æ–—’“”…½²éü\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{HYPHEN}\t\n"


def test_every_control_and_format_letter_is_hidden() -> None:
    # Format letters that are printed are left out: signs before numbers, and musical marks are not.
    printed = set(range(0x600, 0x606)) | {0x6DD, 0x70F, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD}
    printed |= set(range(0x13430, 0x13440))
    wanted = [
        chr(each) for each in range(0x110000) if unicodedata.category(chr(each)) in ("Cc", "Cf", "Zl", "Zp", "Cs")
    ]
    wanted = [each for each in wanted if each not in "\t\n" and ord(each) not in printed]
    assert len(wanted) > 2000
    assert [f"{ord(each):04X}" for each in wanted if not HIDDEN.fullmatch(each)] == []


def test_letters_that_are_seen_stay() -> None:
    assert visible(SEEN) == SEEN


@pytest.mark.parametrize(
    "letter", ["\u00ad", "\u061c", "\u200b", "\u200e", "\u202e", "\u2066", "\u2028", "\ufeff", "\U000e0001"]
)
@pytest.mark.parametrize("escaped", [False, True])
def test_letter_is_refused_raw_and_as_an_escape(good: Path, letter: str, escaped: bool) -> None:
    written = f"\\U{ord(letter):08X}" if escaped else letter
    edit(good, COLD, TITLE, f'title: "The pane {written}is wet in dry weather"')
    assert "hidden-letter" in codes_of(good)


WRITTEN = ["\x9b", "\u200b", "\u202e", "\ufeff", "\U000e0001", "&#8238;", "&#x202E;", "&shy;", "&rlm;", "&#x200b;"]


@pytest.mark.parametrize("written", WRITTEN)
@pytest.mark.parametrize("path", ["guide/index.md", "guide/deeper/notes.md", "guide/drawings/shed-section.svg"])
def test_letter_is_refused_in_chapters_and_drawings(good: Path, written: str, path: str) -> None:
    file = good / path
    if file.suffix == ".md":
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("# The shed\n\nIt stands  here.\n", encoding="utf-8")
        edit(good, path, "stands ", f"stands {written}")
        line, column = 3, 11
    else:
        file.write_text("<svg xmlns='http://www.w3.org/2000/svg'><title>a</title></svg>\n", encoding="utf-8")
        edit(good, path, "<title>a", f"<title>a{written}")
        line, column = 1, 49
    told = [each for each in check(good).problems if each.code == "hidden-letter"]
    assert [(each.place.path, each.place.line, each.place.column) for each in told] == [(path, line, column)]


def test_letters_of_every_day_pass_in_a_chapter(good: Path) -> None:
    (good / "guide" / "index.md").write_text(f"# The shed\n\n{SEEN} &nbsp; &amp; &deg;\n", encoding="utf-8")
    assert codes_of(good) == []


def test_chapter_that_is_no_text_is_told(good: Path) -> None:
    (good / "guide" / "index.md").write_bytes(b"# The shed\n\nIt is 5 \xb0 warm.\n")
    assert codes_of(good) == ["not-text"]
    assert main(["--root", str(good), "reading"]) == 0


def test_windows_line_ends_hide_nothing(good: Path) -> None:
    file = good / COLD
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert codes_of(good) == []


ESCAPED = r"\e[1A\e[2K\x9b2J\u202e"
SHOWING = (
    *(["check", "--format", each] for each in FORMATS),
    ["find", "drops"],
    ["walk", "cold-pane", "--answers", ""],
    ["walk", "cold-pane", "--format", "json"],
    ["reach", "cold-pane/drops-inside"],
    ["still-open", "cold-pane", "--answers", "yes"],
    *(["review", "was", "--format", each] for each in ("text", "json", "markdown")),
)


@pytest.mark.parametrize("arguments", SHOWING, ids=" ".join)
def test_no_command_sends_such_a_letter_to_a_terminal(
    good: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    # As it would be where nothing had refused the letter: a review reads versions that nobody proved.
    monkeypatch.setattr("build_tools.sources.parse._hidden_letters", lambda *_: ())
    shutil.copytree(good / "trees", good / "was" / "trees")
    edit(good, COLD, "question: Do drops hang", f'question: "Do drops {ESCAPED} hang')
    edit(good, COLD, "on the inside of the pane?", 'on the inside of the pane?"')
    record(good)
    if arguments[0] == "check":
        (good / "trees" / "\x1b[2J\x9b\u202e.yaml").touch()
    main(["--root", str(good), *arguments])
    shown = "".join(capsys.readouterr())
    assert HIDDEN.findall(shown) == []
    assert "\N{REPLACEMENT CHARACTER}" in shown or r"\u001b" in shown
