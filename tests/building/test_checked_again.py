"""A check that drafts nothing again that was found right says what a check that drafts everything says."""

from __future__ import annotations

import random
from datetime import date, timedelta
from pathlib import Path

import pytest

from catalogue.between_runs import VARIABLE, packed
from catalogue.building import checking, fingerprint, reading
from catalogue.building.checking import check
from catalogue.building.kind import Definition
from catalogue.building.readers import StudioReaders
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from tests.building.fakes import fakes, write_studio
from tests.building.test_between_runs import SPOILT


class Desk:
    """A studio of three styles and three clients, and the drafts that checks of it made."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.studio = write_studio(folder / "studio")
        self.output = folder / "site"
        self.log = folder / "log"
        self.kept = str(folder / "kept")
        self.monkeypatch = monkeypatch
        monkeypatch.setenv(VARIABLE, self.kept)
        monkeypatch.setattr(fingerprint, "of_the_tool", lambda: "1")

    def check(self, *, styles: tuple[str, ...] = (), version: str = "1") -> tuple[Report, list[str]]:
        """What a check says, and the drafts it made."""
        self.log.write_text("")
        self.monkeypatch.setattr(fingerprint, "of_the_tool", lambda: version)
        report = check(
            Request(self.studio, self.output, styles=styles, jobs=1), fakes(self.log, version=version)
        )
        return report, sorted(self.log.read_text().split())

    def check_afresh(self, styles: tuple[str, ...] = ()) -> Report:
        """What a check says that nothing was kept for."""
        self.monkeypatch.setenv(VARIABLE, "none")
        request = Request(self.studio, self.output.with_name("nowhere"), styles=styles, jobs=1)
        report = check(request, fakes())
        self.monkeypatch.setenv(VARIABLE, self.kept)
        return report

    def edit(self, file: str, old: str, new: str) -> None:
        path = self.studio / file
        path.write_text(path.read_text().replace(old, new))


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    return Desk(tmp_path, monkeypatch)


def test_what_was_right_is_not_drafted_again(desk: Desk) -> None:
    first, drafted = desk.check()
    assert len(drafted) == 9 and first.ok
    again, drafted = desk.check()
    assert drafted == [] and again == first


def test_what_a_build_found_right_is_not_drafted_again(desk: Desk) -> None:
    build(Request(desk.studio, desk.output, jobs=1), fakes())
    assert desk.check()[1] == []


def test_what_comes_from_something_else_is_drafted_again(desk: Desk) -> None:
    desk.check()
    desk.edit("clients/client1.md", "girth = 901", "girth = 955")
    assert desk.check()[1] == ["style0/client1", "style1/client1", "style2/client1"]
    desk.edit("styles/style2.md", "need girth", "need girth\nneed length0")
    assert desk.check()[1] == ["style2/client0", "style2/client1", "style2/client2"]
    assert len(desk.check(version="2")[1]) == 9


def test_what_is_wrong_is_told_every_time_and_drafted_when_anything_changed(desk: Desk) -> None:
    desk.edit("clients/client1.md", "girth = 9", "girth = 19")
    first, _ = desk.check()
    assert {told.finding.code for told in first.findings} == {"large"}
    assert desk.check() == (first, [])
    desk.edit("clients/client2.md", "notes", "other notes")
    assert desk.check() == (first, ["style0/client1", "style1/client1", "style2/client1"])


def test_a_fault_of_the_program_is_looked_for_every_time(desk: Desk) -> None:
    """There may have been too little memory, and now there is enough."""
    desk.edit("styles/style1.md", "need girth", "need girth\nRAISE")
    first, _ = desk.check()
    again, drafted = desk.check()
    assert again == first and not again.ok
    assert drafted == ["style1/client0", "style1/client1", "style1/client2"]


def test_a_check_of_one_style_forgets_nothing_of_the_others(desk: Desk) -> None:
    desk.check()
    desk.edit("styles/style1.md", "need girth", "need girth\nneed length2")
    assert len(desk.check(styles=("style1",))[1]) == 3
    assert desk.check()[1] == []


@pytest.mark.parametrize("seed", range(4))
def test_after_any_edits_it_says_what_a_check_of_everything_says(desk: Desk, seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(8):
        n = chance.randrange(3)
        edits = (
            (f"clients/client{n}.md", "girth = 9", "girth = 19"),
            (f"clients/client{n}.md", "length1", "length7"),
            (f"clients/client{n}.md", "length7", "length1"),
            (f"styles/style{n}.md", "need girth", "BAD\nneed girth"),
            (f"styles/style{n}.md", "BAD\n", ""),
            (f"styles/style{n}.md", "need girth\n", f"need girth\nnot for client{chance.randrange(3)}\n"),
        )
        desk.edit(*chance.choice(edits))
        if chance.random() < 0.3:
            build(Request(desk.studio, desk.output, jobs=1), fakes())
        asked = chance.choice([(), (), ("style0",)])
        afresh = desk.check_afresh(asked)
        # The second finds that nothing changed.
        assert [desk.check(styles=asked)[0] for _ in range(2)] == [afresh] * 2


def said_by(desk: Desk) -> Path:
    """The file with what the last check of the studio said."""
    [file] = Path(desk.kept).rglob(f"{checking.SAID}-*")
    return file


@pytest.mark.parametrize("how", SPOILT)
def test_what_is_spoilt_is_found_out_again_without_a_word(desk: Desk, how: str) -> None:
    desk.edit("clients/client1.md", "girth = 9", "girth = 19")
    first, _ = desk.check()
    said = said_by(desk)
    said.write_bytes(SPOILT[how](said.read_bytes()))
    assert desk.check() == (first, ["style0/client1", "style1/client1", "style2/client1"])
    assert desk.check() == (first, [])


def test_what_was_said_of_another_studio_is_not_said_of_this_one(desk: Desk, tmp_path: Path) -> None:
    desk.check()
    of_the_first = said_by(desk).read_bytes()
    other = Desk(tmp_path / "other", desk.monkeypatch)
    other.edit("clients/client1.md", "girth = 9", "girth = 19")
    wrong, _ = other.check()
    said_by(other).write_bytes(of_the_first)
    assert other.check()[0] == wrong


def test_nobody_without_the_studio_can_read_what_was_said_of_a_client(desk: Desk) -> None:
    desk.edit("clients/client1.md", "name: ", "name: Evadne Threlkeld of ")
    desk.edit("clients/client1.md", "girth = 9", "girth = 19")
    report, _ = desk.check()
    assert b"Evadne Threlkeld" in packed(report)
    kept = [path.read_bytes() for path in Path(desk.kept).rglob("*") if path.is_file()]
    assert len(kept) >= 2
    assert not any(b"Evadne" in data or b"very large" in data for data in kept)


def test_what_a_build_would_refuse_is_told_though_no_file_of_the_studio_changed(desk: Desk) -> None:
    clients = desk.studio / "clients"
    clients.rename(desk.studio / "elsewhere")
    clients.mkdir()
    assert desk.check()[0].ok and desk.check()[0].ok
    clients.rmdir()
    (desk.studio / "elsewhere").rename(clients)
    build(Request(desk.studio, desk.output, jobs=1), fakes())
    clients.rename(desk.studio / "elsewhere")
    clients.mkdir()
    for _ in range(2):
        assert [told.finding.code for told in desk.check()[0].findings] == ["most-gone"]


class Days:
    """In the place of `date`, with a day of our choice."""

    def __init__(self, day: date) -> None:
        self.day = day

    def today(self) -> date:
        return self.day


def test_what_was_said_of_a_day_to_come_is_not_said_when_it_has_come(desk: Desk) -> None:
    first = date(2026, 3, 2)
    client = desk.studio / "clients" / "client1.md"
    client.write_text("---\nname: Ada\nfor: woman\nmeasured:\n  2026-03-04:\n    waist girth: 70 cm\n---\n")

    def said(after: int) -> list[str]:
        day = first + timedelta(after)
        desk.monkeypatch.setattr(checking, "date", Days(day))
        report = check(Request(desk.studio, desk.output, jobs=1), Definition(StudioReaders(day), ()))
        places = {told.finding.code: told.finding.place for told in report.findings}
        return [code for code, place in places.items() if place and place.file == "clients/client1.md"]

    assert said(0) == said(1) == ["date-to-come"]
    assert said(2) == said(3) == []
    # A clock that was put right, before a new run: the day is to come again.
    reading._known.clear()
    assert said(1) == ["date-to-come"]
