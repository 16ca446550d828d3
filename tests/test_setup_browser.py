"""What the browser tests need of a machine: programs, and a font with Arial's widths that is the one in use."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
import setup_browser

NARROW, WIDE = "Liberation Sans", "DejaVu Sans"


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a folder that holds all the programs there are, on a machine where root asks."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv("CHROMIUM", raising=False)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    for name in setup_browser.NEEDED:
        program(tmp_path, name, f"printf '{NARROW},{NARROW} Regular'")
    return tmp_path


def program(folder: Path, name: str, does: str) -> None:
    (folder / name).write_text(f"#!/bin/sh\n{does}\n", encoding="utf-8")
    (folder / name).chmod(0o755)


def test_machine_with_all_of_it_installs_nothing(machine: Path) -> None:
    assert setup_browser.missing() == [] and setup_browser.main() == 0


def test_font_that_is_in_use_decides(machine: Path) -> None:
    program(machine, "fc-match", f"printf '{WIDE}'")
    assert setup_browser.missing() == ["fonts-liberation"]
    (machine / "fc-match").unlink()
    assert setup_browser.missing() == ["fontconfig", "fonts-liberation"]


@pytest.mark.parametrize(("then", "code"), [(NARROW, 0), (WIDE, 1)])
def test_font_is_installed_and_proved(machine: Path, capfd: pytest.CaptureFixture[str], then: str, code: int) -> None:
    """A font that came and is not used, for the machine's own settings prefer another, is told before any test."""
    program(machine, "fc-match", f"printf '{WIDE}'")
    comes = f"printf '#!/bin/sh\\nprintf %s \"{then}\"' > {machine}/fc-match"
    program(machine, "apt-get", f'echo "$@" >> {machine}/asked; {comes}')
    assert setup_browser.main() == code
    assert (machine / "asked").read_text(encoding="utf-8").split("\n")[1].endswith("fonts-liberation")
    assert capfd.readouterr().out == (
        f"Still not found, though installed: fonts-liberation. Arial is shown in “{WIDE}”.\n" if code else ""
    )


def test_who_cannot_install_is_told_what_to_install(machine: Path, capfd: pytest.CaptureFixture[str]) -> None:
    program(machine, "fc-match", f"printf '{WIDE}'")
    (machine / "pdftoppm").unlink()
    assert setup_browser.main() == 1
    assert capfd.readouterr().out.startswith("The tests need poppler-utils and fonts-liberation. Install them")
