"""`build`: check, then write the site."""

from __future__ import annotations

import argparse
from pathlib import Path

from build_tools.commands.command import Command, Refused, Said, Talk, refusing


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", type=Path, metavar="DIR", help="where to write it (default: site)")


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.proof.checks import check
    from build_tools.proof.report import as_text
    from build_tools.site.mkdocs_run import BuildFailed
    from build_tools.site.publish import WrongFolder, clear_up, publish

    out = (chosen.out or chosen.root / "site").resolve()
    clear_up(out)
    with talk.progress() as tell:
        tell("Proving the sources")
        checked = check(chosen.root)
    if checked.problems:
        talk.aside(as_text(checked.problems, checked.sources))
    kept = "The site that was there is untouched." if out.exists() else "Nothing was written."
    if checked.guide is None:
        raise Refused(kept, 1)
    try:
        with refusing(WrongFolder), talk.progress() as tell:
            tell("Drawing, writing and proving the site")
            pages = publish(chosen.root, checked.guide, out)
    except BuildFailed as failed:
        raise Refused(f"{failed}\n{kept}", 1) from None
    where = f"Open {out / 'index.html'} in a browser,\nor serve it: python3 -m http.server --directory {out}"
    return Said(f"{pages} pages, checked and built: {out}\n{where}")


COMMAND = Command("build", "check, then write the site; a failed check leaves the old one whole", _arguments, _run)
