"""Builds asked for some drafts only, or for some before the others."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from catalogue.building.studio import UnknownName
from tests.building.desk import Desk, change
from tests.building.fakes import dangling_links, site_files

LINKS = pytest.mark.skipif(sys.platform == "win32", reason="where anyone may make symbolic links and pipes")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def test_asking_for_some_makes_only_those_and_keeps_the_site_whole(desk: Desk) -> None:
    desk.build()
    change(desk.client(0), "girth = 900", "girth = 990")
    change(desk.client(1), "girth = 901", "girth = 991")
    desk.build(clients=("Client 0",), styles=("style1.md", "STYLE2"))
    assert desk.drafts() == ["style1/client0", "style2/client0"]
    assert b"991.0" in (desk.output / "styles/style1/client0/draft.svg").read_bytes()
    assert b"912.0" in (desk.output / "styles/style1/client1/draft.svg").read_bytes()
    assert dangling_links(desk.output) == []
    desk.build()
    assert desk.drafts() == ["style0/client0", "style0/client1", "style1/client1", "style2/client1"]
    assert site_files(desk.output) == desk.fresh()


def test_what_someone_looks_at_comes_first_and_the_next_build_makes_the_rest(desk: Desk) -> None:
    desk.build()
    change(desk.style(0), "need girth\n", "need girth\nneed length1\n")
    change(desk.client(1), "girth = 901", "girth = 990")
    report = desk.build(first=frozenset({("style0", "client1")}))
    assert desk.drafts() == ["style0/client1"]
    # The style's page shows a picture more than before, so this can't wait.
    assert "styles/style0/choices/length1.svg" in report.changed
    assert dangling_links(desk.output) == [] and site_files(desk.output) != desk.fresh()
    left = report.left
    report = desk.build()
    assert left > 0 and report.left == 0 and report.made == 4
    assert site_files(desk.output) == desk.fresh()


def test_pictures_of_choices_wait_where_there_are_some(desk: Desk) -> None:
    desk.build()
    change(desk.style(0), "need girth\n", "need girth\na word\n")
    picture = "styles/style0/choices/girth.svg"
    assert picture not in desk.build(first=frozenset()).changed and desk.drafts() == []
    assert picture in desk.build().changed
    assert site_files(desk.output) == desk.fresh()


def test_what_is_wrong_is_told_when_it_is_made(desk: Desk) -> None:
    desk.build()
    change(desk.client(0), "girth = 900", "girth = 2000")
    report = desk.build(first=frozenset({("style1", "client0")}))
    assert [told.clients for told in report.findings] == [("Client 0",)]
    change(desk.client(0), "girth = 2000", "girth = 900")
    assert desk.build(first=frozenset({("style1", "client0")})).findings == ()
    assert desk.build().findings == () and site_files(desk.output) == desk.fresh()


def test_asking_for_some_at_first_still_gives_a_whole_site(desk: Desk) -> None:
    desk.build(styles=("style1",))
    assert dangling_links(desk.output) == []
    assert site_files(desk.output) == desk.fresh()


def test_an_unknown_name_offers_the_nearest(desk: Desk) -> None:
    with pytest.raises(UnknownName, match=r"no style “stile1”.*style1"):
        desk.build(styles=("stile1",))
    with pytest.raises(UnknownName, match="It has: client0, client1, client2"):
        desk.build(clients=("zzz",))
    assert not desk.output.exists() or not any(desk.output.iterdir())
