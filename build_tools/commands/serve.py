"""`serve`: show the guide in a browser while somebody edits it."""

from __future__ import annotations

import argparse

from build_tools.commands.command import Command, Said, Talk, refusing


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, default=8000, help="a free port of this machine (default: 8000)")
    parser.add_argument(
        "--host",
        default="127.0.0.1",
        help="this machine's address in your network, to look with a phone: everybody there can then read the preview",
    )


def _run(chosen: argparse.Namespace, talk: Talk) -> Said:
    from build_tools.preview.server import CannotServe, serve

    with refusing(CannotServe):
        serve(chosen.root, chosen.host, chosen.port, talk.say)


COMMAND = Command("serve", "show the guide in a browser, anew after each edit, mistakes in the page", _arguments, _run)
