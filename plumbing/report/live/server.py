"""A server for this computer only: the page and its stream of events, nothing else."""

from __future__ import annotations

import json
import secrets
import threading
import time
from collections.abc import Callable, Mapping
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from types import TracebackType
from typing import Self

from plumbing.errors import LayoutError, PlumbingError, UsageError
from plumbing.layout.load import read_once
from plumbing.report.live.watched import Watched, fault_data

HOST = "127.0.0.1"
_EVERY = 0.3  # seconds between looks at the file
_BEAT = 10.0  # seconds between signs of life in a stream of events
_MOST_STREAMS = 12
_MOST_BYTES = 20_000  # of a row sent
Log = Callable[[str, Mapping[str, str]], str]
_HEADERS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}


class Live:
    """The live page of a layout file.

    Parameters
    ----------
    path : str
        The layout file.
    port : int
        Port on the loopback address; 0 takes a free one.
    log : callable
        Puts a row to the logbook of a layout file; it says where it stands.

    Raises
    ------
    LayoutError
        The file cannot be read. One that can, but has faults, is shown with them, and one that
        vanishes later, as it may while an editor saves, is waited for.
    UsageError
        The port is taken.
    """

    def __init__(self, path: str, port: int = 0, log: Log | None = None) -> None:
        read_once(path)
        self.log = log
        self.token = secrets.token_urlsafe(24) if log else ""
        self.watched = Watched(path, self.token)
        self.stopping = threading.Event()
        try:
            self._server = _Server((HOST, port), self)
        except OSError as refused:
            raise UsageError(f"cannot listen on port {port}: {refused.strerror}") from None
        self.port = int(self._server.server_address[1])
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.1,), daemon=True)

    @property
    def address(self) -> str:
        """Address for the browser."""
        return f"http://{HOST}:{self.port}/"

    def __enter__(self) -> Self:
        """Read the file once and begin to serve."""
        self.watched.look()
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop serving."""
        self.stopping.set()
        self.watched.close()
        self._server.shutdown()
        self._server.server_close()

    def run(self) -> None:
        """Look at the file until stopped."""
        while not self.stopping.is_set():
            self.watched.look()
            time.sleep(_EVERY)


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False

    def __init__(self, address: tuple[str, int], live: Live) -> None:
        self.live = live
        self.streams = threading.BoundedSemaphore(_MOST_STREAMS)
        super().__init__(address, _Handler)

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing: a browser that closes a page breaks its stream, which is no fault."""


class _Handler(BaseHTTPRequestHandler):
    server: _Server
    timeout = 60.0
    server_version = "plumbing"
    sys_version = ""
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Answer with the page or its events."""
        if not self._is_ours():
            self._refuse(403, "only for this computer's own browser")
        elif self.path == "/":
            self._answer(200, self.server.live.watched.page, "text/html; charset=utf-8")
        elif self.path == "/events":
            self._stream()
        else:
            self._refuse(404, "there is nothing here but the page")

    def do_POST(self) -> None:
        """Put a row to the logbook, for the page itself alone."""
        live = self.server.live
        shown = self.headers.get("X-Token") or ""
        if not self._is_ours() or not live.token or not _same(shown, live.token):
            self._refuse(403, "only for the page of this computer's own browser")
        elif self.path != "/logbook":
            self._refuse(404, "there is nothing here but the logbook")
        else:
            row = self._row()
            if row is None:
                self._refuse(400, "a row of the logbook as JSON is expected")
            else:
                self._put(row)

    def _row(self) -> dict[str, str] | None:
        """The row that was sent; None where it is none."""
        length = self.headers.get("Content-Length") or ""
        if not length.isdecimal() or len(length) > 6 or int(length) > _MOST_BYTES:
            return None
        try:
            sent = json.loads(self.rfile.read(int(length)))
        except (ValueError, RecursionError):
            return None
        texts = isinstance(sent, dict) and all(isinstance(one, str) for one in sent.values())
        return sent if texts else None

    def _put(self, row: dict[str, str]) -> None:
        live = self.server.live
        assert live.log is not None, "a token is given only with it"
        written, said, faults = False, "", list[dict[str, str | int]]()
        try:
            written, said = True, live.log(live.watched.path, row)
        except LayoutError as error:
            said, faults = "Nothing was written.", fault_data(error.faults)
        except PlumbingError as error:
            said = f"Nothing was written: {error}"
        body = json.dumps({"written": written, "words": said, "faults": faults}).encode()
        self._answer(200, body, "application/json; charset=utf-8")

    def log_message(self, format: str, *args: object) -> None:
        """Keep quiet: the terminal belongs to the user."""

    def _is_ours(self) -> bool:
        """Whether the page itself, or the user by hand, asks: no other site, no other name."""
        names = {f"{name}:{self.server.live.port}" for name in (HOST, "localhost")}
        hosts = self.headers.get_all("Host") or []
        origins = self.headers.get_all("Origin") or []
        sites = self.headers.get_all("Sec-Fetch-Site") or []
        return (
            len(hosts) == 1
            and hosts[0].lower() in names
            and all(origin == f"http://{hosts[0]}" for origin in origins)
            and all(site in {"same-origin", "none"} for site in sites)
        )

    def _refuse(self, code: int, words: str) -> None:
        self.close_connection = True
        self._answer(code, f"{words}\n".encode(), "text/plain; charset=utf-8")

    def _answer(self, code: int, body: bytes, kind: str) -> None:
        self._head(code, kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def _head(self, code: int, kind: str) -> None:
        self.send_response(code)
        self.send_header("Content-Type", kind)
        for name, value in _HEADERS.items():
            self.send_header(name, value)

    def _stream(self) -> None:
        """Send events until the browser or the server goes."""
        if not self.server.streams.acquire(blocking=False):
            self._refuse(503, "too many pages are open")
            return
        try:
            self.close_connection = True
            self._head(200, "text/event-stream; charset=utf-8")
            self.send_header("Connection", "close")
            self.end_headers()
            self._events()
        finally:
            self.server.streams.release()

    def _events(self) -> None:
        live, seen = self.server.live, -1
        while not live.stopping.is_set():
            news = live.watched.wait(seen, _BEAT)
            if live.stopping.is_set():
                return
            if news.number > seen:
                seen = news.number
                said = f"id: {seen}\nevent: {news.event}\ndata: {news.data}\n\n"
            else:
                said = ": still here\n\n"
            self.wfile.write(said.encode())
            self.wfile.flush()


def _same(one: str, other: str) -> bool:
    """Whether two secrets are the same, in a time that does not tell how far."""
    return secrets.compare_digest(one.encode(), other.encode())
