"""Makes the three pictures of the README from the built site: a walk, a diagram, a checklist."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import setup_browser
from playwright.sync_api import Browser, sync_playwright

from build_tools.proof.checks import check
from build_tools.site.publish import publish

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "guide" / "pictures"
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]


def main() -> int:
    """Build the site into a scratch folder and photograph it."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        site = Path(scratch) / "site"
        guide = check(ROOT).guide
        assert guide is not None, "mend the sources first"
        publish(ROOT, guide, site)
        program = setup_browser.browser()
        browser = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
        _walk(browser, site)
        _diagram(browser, site)
        _checklist(browser, site, Path(scratch))
        browser.close()
    return 0


def _walk(browser: Browser, site: Path) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((site / "walk/flat-glass-on-an-upstand.html").as_uri())
    page.wait_for_timeout(600)  # a tap just after another is taken for a double tap, and so is one at once
    page.get_by_role("button", name="Begin").click()
    page.locator(".answer:visible").first.wait_for()
    page.screenshot(path=PICTURES / "walk.png")
    page.close()


def _diagram(browser: Browser, site: Path) -> None:
    page = browser.new_page(viewport={"width": 1100, "height": 800})
    page.goto((site / "trees/start-here.html").as_uri())
    page.locator(".diagram").first.screenshot(path=PICTURES / "diagram.png")
    page.close()


def _checklist(browser: Browser, site: Path, scratch: Path) -> None:
    page = browser.new_page()
    page.goto((site / "paper/start-here.html").as_uri())
    page.pdf(path=scratch / "checklist.pdf", prefer_css_page_size=True)
    command = ["pdftoppm", "-png", "-r", "60", "-f", "5", "-l", "5", "-singlefile"]
    subprocess.run([*command, str(scratch / "checklist.pdf"), str(PICTURES / "checklist")], check=True)
    page.close()


if __name__ == "__main__":
    sys.exit(main())
