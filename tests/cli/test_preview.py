"""The preview server: this computer alone, the site folder alone, and pages that are told of each build."""

from __future__ import annotations

import http.client
import json
import os
import socket
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalogue import preview
from catalogue.preview import News, PreviewServer, find, watched
from catalogue.watch import looked_at

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="where anyone may make symbolic links")
PAGE = (
    b'<html><head><meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; '
    b'script-src &#39;self&#39;"></head><body><p>page</p></body></html>'
)


@pytest.fixture
def site(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    (site / "styles" / "skirt").mkdir(parents=True)
    (site / "index.html").write_bytes(PAGE)
    (site / "styles" / "skirt" / "index.html").write_bytes(PAGE)
    (site / "styles" / "skirt" / "draft.pdf").write_bytes(b"%PDF")
    (site / ".catalogue.json").write_text("{}")
    (tmp_path / "secret.txt").write_text("secret")
    (site / "linked.txt").symlink_to(tmp_path / "secret.txt")
    (site / "out").symlink_to(tmp_path)
    return site


@pytest.fixture
def server(site: Path) -> Iterator[PreviewServer]:
    server = PreviewServer(site, 0, News())
    thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    yield server
    server.news.close()
    server.shutdown()
    server.server_close()


def ask(
    server: PreviewServer,
    path: str,
    method: str = "GET",
    host: str | None = None,
    cookie: str | None = None,
    **headers: str,
) -> tuple[int, dict[str, str], bytes]:
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=600)
    connection.putrequest(method, path, skip_host=host is not None)
    for each in (host or "").split("\n") if host is not None else ():
        connection.putheader("Host", each)
    connection.putheader("Cookie", server.cookie if cookie is None else cookie)
    for name, value in headers.items():
        connection.putheader(name, value)
    connection.endheaders()
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, {k.lower(): v for k, v in answer.getheaders()}, body


def test_it_listens_on_the_loopback_address_alone(server: PreviewServer) -> None:
    assert server.socket.getsockname()[0] == "127.0.0.1"


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "", "127.0.0.1", "localhost:1", "0.0.0.0:{port}"]
)
def test_a_request_by_another_name_is_not_answered(server: PreviewServer, host: str) -> None:
    status, _, body = ask(server, "/index.html", host=host.format(port=server.server_port))
    assert status == 421 and b"page" not in body


@pytest.mark.parametrize("host", ["localhost:{port}", "127.0.0.1:{port}", "LOCALHOST:{port}"])
def test_its_own_names_are_answered(server: PreviewServer, host: str) -> None:
    status, headers, body = ask(server, "/index.html", host=host.format(port=server.server_port))
    assert status == 200 and b"<p>page</p>" in body
    assert headers["cache-control"] == "no-store" and headers["x-content-type-options"] == "nosniff"


def test_folders_lead_to_their_page(server: PreviewServer) -> None:
    for path, target in (("/", "/index.html"), ("/styles/skirt", "/styles/skirt/index.html")):
        status, headers, _ = ask(server, path)
        assert (status, headers["location"]) == (302, target)
    assert ask(server, "/styles/skirt/draft.pdf?x=1")[1]["content-type"] == "application/pdf"


OUTSIDE = [
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/styles/..%2f..%2fsecret.txt",
    "/..%5csecret.txt",
    "//secret.txt/../../secret.txt",
    "/linked.txt",
    "/out/secret.txt",
    "/out",
    "/.catalogue.json",
    "/%2ecatalogue.json",
    "/index.html%00.txt",
    "/%ff",
    "/C:/secret.txt",
    "/styles/skirt/nothing.html",
    "/" + "a" * 5000,
]


@pytest.mark.parametrize("path", OUTSIDE)
def test_nothing_outside_the_folder_and_nothing_hidden_is_served(server: PreviewServer, path: str) -> None:
    status, _, body = ask(server, path)
    assert status == 404 and b"secret" not in body


@pytest.mark.parametrize("path", OUTSIDE)
def test_nothing_outside_is_found(site: Path, path: str) -> None:
    assert find(site, path) is None


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS"])
def test_only_reading_is_allowed(server: PreviewServer, method: str) -> None:
    assert ask(server, "/index.html", method)[0] == 501


def test_head_gives_the_size_and_no_body(server: PreviewServer) -> None:
    status, headers, body = ask(server, "/index.html", "HEAD")
    assert status == 200 and body == b"" and int(headers["content-length"]) > len(PAGE)


def test_the_script_is_put_into_pages_as_they_are_served_only(server: PreviewServer, site: Path) -> None:
    body = ask(server, "/index.html")[2]
    key = server.key.encode()
    assert b'<script src="/-/watch.js" data-build="0" data-key="%s"></script></body>' % key in body
    assert b'content="connect-src &#39;self&#39;; default-src' in body
    assert (site / "index.html").read_bytes() == PAGE
    assert b"EventSource" in ask(server, "/-/watch.js")[2]


def test_a_page_that_may_connect_keeps_its_own_policy() -> None:
    page = b'<meta http-equiv="Content-Security-Policy" content="connect-src https:"><body></body>'
    assert watched(page, 1).count(b"connect-src") == 1
    assert watched(b"no body at all", 1).startswith(b"no body at all<script")


def raw(server: PreviewServer, path: str) -> bytes:
    host = f"localhost:{server.server_port}"
    return f"GET {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {server.cookie}\r\n\r\n".encode()


def next_event(stream: socket.SocketIO) -> dict[str, object]:
    while True:
        line = stream.readline()
        assert line, "the stream ended"
        if line.startswith(b"data: "):
            return json.loads(line[6:])


def test_open_pages_are_told_of_each_build(server: PreviewServer) -> None:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=600) as connection:
        connection.sendall(raw(server, "/-/events"))
        stream = connection.makefile("rb")
        assert next_event(stream) == {"build": 0, "changed": [], "wrong": ""}
        server.news.tell(["index.html"], "")
        assert next_event(stream) == {"build": 1, "changed": ["index.html"], "wrong": ""}
        server.news.tell([], "")  # No news.
        server.news.tell([], "styles/a.md:1:1: error")
        assert next_event(stream) == {"build": 1, "changed": [], "wrong": "styles/a.md:1:1: error"}
        server.news.tell([f"p{n}" for n in range(5000)], "")
        assert next_event(stream) == {"build": 2, "changed": None, "wrong": ""}


def test_pages_count_as_open_for_as_long_as_they_listen(
    server: PreviewServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(preview, "LISTENING", 0.05)
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=600) as connection:
        connection.sendall(raw(server, "/-/events?styles%2Fa%2Fb%2Findex.html"))
        next_event(connection.makefile("rb"))
        assert server.news.pages == {"styles/a/b/index.html"}
        assert looked_at(server.news.pages) == {("a", "b")}
    end = time.monotonic() + 600
    while server.news.pages:
        assert time.monotonic() < end, "a page that is closed still counts"
        time.sleep(0.01)


def test_only_pages_of_drafts_bring_drafts_forward() -> None:
    assert looked_at([]) is None
    assert (
        looked_at(["index.html", "styles/a/index.html", "clients/a/card/index.html", "styles/a/b/c/d"])
        == set()
    )


def test_a_taken_port_is_told(server: PreviewServer, site: Path) -> None:
    with pytest.raises(OSError):
        PreviewServer(site, server.server_port, News())


# ---- others who use this computer, and pages of other sites ----


@pytest.mark.parametrize(
    "path", ["/", "/index.html", "/styles/skirt/draft.pdf", "/-/events", "/-/watch.js", "/no"]
)
@pytest.mark.parametrize("cookie", ["", "catalogue-{port}=", "catalogue-{port}=guessed", "catalogue={token}"])
def test_whoever_does_not_know_the_token_sees_nothing(server: PreviewServer, path: str, cookie: str) -> None:
    cookie = cookie.format(port=server.server_port, token=server.token)
    status, _, body = ask(server, path, cookie=cookie)
    assert status == 403 and b"catalogue watch" in body and b"page</p>" not in body and b"PDF" not in body


def test_the_printed_address_lets_a_browser_in(server: PreviewServer) -> None:
    path = server.address.partition(str(server.server_port))[2]
    status, headers, body = ask(server, path, cookie="")
    assert (status, headers["location"], body) == (303, "/", b"")
    cookie, *rules = headers["set-cookie"].split("; ")
    assert {"HttpOnly", "SameSite=Strict", "Path=/"} == set(rules)
    assert ask(server, "/index.html", cookie=f"other=1; {cookie}")[0] == 200
    assert ask(server, f"{path}x", cookie="")[0] == 403
    assert ask(server, f"//elsewhere.example{path[1:]}", cookie="")[1]["location"] == "/elsewhere.example"


def test_two_hosts_and_an_origin_elsewhere_are_refused(server: PreviewServer) -> None:
    own = f"127.0.0.1:{server.server_port}"
    assert ask(server, "/index.html", host=f"{own}\n{own}")[0] == 400
    assert ask(server, "/index.html", host=f"{own}\nevil.example")[0] == 400
    assert ask(server, "/index.html", host=own, Origin="http://evil.example")[0] == 403
    assert ask(server, "/index.html", host=own, Origin="null")[0] == 403
    assert ask(server, "/index.html", host=own, Origin=f"http://{own}")[0] == 200


def test_a_pipe_in_the_site_is_not_waited_for(server: PreviewServer, site: Path) -> None:
    os.mkfifo(site / "pipe.html")
    assert preview.read(site / "pipe.html") is None
    assert ask(server, "/pipe.html")[0] == 404


def test_only_so_many_connections_are_answered_at_a_time(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(preview, "MOST_CONNECTIONS", 3)
    monkeypatch.setattr(preview, "LISTENING", 0.1)
    server = PreviewServer(site, 0, News())
    threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
    idle = [socket.create_connection(("127.0.0.1", server.server_port), timeout=600) for _ in range(3)]
    for each in idle:
        each.sendall(raw(server, "/-/events?index.html"))
        assert each.recv(4).startswith(b"HTTP")
    # Pages that listen are left alone; a connection on which nothing is going on makes room, as other tests show.
    with pytest.raises((http.client.HTTPException, OSError)):
        ask(server, "/index.html")
    for each in idle:
        each.close()
    end = time.monotonic() + 600
    while True:  # until the server has seen that they are closed
        try:
            assert ask(server, "/index.html")[0] == 200
            break
        except (http.client.HTTPException, OSError):
            assert time.monotonic() < end
    server.shutdown()
    server.server_close()
