"""Progress of long work: one line on a terminal that is written over and erased, and not a letter anywhere else."""

import io
import sys

import pytest
from guides import edit

from build_tools.__main__ import main
from build_tools.progress import CLEAR, progress


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_nothing_is_said_in_a_pipe():
    pipe = io.StringIO()
    with progress(pipe) as tell:
        tell("Reading")
    assert pipe.getvalue() == ""


def test_line_is_written_over_and_gone_at_the_end():
    terminal = Terminal()
    with progress(terminal) as tell:
        tell("Reading main")
        tell("Reading working tree")
    assert terminal.getvalue() == f"{CLEAR}Reading main…{CLEAR}Reading working tree…{CLEAR}"


def test_line_is_gone_too_when_the_work_is_stopped():
    terminal = Terminal()
    with pytest.raises(KeyboardInterrupt), progress(terminal) as tell:
        tell("Reading")
        raise KeyboardInterrupt
    assert terminal.getvalue().endswith(CLEAR)


def test_numbers_that_run_faster_than_an_eye_are_passed_over(monkeypatch):
    now = iter((0.0, 0.05, 0.2, 0.21))
    monkeypatch.setattr("time.monotonic", lambda: next(now) + 100)
    terminal = Terminal()
    with progress(terminal) as tell:
        for words in ("Tree 1 of 9", "Tree 2 of 9", "Tree 3 of 9", "Drawing 1 of 2"):
            tell(words)
    assert "Tree 2" not in terminal.getvalue()
    assert "Tree 1" in terminal.getvalue() and "Tree 3" in terminal.getvalue() and "Drawing 1" in terminal.getvalue()


def test_line_is_no_longer_than_the_terminal_is_wide(monkeypatch):
    monkeypatch.setenv("COLUMNS", "20")
    terminal = Terminal()
    with progress(terminal) as tell:
        tell("Reading " + "a" * 99)
    assert max(len(each) for each in terminal.getvalue().split(CLEAR)) < 20


def test_name_that_somebody_chose_moves_no_cursor():
    terminal = Terminal()
    with progress(terminal) as tell:
        tell("Reading a\x1b[2J\u202e\nb")
    assert terminal.getvalue() == f"{CLEAR}Reading a\N{REPLACEMENT CHARACTER}[2J\N{REPLACEMENT CHARACTER} b…{CLEAR}"


def test_line_is_gone_before_a_report_is_printed(good, monkeypatch):
    edit(good, "trees/potting-shed.yaml", "then: steep-enough", "then: steep-enuf")
    monkeypatch.setattr(sys, "stderr", Terminal())
    assert main(["--root", str(good), "build"]) == 1
    assert sys.stderr.getvalue().startswith(f"{CLEAR}Proving the sources…{CLEAR}trees/potting-shed.yaml:")
    assert sys.stderr.getvalue().endswith("Nothing was written.\n")


def test_command_tells_on_its_terminal_what_it_does(good, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stderr", Terminal())
    assert main(["--root", str(good), "check"]) == 0
    assert sys.stderr.getvalue() == f"{CLEAR}Proving the sources…{CLEAR}"
    assert capsys.readouterr().out == "No errors, no warnings.\n"
