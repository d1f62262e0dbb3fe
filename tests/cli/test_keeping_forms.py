"""The preview server keeps what a form of its own pages sends, and nothing that comes from elsewhere."""

from __future__ import annotations

import contextlib
import http.client
import json
import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalogue.preview import MOST_CONNECTIONS, News, PreviewServer
from catalogue.receiving import LARGEST

SENT = json.dumps({"file": "ada.md", "text": "---\nname: Ada\n---\n"}).encode()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[PreviewServer]:
    (tmp_path / "studio" / "clients").mkdir(parents=True)
    (tmp_path / "studio" / "site").mkdir()
    server = PreviewServer(tmp_path / "studio" / "site", 0, News(), tmp_path / "studio")
    threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
    yield server
    server.shutdown()
    server.server_close()


def post(
    server: PreviewServer, body: bytes = SENT, path: str = "/-/keep", **other: str | None
) -> tuple[int, str]:
    """Status and words of the answer; `other` changes headers (by their names with _ for -), None leaves one out."""
    own = f"127.0.0.1:{server.server_port}"
    headers = {
        "Host": own,
        "Origin": f"http://{own}",
        "Content-Type": "application/json",
        "Content-Length": str(len(body)),
        "X-Catalogue-Key": server.key,
    } | {name.replace("_", "-"): value for name, value in other.items()}
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=60)
    connection.putrequest("POST", path, skip_host=True, skip_accept_encoding=True)
    for name, value in headers.items():
        for each in (value or "").split("\n") if value is not None else ():
            connection.putheader(name, each)
    connection.endheaders(body)
    answer = connection.getresponse()
    words = json.loads(answer.read())
    connection.close()
    return answer.status, words.get("kept") or words["wrong"]


def test_a_form_of_its_own_page_is_kept(server: PreviewServer) -> None:
    assert server.studio is not None
    assert post(server) == (200, "clients/ada.md")
    assert (server.studio / "clients" / "ada.md").read_bytes() == b"---\nname: Ada\n---\n"
    status, words = post(server)
    assert status == 409 and "already" in words


REFUSED: list[dict[str, str | None]] = [
    {"X_Catalogue_Key": None},
    {"X_Catalogue_Key": "guess"},
    {"X_Catalogue_Key": ""},
    {"Origin": None},
    {"Origin": "null"},
    {"Origin": "http://elsewhere.example"},
    {"Host": "elsewhere.example"},
    {"Host": None},
    {"Content_Type": "text/plain"},
    {"Content_Type": "application/x-www-form-urlencoded"},
    {"Content_Type": None},
    {"Content_Length": "-1"},
    {"Content_Length": "1e3"},
    {"Content_Length": str(LARGEST + 1)},
    {"Content_Length": "9" * 30},
    {"Content_Length": None},
    {"Transfer_Encoding": "chunked"},
]


@pytest.mark.parametrize("other", REFUSED, ids=str)
def test_anything_else_is_refused(server: PreviewServer, other: dict[str, str | None]) -> None:
    status, words = post(server, **other)
    assert 400 <= status < 500 and words
    assert server.studio is not None and list((server.studio / "clients").iterdir()) == []


def test_two_of_one_header_are_refused(server: PreviewServer) -> None:
    own = f"127.0.0.1:{server.server_port}"
    assert post(server, Host=f"{own}\n{own}")[0] == 400
    assert post(server, Origin=f"http://{own}\nhttp://elsewhere.example")[0] == 400


@pytest.mark.parametrize("path", ["/", "/index.html", "/-/keep/", "/-/keep?x", "/-/events"])
def test_there_is_one_place_for_it(server: PreviewServer, path: str) -> None:
    assert post(server, path=path)[0] == 404


def test_two_at_once_never_both_write_one_name(server: PreviewServer) -> None:
    answers: list[int] = []
    threads = [threading.Thread(target=lambda: answers.append(post(server)[0])) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(answers) == [200] + [409] * 5


def test_what_breaks_off_is_not_kept_and_nobody_waits_for_it(server: PreviewServer) -> None:
    assert server.studio is not None
    own = f"127.0.0.1:{server.server_port}"
    head = (
        f"POST /-/keep HTTP/1.1\r\nHost: {own}\r\nOrigin: http://{own}\r\nX-Catalogue-Key: {server.key}\r\n"
    )
    head += f"Content-Type: application/json\r\nContent-Length: {len(SENT) + 9}\r\n\r\n"
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=30) as broken:
        broken.sendall(head.encode() + SENT)
        other = SENT.replace(b"ada.md", b"bea.md")
        assert post(server, other) == (200, "clients/bea.md")
        broken.shutdown(socket.SHUT_WR)
        assert broken.recv(100).startswith(b"HTTP/1.1 400")
    assert not (server.studio / "clients/ada.md").exists()


def test_many_who_ask_for_nothing_keep_nobody_out(server: PreviewServer) -> None:
    place = ("127.0.0.1", server.server_port)
    held = [socket.create_connection(place, timeout=30) for _ in range(MOST_CONNECTIONS + 4)]
    try:
        for each in held:
            with contextlib.suppress(OSError):
                each.sendall(b"GET / HTTP/1.1\r\nX: ")
        assert post(server) == (200, "clients/ada.md")
    finally:
        for each in held:
            each.close()


def test_what_is_much_too_long_is_answered(server: PreviewServer) -> None:
    body = json.dumps({"file": "ada.md", "text": "x" * 3_000_000}).encode()
    assert post(server, body) == (413, "This is too long for a client file.")


def test_a_preview_of_a_folder_alone_keeps_nothing(server: PreviewServer) -> None:
    server.studio = None
    assert post(server)[0] == 404
