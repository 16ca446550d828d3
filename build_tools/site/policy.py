"""A page's own content-security policy: only this site's files, no script in the page, inline styles by their hash."""

from __future__ import annotations

import base64
import hashlib
import re
from html import unescape

_INLINE_STYLE = re.compile(r"<style[^>]*>(?P<text>.*?)</style>", re.S | re.I)
_STYLE_ATTRIBUTE = re.compile(r"<[a-z][^>]*\sstyle=\"(?P<text>[^\"]*)\"", re.I)
_CHARSET = re.compile(r"<meta charset=[^>]*>", re.I)


def _hashes(texts: list[str]) -> str:
    return " ".join(dict.fromkeys(_hash(each) for each in texts))


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def policy(html: str) -> str:
    """Work out the policy of a page: no inline script runs, and exactly its own inline styles hold."""
    styles = [each["text"] for each in _INLINE_STYLE.finditer(html)]
    attributes = [unescape(each["text"]) for each in _STYLE_ATTRIBUTE.finditer(html)]
    unsafe = "'unsafe-hashes' " if attributes else ""
    rules = {
        "default-src": "'none'",
        "script-src": "'self'",
        "style-src": f"'self' {unsafe}{_hashes([*styles, *attributes])}",
        "img-src": "'self' data: blob:",
        "connect-src": "'self'",
        # The search runs in a worker; from a folder, in one made from text.
        "worker-src": "'self' blob:",
        # The preview lays a mistake over the page in a frame.
        "frame-src": "'self'",
        "manifest-src": "'self'",
        "form-action": "'none'",
        "base-uri": "'none'",
    }
    return "; ".join(f"{name} {value.strip()}" for name, value in rules.items())


def with_policy(html: str) -> str:
    """Put the policy at the head of the page, before anything it governs."""
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(html)}">'
    found = _CHARSET.search(html)
    if found is None:
        raise ValueError("the page states no charset")
    return html[: found.end()] + meta + html[found.end() :]
