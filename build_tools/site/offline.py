"""The worker that keeps the whole guide on the phone, and the manifest that lets it be installed.

The worker's text holds a list of every file with its hash. It keeps a file only if it has that hash, wherever it
came from, and installs only when it has them all.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import date

NOT_KEPT = (".zip", "sw.js", "sitemap.xml", "sitemap.xml.gz", "404.html")
"""Files that a phone does not need offline."""


def digest(content: bytes) -> str:
    """Give the first digits of a file's SHA-256; the worker reckons them again on the phone."""
    return hashlib.sha256(content).hexdigest()[:16]


def kept(address: str) -> bool:
    """Tell whether a file belongs in the saved guide."""
    return not address.endswith(NOT_KEPT)


def worker(template: str, files: Mapping[str, bytes], version: str, revised: date) -> str:
    """Fill in the worker's list; `files` holds every file of the site by its address."""
    hashes = {address: digest(content) for address, content in sorted(files.items()) if kept(address)}
    whole = digest(json.dumps(hashes).encode())
    guide = {"version": version, "revised": revised.isoformat(), "hash": whole, "files": hashes}
    return template.replace("/* GUIDE */ null", json.dumps(guide, separators=(",", ":")))


def manifest(name: str) -> str:
    """Write the manifest for "Add to Home Screen"."""
    icons = [
        {"src": f"icons/{size}.png", "sizes": f"{size}x{size}", "type": "image/png", "purpose": "any"}
        for size in (192, 512)
    ]
    fields = {
        "name": name,
        "short_name": "Rooflight leaks",
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#ffffff",
        "icons": icons,
    }
    return json.dumps(fields, indent=2) + "\n"
