"""Makes sure that the browser tests have Chromium and pdftoppm; installs them on Debian as root."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

NEEDED = {"chromium": "chromium", "pdftoppm": "poppler-utils"}
"""Program, and the Debian package that brings it."""


def missing() -> list[str]:
    """Give the packages whose programs are not on the path."""
    found = {"chromium": os.environ.get("CHROMIUM")}
    return [package for program, package in NEEDED.items() if not (found.get(program) or shutil.which(program))]


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
    return 0


if __name__ == "__main__":
    sys.exit(main())
