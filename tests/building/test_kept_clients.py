"""A client's file is read once, and again when anything differs that it is read by; the cache tells nothing of it."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from catalogue.between_runs import VARIABLE, of_the_program, packed
from catalogue.building.kept_clients import KEPT, client_at
from catalogue.lengths import Units
from catalogue.people import REGISTER, Client, read_client
from catalogue.people.register import Measurement, Register
from tests.building.test_between_runs import SPOILT

DAY = date(2026, 3, 2)
FILE = """---
name: Evadne Threlkeld
for: woman
units: cm
measured:
  2026-03-01:
    waist girth: 70
    hip girth: 96 1/2
  2025-02-01:
    waist girth: 72
choices:
  apron:
    length: 60 cm
fittings:
  2026-03-01:
    apron:
      - take in the sides by 1 cm
---
A note of hers.
"""


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(VARIABLE, str(tmp_path / "kept"))
    path = tmp_path / "clients" / "evadne.md"
    path.parent.mkdir()
    path.write_text(FILE)
    return path


def read(path: Path, units: Units | None = None, day: date = DAY, register: Register = REGISTER) -> Client:
    return client_at(path, path.parent.parent, units or Units(), day, register)


def kept(path: Path) -> list[Path]:
    return list((path.parent.parent / "kept" / of_the_program()).glob(f"{KEPT}-*"))


def plain(path: Path, units: Units | None = None, day: date = DAY, register: Register = REGISTER) -> Client:
    return read_client(path, path.parent.parent, units or Units(), day, register)


def test_it_is_the_same_the_second_time_and_when_anything_differs(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert read(path) == read(path) == plain(path)
    assert packed(read(path)) == packed(plain(path))
    assert len(kept(path)) == 1
    own = Register((Measurement("bib_width", "bib width", "width", "across", "front", {}, own=True),))
    assert read(path, register=own) == plain(path, register=own)
    fine = Units(both=True)
    assert read(path, fine) == plain(path, fine) != read(path)
    path.write_text(FILE.replace("70", "71"))
    assert read(path) == plain(path) and read(path).measurements["waist_girth"].mm == 710
    assert len(kept(path)) == 4
    monkeypatch.setattr("catalogue.people.read_client", lambda *_: pytest.fail("it was read again"))
    assert read(path).name == "Evadne Threlkeld"


def test_a_date_to_come_is_looked_at_every_day(path: Path) -> None:
    path.write_text(FILE.replace("2026-03-01:\n    waist", "2026-03-04:\n    waist"))
    days = [DAY + timedelta(n) for n in (0, 1, 2, 3, 1)]
    assert [read(path, day=day) for day in days] == [plain(path, day=day) for day in days]
    assert [read(path, day=day).measurements["waist_girth"].mm for day in days] == [720, 720, 700, 700, 720]


@pytest.mark.parametrize("how", SPOILT)
def test_what_is_spoilt_is_read_again(path: Path, how: str) -> None:
    read(path)
    [file] = kept(path)
    file.write_bytes(SPOILT[how](file.read_bytes()))
    assert read(path) == plain(path)


def test_the_cache_alone_tells_nothing(path: Path) -> None:
    words = (b"Evadne", b"waist_girth", b"A note of hers", b"take in")
    assert all(word in packed(read(path)) for word in words)
    [file] = kept(path)
    assert not any(word in file.read_bytes() for word in words)


def test_a_file_that_can_not_be_read_is_told_every_time(path: Path) -> None:
    path.write_bytes(b"\xff\xfe\x00\x00")
    assert [f.code for f in read(path).findings] == [f.code for f in plain(path).findings] != []
    path.unlink()
    assert [f.code for f in read(path).findings] == ["cannot-read"]
