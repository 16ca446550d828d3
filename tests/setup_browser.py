"""Makes sure that the browser tests have what a page looks and prints the same with; installs it on Debian as root."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

BROWSER = "chromium-headless-shell"
"""Chromium without the windows round a page, which take more of the processor than the pages of the tests."""
NEEDED = {BROWSER: BROWSER, "pdftoppm": "poppler-utils", "fc-match": "fontconfig"}
"""Program, and the Debian package that brings it."""
FONTS = "fonts-liberation"
"""The Debian package of a font with Arial's widths. In a wider one, lines of a checklist turn over elsewhere."""
ARIAL = ("Arial", "Arimo", "Liberation Sans")
"""Families with these widths."""


def browser() -> str | None:
    """Give the program that the tests run: CHROMIUM, where that is set."""
    return os.environ.get("CHROMIUM") or shutil.which(BROWSER)


def font() -> str:
    """Give the family that stands in for Arial on this machine; empty where nothing can tell."""
    if not shutil.which("fc-match"):
        return ""
    asked = ["fc-match", "--format=%{family}", "Arial"]
    families = subprocess.run(asked, check=True, capture_output=True, text=True).stdout
    return families.partition(",")[0]


def missing() -> list[str]:
    """Give the packages whose programs or font are not there."""
    found = {name: shutil.which(name) for name in NEEDED} | {BROWSER: browser()}
    packages = [package for program, package in NEEDED.items() if not found[program]]
    return packages if font() in ARIAL else [*packages, FONTS]


def main() -> int:
    """Install what is missing, or say plainly what to install."""
    packages = missing()
    if not packages:
        return 0
    can_install = shutil.which("apt-get") and os.geteuid() == 0
    if not can_install:
        print(f"The tests need {' and '.join(packages)}. Install them, or set CHROMIUM to a Chromium program.")
        return 1
    subprocess.run(["apt-get", "update", "-qq"], check=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages], check=True, env=quiet)
    if still := missing():
        print(f"Still not found, though installed: {' and '.join(still)}. Arial is shown in “{font()}”.")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
