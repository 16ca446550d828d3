"""Serves the preview on this machine, and renews it when a file changes."""

from __future__ import annotations

import json
import mimetypes
import sys
from collections.abc import Callable
from functools import partial
from http.server import BaseHTTPRequestHandler
from ipaddress import ip_address
from pathlib import Path
from socket import gethostname
from socketserver import ThreadingTCPServer
from threading import BoundedSemaphore, Thread
from typing import Any, NoReturn
from urllib.parse import parse_qs, unquote, urlsplit

from build_tools.preview.live import Live, Shown
from build_tools.preview.message import with_script
from build_tools.preview.program import PACKAGE, fault_of_program, is_of_program, start_anew
from build_tools.preview.watch import Watch

OURS = "-live/"
"""Where the preview's own addresses begin; no page of the guide begins so."""
_HERE = Path(__file__).parent
_WATCHED = ("trees", "guide", "site_overrides", "mkdocs.yml")
_THIS_MACHINE = ("127.0.0.1", "localhost")
_MOST_CONNECTIONS = 32
"""At once: far more than the pages of one author ask for."""
_SLOWEST_SECONDS = 10
"""So long a browser may be silent in the middle of a request."""
_INSTEAD = {"sw.js": "forget.js", f"{OURS}live.js": "live.js"}
"""Scripts of the preview by the address where they stand."""


class CannotServe(Exception):
    """The preview cannot be served there; the message says why."""


def serve(root: Path, host: str, port: int, say: Callable[[str], None]) -> NoReturn:
    """Serve the preview of a project folder until the program is stopped, or edited; 0 takes any free port.

    Raises CannotServe where the address is taken or is not of this machine.
    """
    live = Live(root)
    server = _server(host, port, live)
    watch = Watch((*(root.resolve() / name for name in _WATCHED), PACKAGE))
    fault = None
    try:
        say(f"Look at http://{host}:{server.server_address[1]}/ and edit. Ctrl-C ends it.")
        if host not in _THIS_MACHINE:
            say("Everybody in this network can read the preview while it runs.")
        right = live.renew()
        Thread(target=server.serve_forever, daemon=True).start()
        while True:
            say("Shown." if right else "There is a mistake: the page shows it.")
            changed = watch.wait()
            if any(map(is_of_program, changed)):
                fault = fault_of_program()
                if fault is None:
                    start_anew(root, host, server.server_address[1])
            right = live.renew(fault)
    finally:
        server.server_close()


def _server(host: str, port: int, live: Live) -> ThreadingTCPServer:
    try:
        return _Server((host, port), partial(_Handler, live))
    except (OSError, OverflowError) as error:
        said = getattr(error, "strerror", None) or "there is no such port"
        raise CannotServe(f"{host}, port {port}: {said}. Name another one with --port or --host.") from None


class _Server(ThreadingTCPServer):
    allow_reuse_address = True
    daemon_threads = True
    request_queue_size = _MOST_CONNECTIONS

    def __init__(self, address: tuple[str, int], handler: Callable[..., BaseHTTPRequestHandler]) -> None:
        self._free = BoundedSemaphore(_MOST_CONNECTIONS)
        super().__init__(address, handler)

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer in a thread of its own, as soon as one is free."""
        self._free.acquire()
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Answer, and let the next one in."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._free.release()

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing of a browser that has gone away; everything else is a fault of the program."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


class _Handler(BaseHTTPRequestHandler):
    timeout = _SLOWEST_SECONDS

    def __init__(self, shown: Live, *connection: Any) -> None:
        self.shown = shown
        super().__init__(*connection)

    def do_HEAD(self) -> None:
        """Answer as to GET; `_send` leaves the content out."""
        self.do_GET()

    def do_GET(self) -> None:
        if not self._is_for_us():
            self.send_error(421, "Misdirected Request")
            return
        parts = urlsplit(self.path)
        address = _address(parts.path)
        asked = _address(parse_qs(parts.query).get("page", ["/"])[0])
        if address == f"{OURS}state":
            moment, mistake = self.shown.state(asked)
            self._send(json.dumps({"moment": moment, "mistake": mistake}).encode(), "application/json")
        elif address == f"{OURS}message":
            self._send_page(self.shown.message(asked))
        elif address in _INSTEAD:
            self._send((_HERE / _INSTEAD[address]).read_bytes(), "text/javascript")
        elif address == "scripts/offline.js":
            self._send(b"", "text/javascript")
        else:
            self._send_of_guide(address)

    def _is_for_us(self) -> bool:
        """Tell whether a browser asked for this machine; a page elsewhere that gives its own name our address did not.

        Source: IETF, RFC 9110, sections 7.2 and 15.5.20.
        """
        try:
            name = urlsplit(f"//{self.headers.get('Host', '')}").hostname or ""
        except ValueError:
            return False
        bound = str(self.server.server_address[0])  # type: ignore[index]
        return _is_address(name) or name in (*_THIS_MACHINE, gethostname().lower(), bound)

    def _send_of_guide(self, address: str) -> None:
        content = None if address.endswith(".html") else self.shown.file(address)
        if content is None:
            self._send_page(self.shown.page(address))
        else:
            self._send(content, mimetypes.guess_type(address)[0] or "application/octet-stream")

    def _send_page(self, page: Shown) -> None:
        html = with_script(page.html, f"/{OURS}live.js", page.moment)
        self._send(html.encode(), "text/html; charset=utf-8", 200 if page.found else 404)

    def _send(self, content: bytes, kind: str, status: int = 200) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-cache")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def log_message(self, *_: object) -> None:
        """Say nothing of each request."""


def _address(path: str) -> str:
    address = unquote(path).lstrip("/")
    return f"{address}index.html" if not address or address.endswith("/") else address


def _is_address(name: str) -> bool:
    try:
        return bool(ip_address(name))
    except ValueError:
        return False
