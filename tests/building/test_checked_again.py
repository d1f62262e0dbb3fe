"""A check that drafts nothing again that was found right says what a check that drafts everything says."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from catalogue.between_runs import VARIABLE
from catalogue.building.checking import check
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from tests.building.fakes import fakes, write_studio


class Desk:
    """A studio of three styles and three clients, and the drafts that checks of it made."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.studio = write_studio(folder / "studio")
        self.output = folder / "site"
        self.log = folder / "log"
        self.kept = str(folder / "kept")
        self.monkeypatch = monkeypatch
        monkeypatch.setenv(VARIABLE, self.kept)

    def check(self, *, styles: tuple[str, ...] = (), version: str = "1") -> tuple[Report, list[str]]:
        """What a check says, and the drafts it made."""
        self.log.write_text("")
        report = check(
            Request(self.studio, self.output, styles=styles, jobs=1), fakes(self.log, version=version)
        )
        return report, sorted(self.log.read_text().split())

    def check_afresh(self) -> Report:
        """What a check says that nothing was kept for."""
        self.monkeypatch.setenv(VARIABLE, "none")
        report = check(Request(self.studio, self.output.with_name("nowhere"), jobs=1), fakes())
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


def test_what_is_wrong_is_drafted_and_told_every_time(desk: Desk) -> None:
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
        assert desk.check()[0] == desk.check_afresh()
