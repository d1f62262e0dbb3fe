"""Published files that are gone, changed, stale or someone else's, and folders that are no catalogue."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from catalogue.building.folder import Refused
from tests.building.desk import Desk
from tests.building.fakes import dangling_links, site_files

LINKS = pytest.mark.skipif(sys.platform == "win32", reason="where anyone may make symbolic links and pipes")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def test_force_mends_a_file_that_was_touched_up_without_changing_its_size(desk: Desk) -> None:
    desk.build()
    page = desk.output / "styles/style0/client0/draft.svg"
    good = page.read_bytes()
    page.write_bytes(good.replace(b"9", b"8"))
    assert desk.build(force=True).changed == ("styles/style0/client0/draft.svg",)
    assert page.read_bytes() == good


@LINKS
@pytest.mark.parametrize("damage", ["delete", "shorten", "link"])
def test_a_published_file_that_is_gone_or_changed_is_made_again(desk: Desk, damage: str) -> None:
    desk.build()
    page = desk.output / "styles/style0/client0/index.html"
    good = page.read_bytes()
    if damage == "shorten":
        page.write_bytes(good[:-5])
    else:
        page.unlink()
        if damage == "link":
            page.symlink_to(desk.client(0))
    report = desk.build()
    assert report.changed == ("styles/style0/client0/index.html",)
    assert page.read_bytes() == good and not page.is_symlink()
    assert "girth" in desk.client(0).read_text()


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: None,
        lambda data: b"",
        lambda data: data[: len(data) // 2],
        lambda data: data.replace(b'"format":', b'"format":9'),
        lambda data: b"\xff\xfe\x00" * 100,
        lambda data: b"[" * 100_000,
        lambda data: data.replace(b"style0", b"../x/0"),
    ],
    ids=["deleted", "empty", "cut off", "another version", "no text", "nested", "touched up"],
)
def test_a_damaged_manifest_only_costs_time(desk: Desk, damage: object) -> None:
    desk.build()
    good = site_files(desk.output)
    desk.style(2).unlink()
    place = desk.output / ".catalogue.json"
    data = damage(place.read_bytes())  # type: ignore[operator]
    if data is None:
        place.unlink()
    else:
        place.write_bytes(data)
    (desk.output / "my notes.txt").write_text("mine")
    (desk.output / "styles" / "style2" / "mine.html").write_text("mine too")
    report = desk.build()
    assert report.made == 6
    after = site_files(desk.output)
    assert after.pop("my notes.txt") == b"mine"
    assert after.pop("styles/style2/mine.html") == b"mine too"
    assert after == desk.fresh() != good


def test_removed_and_renamed_files_leave_no_stale_page(desk: Desk) -> None:
    desk.build()
    desk.client(0).rename(desk.studio / "clients" / "renamed.md")
    desk.style(1).unlink()
    desk.build()
    files = site_files(desk.output)
    assert not [f for f in files if "client0" in f or "style1" in f]
    assert not (desk.output / "styles/style1").exists(), "an empty folder is left"
    assert files == desk.fresh() and dangling_links(desk.output) == []


def test_files_that_are_not_ours_stay(desk: Desk) -> None:
    desk.build()
    mine = desk.output / "styles" / "style1" / "mine.txt"
    mine.write_text("mine")
    kept = desk.output / "styles/style1/client0/draft.svg"
    kept.write_text("drawn over by hand")
    desk.style(1).unlink()
    report = desk.build()
    assert mine.read_text() == "mine"
    aside = kept.with_name("draft.set-aside.svg")
    assert aside.read_text() == "drawn over by hand", "it holds what we did not write"
    [told] = report.findings
    assert "client0/draft.svg" in told.finding.message and aside.name in told.finding.message
    assert not (desk.output / "styles/style1/index.html").exists()


def test_a_file_of_someone_elses_in_the_way_is_set_aside_and_named(desk: Desk) -> None:
    desk.build()
    mine = desk.output / "styles" / "new" / "index.html"
    mine.parent.mkdir()
    mine.write_text("mine")
    (desk.studio / "styles" / "new.md").write_text("need girth\n")
    [told] = desk.build().findings
    assert "styles/new/index.html" in told.finding.message and not told.finding.is_error
    files = site_files(desk.output)
    assert files.pop("styles/new/index.set-aside.html") == b"mine"
    assert files == desk.fresh()
    assert desk.build().findings == (), "it is told once"


@pytest.mark.parametrize(
    "where", ["studio", "studio/styles", "studio/clients/site", "photos", "file.txt", "file.txt/x"]
)
def test_a_folder_that_is_not_a_catalogue_is_refused(desk: Desk, where: str) -> None:
    (desk.folder / "photos").mkdir()
    (desk.folder / "photos" / "holiday.jpg").write_bytes(b"jpg")
    (desk.folder / "file.txt").write_text("a file")
    desk.output = desk.folder / where
    before = site_files(desk.folder)
    with pytest.raises(Refused):
        desk.build()
    assert site_files(desk.folder) == before


@LINKS
def test_an_empty_folder_and_a_link_to_one_are_taken(desk: Desk) -> None:
    desk.output.mkdir()
    assert desk.build().ok
    (desk.folder / "link").symlink_to(desk.folder / "elsewhere")
    (desk.folder / "elsewhere").mkdir()
    desk.output = desk.folder / "link"
    assert desk.build().ok
    assert (desk.folder / "elsewhere" / "index.html").is_file() and desk.output.is_symlink()
