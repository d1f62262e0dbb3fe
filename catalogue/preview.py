"""The preview server of `catalogue watch`: shows a built catalogue to this computer's browsers, and nobody else.

It listens on the loopback address alone, answers only requests addressed to it by that name (so that no page
of another site can reach it under a name of its own), and serves plain files of the site folder and nothing
else. Whoever comes without the token in the printed address is not let in: the loopback address is open to everyone
who uses this computer. A small script is put into pages as they are served; the files on disk have none of it.

What a form of such a page sends is kept in the studio (`catalogue.receiving`), if it comes with the key that only pages
served here have been given.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import secrets
import select
import socket
import stat
import threading
from collections import Counter
from collections.abc import Iterable, Iterator
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path, PurePosixPath
from typing import Any
from urllib.parse import unquote, unquote_to_bytes

LOOPBACK = "127.0.0.1"
MOST_LETTERS = 1000
"""Length of a page's path that is taken note of."""
LISTENING = 2.0
"""Seconds after which a page that is told nothing new is looked after."""
MOST_CONNECTIONS = 64
"""Connections that are answered at a time; every open page keeps one."""
KEY = "key"
"""What the token is called in the printed address."""
MOST_NAMED = 2000
"""More changed paths than this are not listed to pages: they all reload."""

_KINDS = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".gif": "image/gif",
    ".webp": "image/webp",
    ".avif": "image/avif",
    ".pdf": "application/pdf",
    ".dxf": "image/vnd.dxf",
    ".woff2": "font/woff2",
}
_POLICY = re.compile(rb'(<meta http-equiv="Content-Security-Policy" content=")(?![^>]*connect-src)')
_BODY = re.compile(rb"</body>", re.IGNORECASE)
_GONE = b"""<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>Not here</title></head>
<body><h1>This page is not in the catalogue</h1><p><a href="/index.html">To the first page</a></p></body>
</html>
"""


_NOT_LET_IN = b"""<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not let in</title></head>
<body><h1>This browser is not let in</h1><p>In the window that <em>Open catalogue</em> or
<code>catalogue watch</code> has opened stands an address with a key. Open that one, or double-click
<em>Open catalogue</em> again: others who use this computer do not know the key.</p></body>
</html>
"""


class News:
    """What open pages are told: the number of the build they could show, what it changed and what is wrong."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._told = {"build": 0, "changed": [], "wrong": ""}
        self._open: Counter[str] = Counter()
        self.closed = False

    def tell(self, changed: Iterable[str], wrong: str) -> None:
        """Let open pages know of a build. Nothing changed and nothing newly wrong is no news."""
        paths = list(changed)
        with self._changed:
            if not paths and wrong == self._told["wrong"]:
                return
            number = self.build + bool(paths)
            listed = paths if len(paths) <= MOST_NAMED else None
            self._told = {"build": number, "changed": listed, "wrong": wrong}
            self._changed.notify_all()

    @property
    def build(self) -> int:
        return int(self._told["build"])  # type: ignore[call-overload]

    @contextlib.contextmanager
    def reading(self, page: str) -> Iterator[None]:
        """Count a page as open for as long as it listens."""
        with self._changed:
            self._open[page] += 1
        try:
            yield
        finally:
            with self._changed:
                self._open[page] -= 1
                self._open += Counter()  # without those that no one has open

    @property
    def pages(self) -> frozenset[str]:
        """Paths of the pages that are open now."""
        with self._changed:
            return frozenset(self._open)

    def close(self) -> None:
        with self._changed:
            self.closed = True
            self._changed.notify_all()

    def after(self, last: dict[str, Any] | None, patience: float) -> dict[str, Any]:
        """What is told now, once it is something else than `last` or `patience` seconds have passed."""
        with self._changed:
            self._changed.wait_for(lambda: self.closed or self._told is not last, patience)
            return self._told


class PreviewServer(ThreadingHTTPServer):
    """Serves the folder `site` on the loopback address. Port 0 takes any free one; OSError when it is taken."""

    daemon_threads = True
    # On Windows this would let a second program listen on a port that is taken.
    allow_reuse_address = os.name == "posix"

    def __init__(self, site: Path, port: int, news: News, studio: Path | None = None) -> None:
        """`studio` is where forms may put client files; without it they may put them nowhere."""
        super().__init__((LOOPBACK, port), _Requests)
        self.studio = studio
        self.key = secrets.token_urlsafe(24)
        self.token = secrets.token_urlsafe(24)
        self._room = threading.BoundedSemaphore(MOST_CONNECTIONS)
        self.one_at_a_time = threading.Lock()
        self._looking = threading.Lock()
        self._waiting: dict[socket.socket, None] = {}
        self.site = Path(os.path.realpath(site))
        self.news = news
        self.script = (Path(__file__).parent / "preview.js").read_bytes()
        names = (LOOPBACK, "localhost")
        self.hosts = {f"{name}:{self.server_port}" for name in names}
        if self.server_port == 80:
            self.hosts.update(names)

    @property
    def address(self) -> str:
        """With the token that lets a browser in: the loopback address is open to everyone who uses this computer."""
        return f"http://{LOOPBACK}:{self.server_port}/?{KEY}={self.token}"

    @property
    def cookie(self) -> str:
        """What a browser that was let in shows from then on. Cookies are shared by all ports, hence the number."""
        return f"catalogue-{self.server_port}={self.token}"

    def process_request(self, request: Any, client_address: Any) -> None:
        if not self._room.acquire(blocking=False) and not (
            self._hung_up() and self._room.acquire(timeout=1.0)
        ):
            self.shutdown_request(request)
            return
        try:
            super().process_request(request, client_address)
        except BaseException:
            self._room.release()
            raise

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def waits_for(self, connection: socket.socket, waits: bool = True) -> None:
        """Note a connection whose request has not come yet, or has."""
        with self._looking:
            self._waiting.pop(connection, None)
            if waits:
                self._waiting[connection] = None

    def _hung_up(self) -> bool:
        """Whether a connection was closed on which nothing whole was asked for yet: that waited for longest."""
        with self._looking:
            longest = next(iter(self._waiting), None)
            if longest is None:
                return False
            del self._waiting[longest]
            with contextlib.suppress(OSError):
                longest.shutdown(socket.SHUT_RDWR)
        return True

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that goes away in the middle of an answer is no matter."""


class _Requests(BaseHTTPRequestHandler):
    server: PreviewServer
    protocol_version = "HTTP/1.1"
    server_version = "catalogue"
    sys_version = ""
    timeout = 60

    def handle_one_request(self) -> None:
        self.server.waits_for(self.connection)
        super().handle_one_request()

    def finish(self) -> None:
        self.server.waits_for(self.connection, waits=False)
        super().finish()

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def do_POST(self) -> None:
        self.close_connection = True  # what was sent may not have been read
        status, answer = self._kept()
        self._send(status, json.dumps(answer).encode(), ".json", with_body=True)
        if status == HTTPStatus.REQUEST_ENTITY_TOO_LARGE:
            self._pass_over(self.headers["Content-Length"])

    def _kept(self) -> tuple[HTTPStatus, dict[str, str]]:
        """What came of a form: the names that `Kept` has and the client's "page", or {"wrong": why}."""
        from catalogue.receiving import LARGEST, NotKept, receive
        from catalogue.site.paths import client_path
        from catalogue.slugs import slugify

        server, headers = self.server, self.headers
        if any(len(headers.get_all(name, [])) != 1 for name in ("Host", "Origin", "Content-Length")):
            return HTTPStatus.BAD_REQUEST, {"wrong": "This request is not whole."}
        host = headers["Host"].lower()
        if host not in server.hosts or headers["Origin"].lower() != f"http://{host}":
            return HTTPStatus.FORBIDDEN, {"wrong": "Only a page shown here may ask for this."}
        if not secrets.compare_digest(headers.get("X-Catalogue-Key", "").encode(), server.key.encode()):
            return HTTPStatus.FORBIDDEN, {
                "wrong": "This page is from before. Load it again, then send it again."
            }
        if self.path != "/-/keep" or server.studio is None:
            return HTTPStatus.NOT_FOUND, {"wrong": "Nothing can be kept here."}
        if headers.get_content_type() != "application/json" or "Transfer-Encoding" in headers:
            return HTTPStatus.UNSUPPORTED_MEDIA_TYPE, {"wrong": "This is not what a form sends."}
        length = headers["Content-Length"]
        if not (length.isascii() and length.isdigit() and len(length) < 10 and int(length) <= LARGEST):
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE, {"wrong": "This is too long for a client file."}
        sent = self.rfile.read(int(length))  # before any other has to wait for it
        server.waits_for(self.connection, waits=False)
        if len(sent) < int(length):
            return HTTPStatus.BAD_REQUEST, {"wrong": "This request is not whole."}
        with server.one_at_a_time:
            try:
                kept = receive(server.studio, sent)
            except NotKept as wrong:
                return HTTPStatus(wrong.status), {"wrong": str(wrong)}
        page = client_path(slugify(PurePosixPath(kept.file).stem))
        return HTTPStatus.OK, {"kept": kept.file, "before": kept.before, "page": page, "doubt": kept.doubt}

    def _pass_over(self, length: str) -> None:
        """Read what is not wanted: a browser that can't send all of it does not look at the answer."""
        left = int(length) if length.isascii() and length.isdigit() and len(length) < 9 else 0
        while left > 0 and (part := self.rfile.read(min(left, 1 << 16))):
            left -= len(part)

    def log_message(self, format: str, *args: object) -> None:
        pass

    def _answer(self, *, with_body: bool) -> None:
        self.server.waits_for(self.connection, waits=False)
        if refused := self._refused():
            self.close_connection = True
            self._send(*refused, ".txt", with_body)
            return
        path, _, query = self.path.partition("?")
        given = query.removeprefix(f"{KEY}=") if query.startswith(f"{KEY}=") else ""
        if given and self._is(given, self.server.token):
            self.send_response(HTTPStatus.SEE_OTHER)
            self.send_header("Location", re.sub("^/+", "/", path))
            self.send_header("Set-Cookie", f"{self.server.cookie}; Path=/; HttpOnly; SameSite=Strict")
            self.send_header("Cache-Control", "no-store")
            self.send_header("Content-Length", "0")
            self.end_headers()
        elif not self._is_let_in():
            self.close_connection = True
            self._send(HTTPStatus.FORBIDDEN, _NOT_LET_IN, ".html", with_body)
        elif path == "/-/events" and with_body:
            self._send_events(unquote(query, errors="replace")[:MOST_LETTERS])
        elif path == "/-/watch.js":
            self._send(HTTPStatus.OK, self.server.script, ".js", with_body)
        else:
            self._send_file(path, with_body)

    def _refused(self) -> tuple[HTTPStatus, bytes] | None:
        """Why a request is not looked at any further."""
        hosts = self.headers.get_all("Host", [])
        if len(hosts) > 1:
            return HTTPStatus.BAD_REQUEST, b"This request names two servers.\n"
        host = hosts[0].lower() if hosts else ""
        if host not in self.server.hosts:
            return HTTPStatus.MISDIRECTED_REQUEST, b"Not the name of this server.\n"
        if any(origin.lower() != f"http://{host}" for origin in self.headers.get_all("Origin", [])):
            return HTTPStatus.FORBIDDEN, b"Only pages of this catalogue may ask for this.\n"
        return None

    def _is_let_in(self) -> bool:
        """Whether the browser was let in by the printed address."""
        shown = (part.strip() for each in self.headers.get_all("Cookie", []) for part in each.split(";"))
        return any(self._is(each, self.server.cookie) for each in shown)

    @staticmethod
    def _is(given: str, wanted: str) -> bool:
        return secrets.compare_digest(given.encode("utf-8", "replace"), wanted.encode())

    def _send_file(self, path: str, with_body: bool) -> None:
        found = find(self.server.site, path)
        if found is not None and found.is_dir():
            self.send_response(HTTPStatus.FOUND)
            self.send_header("Location", f"{path.rstrip('/')}/index.html")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        # The number comes before the file: a page that says too low a number reloads once more, never too
        # seldom.
        number = self.server.news.build
        data = read(found) if found is not None else None
        if data is None:
            self._send(HTTPStatus.NOT_FOUND, watched(_GONE, number, self.server.key), ".html", with_body)
            return
        kind = path[path.rfind(".") :].lower()
        self._send(
            HTTPStatus.OK,
            watched(data, number, self.server.key) if kind == ".html" else data,
            kind,
            with_body,
        )

    def _send(self, status: HTTPStatus, data: bytes, kind: str, with_body: bool) -> None:
        self.send_response(status)
        self.send_header("Content-Type", _KINDS.get(kind, "application/octet-stream"))
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        self.end_headers()
        if with_body:
            self.wfile.write(data)

    def _send_events(self, page: str) -> None:
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream; charset=utf-8")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        told: dict[str, Any] | None = None
        with self.server.news.reading(page):
            while not self.server.news.closed:
                news = self.server.news.after(told, patience=LISTENING)
                if news is told and self._is_gone():
                    return
                line = ": still here\n\n" if news is told else f"data: {json.dumps(news)}\n\n"
                told = news
                self.wfile.write(line.encode())
                self.wfile.flush()

    def _is_gone(self) -> bool:
        """Whether the page that listens has been closed: it has nothing to say, but that."""
        readable, _, _ = select.select([self.connection], [], [], 0)
        return bool(readable)


def find(site: Path, path: str) -> Path | None:
    """The file or folder of the site that a request's path means; None for anything else.

    Nothing hidden, nothing outside the folder, and nothing by way of a link.
    """
    try:
        words = unquote_to_bytes(path).decode()
    except UnicodeDecodeError:
        return None
    parts = [part for part in words.split("/") if part]
    if any(part.startswith(".") or set(part) & set("\\:\0") for part in parts):
        return None
    found = site.joinpath(*parts)
    try:
        inside = Path(os.path.realpath(found)) == found
        return found if inside and found.exists() else None
    except (OSError, ValueError):
        return None


def read(path: Path) -> bytes | None:
    """A plain file's contents, or None."""
    # A pipe that nobody writes to would be waited for without end.
    flags = os.O_RDONLY
    for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"):
        flags |= getattr(os, name, 0)
    try:
        handle = os.open(path, flags)
    except OSError:
        return None
    with os.fdopen(handle, "rb") as file:
        return file.read() if stat.S_ISREG(os.fstat(handle).st_mode) else None


def watched(page: bytes, build: int, key: str = "") -> bytes:
    """A page with the script that keeps it up to date, which its own policy is widened to allow.

    `key` lets the page's forms have their files kept.
    """
    page = _POLICY.sub(rb"\1connect-src &#39;self&#39;; ", page, count=1)
    script = b'<script src="/-/watch.js" data-build="%d" data-key="%s"></script>' % (build, key.encode())
    found = list(_BODY.finditer(page))
    at = found[-1].start() if found else len(page)
    return page[:at] + script + page[at:]
