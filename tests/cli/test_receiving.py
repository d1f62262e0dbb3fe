"""What forms may write into a studio, tried as one tries a door."""

from __future__ import annotations

import datetime
import hashlib
import json
import os
from pathlib import Path

import pytest

from catalogue import receiving
from catalogue.receiving import LARGEST, NotKept, receive

FILE = b"---\nname: Ada\nfor: woman\nmeasured:\n  2026-01-15:\n    waist girth: 70\n---\n"
NEW = "---\nname: New\n---\n"
NOON = datetime.datetime(2026, 11, 27, 12)


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    (tmp_path / "studio" / "clients").mkdir(parents=True)
    (tmp_path / "studio" / "clients" / "ada.md").write_bytes(FILE)
    (tmp_path / "outside.md").write_bytes(FILE)
    return tmp_path / "studio"


def send(studio: Path, **asked: object) -> tuple[str, str]:
    kept = receive(studio, json.dumps(asked).encode(), lambda: NOON)
    return kept.file, kept.before


def everything(studio: Path) -> dict[str, bytes]:
    return {p.as_posix(): p.read_bytes() for p in studio.parent.rglob("*") if p.is_file()}


def adding(data: bytes = FILE, **other: object) -> dict[str, object]:
    return {
        "file": "ada.md",
        "digest": hashlib.sha256(data).hexdigest(),
        "under": ["measured", "2026-11-27"],
        "lines": ["waist girth: 71"],
    } | other


def test_a_new_client_is_written(studio: Path) -> None:
    assert send(studio, file="Nguyễn Thị Hà.md", text="---\nname: Hà\n---\n") == (
        "clients/Nguyễn Thị Hà.md",
        "",
    )
    assert (studio / "clients" / "Nguyễn Thị Hà.md").read_text(encoding="utf-8") == "---\nname: Hà\n---\n"


def test_lines_are_added_and_the_old_file_stays_beside(studio: Path) -> None:
    assert send(studio, **adding()) == ("clients/ada.md", "clients/ada.md 2026-11-27 12.00.00.bak")
    assert (studio / "clients/ada.md 2026-11-27 12.00.00.bak").read_bytes() == FILE
    assert b"2026-11-27:\n    waist girth: 71\n---" in (studio / "clients/ada.md").read_bytes()
    assert not [p for p in (studio / "clients").iterdir() if p.name.endswith(".part")]


def test_two_changes_of_one_second_each_leave_what_was_there_before(studio: Path) -> None:
    send(studio, **adding())
    second = (studio / "clients/ada.md").read_bytes()
    _, before = send(studio, **adding(second, lines=["hip girth: 98"]))
    assert before == "clients/ada.md 2026-11-27 12.00.00 2.bak"
    assert (studio / before).read_bytes() == second != FILE


@pytest.mark.skipif(os.name == "nt", reason="rights are others there")
def test_who_may_not_read_a_file_may_not_read_its_copies(studio: Path) -> None:
    (studio / "clients/ada.md").chmod(0o600)
    for file in send(studio, **adding()):
        assert (studio / file).stat().st_mode & 0o777 == 0o600, file


@pytest.mark.parametrize("gone", [False, True])
def test_what_an_editor_does_while_the_form_is_kept_stays(
    studio: Path, gone: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At the last moment before the file is replaced: when the copies beside it are being written."""
    write, newer = receiving._create, FILE.replace(b"70", b"72")

    def saved_meanwhile(path: Path, *rest: object) -> None:
        write(path, *rest)  # type: ignore[arg-type]
        (studio / "clients/ada.md").write_bytes(newer)
        if gone:
            (studio / "clients/ada.md").unlink()

    monkeypatch.setattr(receiving, "_create", saved_meanwhile)
    with pytest.raises(NotKept) as told:
        send(studio, **adding())
    assert told.value.status == 409
    assert [(p.name, p.read_bytes()) for p in (studio / "clients").iterdir()] == (
        [] if gone else [("ada.md", newer)]
    )


@pytest.mark.parametrize(
    "words",
    ["می\u200cخواهم", "क्\u200dष", "a\u200eb", "92,5\u00a0cm"],
    ids=["Persian", "Hindi", "marks", "blank"],
)
def test_signs_without_a_shape_that_scripts_need_are_kept(studio: Path, words: str) -> None:
    send(studio, **adding(lines=[f"note: {words}"]))
    assert f"note: {words}\n" in (studio / "clients/ada.md").read_text(encoding="utf-8")
    for other in ("a\nb", "a\u2028b", "a\u202eb", "a\x00b"):
        with pytest.raises(NotKept):
            send(studio, **adding((studio / "clients/ada.md").read_bytes(), lines=[f"note: {other}"]))


NO_CLIENT_FILES = [
    *("../outside.md", "..\\outside.md", "/etc/x.md", "a/b.md", "a\\b.md", ".hidden.md", "..md", "a..md"),
    *(
        "ada.txt",
        "ada",
        "ada.md.exe",
        "con.md",
        "NUL.md",
        "a\0.md",
        "a\n.md",
        "a:b.md",
        "measurements.md",
        "cloths.md",
    ),
    *("Measurements.MD", "x" * 90 + ".md", "字" * 60 + ".md", "", ".md", " .md"),
]


@pytest.mark.parametrize("name", NO_CLIENT_FILES)
def test_a_name_that_is_no_client_file_writes_nothing(studio: Path, name: str) -> None:
    before = everything(studio)
    with pytest.raises(NotKept):
        send(studio, file=name, text=NEW)
    assert everything(studio) == before


@pytest.mark.parametrize("name", ["ada.md", "ADA.md"])
def test_a_file_that_is_there_is_never_overwritten(studio: Path, name: str) -> None:
    with pytest.raises(NotKept) as told:
        send(studio, file=name, text=NEW)
    assert told.value.status == 409
    assert (studio / "clients/ada.md").read_bytes() == FILE


def test_a_new_order_takes_no_line_of_one_of_the_same_name(studio: Path) -> None:
    old = FILE.replace(
        b"\n---", b"\norders:\n  blue skirt:\n    style: skirt\n    price: 180\n    cut: 2026-03-02\n---", 1
    )
    assert old != FILE
    (studio / "clients/ada.md").write_bytes(old)
    with pytest.raises(NotKept, match="an order “Blue  Skirt” of this client already"):
        send(studio, **adding(old, under=["orders", "Blue  Skirt"], lines=["style: skirt", "price: 90"]))
    assert (studio / "clients/ada.md").read_bytes() == old
    send(studio, **adding(old, under=["orders", "blue skirt 2"], lines=["style: skirt", "price: 90"]))


def test_a_change_that_no_build_understands_is_told(studio: Path) -> None:
    def doubt(line: str) -> str:
        data = (studio / "clients/ada.md").read_bytes()
        noted = adding(data, under=["fittings", "2026-11-26 skirt"], lines=[line])
        return receive(studio, json.dumps(noted).encode(), lambda: NOON).doubt

    assert "left hip up a bit" in doubt("- left hip up a bit")
    assert "How much is missing" in doubt("- waist let out")
    assert "names no alteration known here" in doubt("- longer 1 in")
    # What stands in the file already is no matter of this form.
    assert doubt("- waist let out 5 mm - seen: folds round the waist") == ""


@pytest.mark.parametrize("lines", [["waist girth: ["], ['waist girth: "'], ["waist girth: 7: 8"], ["wide"]])
def test_nothing_is_written_that_makes_the_file_unreadable(studio: Path, lines: list[str]) -> None:
    before = everything(studio)
    with pytest.raises(NotKept, match="could not be read any more"):
        send(studio, **adding(lines=["hip girth: 98", *lines]))
    with pytest.raises(NotKept, match="could not be read any more"):
        send(studio, file="new.md", text="no dashes")
    assert everything(studio) == before


def test_a_newer_file_is_never_overwritten(studio: Path) -> None:
    newer = FILE.replace(b"70", b"72")
    (studio / "clients/ada.md").write_bytes(newer)
    before = everything(studio)
    with pytest.raises(NotKept, match="was changed after this page was made"):
        send(studio, **adding())
    assert everything(studio) == before


NO_FORMS = [
    *(b"", b"[]", b"{", b'"x"', b"null", b"\xff\xfe", b"[" * 100_000, b'{"file": 3, "text": "x"}'),
    b'{"file": "b.md"}',
    b'{"file": "b.md", "text": "\\ud800"}',
    b'{"file": "b.md", "text": 7}',
    b" " * (LARGEST + 1),
    *(
        json.dumps(adding(**wrong)).encode()
        for wrong in (
            {"under": []},
            {"under": ["a"] * 4},
            {"under": "measured"},
            {"lines": []},
            {"lines": ["a: b\n---\n"]},
            {"lines": ["x"] * 401},
            {"lines": [3]},
            {"digest": 3},
            {"file": "bob.md"},
        )
    ),
]


@pytest.mark.parametrize("sent", NO_FORMS, ids=lambda sent: repr(sent[:40]))
def test_what_is_no_form_writes_nothing(studio: Path, sent: bytes) -> None:
    before = everything(studio)
    with pytest.raises(NotKept):
        receive(studio, sent, lambda: NOON)
    assert everything(studio) == before


@pytest.mark.skipif(not hasattr(os, "symlink") or os.name == "nt", reason="links need rights there")
def test_links_are_not_followed(studio: Path) -> None:
    (studio / "clients/bob.md").symlink_to(studio.parent / "outside.md")
    with pytest.raises(NotKept):
        send(studio, **adding(file="bob.md"))
    with pytest.raises(NotKept):
        send(studio, file="bob.md", text=NEW)
    assert (studio.parent / "outside.md").read_bytes() == FILE
    (studio / "clients").rename(studio.parent / "elsewhere")
    (studio / "clients").symlink_to(studio.parent / "elsewhere")
    with pytest.raises(NotKept):
        send(studio, file="new.md", text=NEW)
    assert not (studio.parent / "elsewhere/new.md").exists()


def test_a_file_that_is_not_understood_is_left_alone(studio: Path) -> None:
    wrong = b"---\nmeasured: none\n---\n"
    (studio / "clients/ada.md").write_bytes(wrong)
    with pytest.raises(NotKept, match="measured"):
        send(studio, **adding(wrong))
    assert (studio / "clients/ada.md").read_bytes() == wrong


def test_without_a_clients_folder_nothing_is_made(tmp_path: Path) -> None:
    with pytest.raises(NotKept):
        send(tmp_path, file="a.md", text=NEW)
    assert list(tmp_path.iterdir()) == []
